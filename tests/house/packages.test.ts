/**
 * What travels with Holdbook to whoever installs it, read from the lock file: every package runs on the oldest Node that
 * is claimed, installs without running anything, gives no licence that reaches into Holdbook, and opens no connection.
 */
import { existsSync, readFileSync, readdirSync } from "node:fs";
import { join } from "node:path";
import { minVersion, satisfies } from "semver";
import { expect, test } from "vitest";
import { projectRoot as root, readProject } from "./source-tree.js";

type Locked = Readonly<{
  version: string;
  license?: string;
  dev?: boolean;
  link?: boolean;
  optional?: boolean;
  hasInstallScript?: boolean;
  engines?: Readonly<{ node?: string }>;
}>;
type Manifest = Readonly<{
  engines: Readonly<{ node: string }>;
  dependencies: Readonly<Record<string, string>>;
}>;

const read = (path: string): unknown => JSON.parse(readProject(path));
const { engines, dependencies } = read("package.json") as Manifest;
const { packages } = read("package-lock.json") as Readonly<{
  packages: Readonly<Record<string, Locked>>;
}>;
const travelling = Object.entries(packages).filter(
  ([path, { dev, link }]) => path !== "" && dev !== true && link !== true,
);
const names = (wanted: (each: Locked, path: string) => boolean): readonly string[] =>
  travelling.filter(([path, each]) => wanted(each, path)).map(([path]) => path);

test("every package that travels runs on the oldest Node that is claimed", () => {
  const oldest = minVersion(engines.node)?.version ?? "";
  expect(oldest).toBe("20.19.0");
  expect(travelling.length).toBeGreaterThan(Object.keys(dependencies).length);
  expect(
    names(({ engines: needs }) => needs?.node !== undefined && !satisfies(oldest, needs.node)),
  ).toEqual([]);
});

test("none runs anything when it is installed", () => {
  expect(names(({ hasInstallScript }) => hasInstallScript === true)).toEqual([]);
});

// The picture drawer is under the Mozilla licence, which asks for changes to its own files and for nothing of
// a program that uses them unchanged.
const reachesItsOwnFilesOnly = /^node_modules\/@resvg\/resvg-js/u;
const permissive =
  /^(?:MIT|ISC|0BSD|BSD-[23]-Clause|Apache-2\.0|Unlicense|CC0-1\.0|MIT AND OFL-1\.1)$/u;

test("none gives a licence that reaches into Holdbook", () => {
  expect(
    names(
      ({ license = "none" }, path) =>
        !permissive.test(license) && !reachesItsOwnFilesOnly.test(path),
    ),
  ).toEqual([]);
});

const scripts = (folder: string): readonly string[] =>
  readdirSync(folder, { withFileTypes: true }).flatMap((entry) => {
    const path = join(folder, entry.name);
    if (entry.isDirectory()) return entry.name === "node_modules" ? [] : scripts(path);
    return /\.[cm]?js$/u.test(entry.name) ? [path] : [];
  });
const connection =
  /\b(?:from|require\(|import\()\s*["'](?:node:)?(?:http2?|https|net|tls|dgram|undici|node-fetch|axios|got|ws)["']/u;

test("none opens a connection", () => {
  const clients = travelling.flatMap(([path]) =>
    existsSync(join(root, path))
      ? scripts(join(root, path)).filter((file) => connection.test(readFileSync(file, "utf8")))
      : [],
  );
  expect(clients.map((file) => file.slice(root.length))).toEqual([]);
});

test("the notice that is built in names every package that travels and its licence", () => {
  const notice = readProject("dist/NOTICE.txt");
  for (const [path, { version, license = "" }] of travelling.filter(
    ([, { optional }]) => optional !== true,
  ))
    expect(notice).toContain(`${path.replace(/^.*node_modules\//u, "")} ${version} (${license})`);
});
