import { spawnSync } from "node:child_process";
import { cpSync, existsSync, mkdtempSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, beforeAll, describe, expect, test } from "vitest";
import { runHere } from "../command/run-here.js";
import { freshBuild } from "./fresh-build.js";
import { commandsOf, documents, fencesOf, shellWords } from "./markdown-fences.js";
import { surfaceFiles } from "./public-surface.js";
import { runExample } from "./run-example.js";
import { projectRoot, readProject } from "./source-tree.js";

const manifest: unknown = JSON.parse(readProject("package.json"));
const { scripts } = manifest as { scripts: Readonly<Record<string, string>> };

/** Names of scripts a command calls through npm; none when it calls something else. */
const scriptOf = (command: string): string | undefined =>
  /^npm run (?:--silent )?([\w:-]+)/.exec(command)?.[1] ?? /^npm (test|start)\b/.exec(command)?.[1];

/** Commands that fetch the project or go into it: their words are checked, they are not run. */
const beforehand = /^(git clone \S+( \S+)?|cd \S+|npm (ci|install)( --?[\w-]+)*( holdbook| \.)?)$/;

/** The words after the program's name; none where a command calls something else. */
const programWords = (command: string): string | undefined =>
  command.startsWith("npm start")
    ? // The copy of the data that this test works on stands for the package's own, which npm start takes unasked.
      command
        .replace(/^npm start$/, "npm start -- data/demo-register.csv")
        .replace(/^npm start(?: --)?/, scripts["start"]?.split("main.js ")[1] ?? "")
    : /^npx holdbook\b(.*)/.exec(command)?.[1];

const fences = documents.flatMap(fencesOf);

describe("shell fences", () => {
  let folder = "";
  let main = "";
  beforeAll(() => {
    main = freshBuild();
    folder = mkdtempSync(join(tmpdir(), "holdbook-fences-"));
    for (const name of ["data", "shared", "notebooks"])
      if (existsSync(join(projectRoot, name)))
        cpSync(join(projectRoot, name), join(folder, name), { recursive: true });
    process.chdir(folder);
  }, 300_000);
  afterAll(() => {
    process.chdir(projectRoot);
    rmSync(folder, { recursive: true, force: true });
  });

  const shell = fences.filter((fence) => ["sh", "bash", "shell"].includes(fence.language));

  test("there are some", () => {
    expect(shell.length).toBeGreaterThan(0);
  });

  test("every npm script they call is in package.json", () => {
    const called = shell.flatMap(commandsOf).flatMap((command) => scriptOf(command) ?? []);
    expect(called.filter((name) => !(name in scripts))).toEqual([]);
  });

  test("every command is one that this test knows how to hold", () => {
    const unknown = shell
      .flatMap(commandsOf)
      .filter(
        (command) =>
          scriptOf(command) === undefined &&
          !beforehand.test(command) &&
          !command.startsWith("npx holdbook"),
      );
    expect(unknown).toEqual([]);
  });

  test("no command needs more of a shell than words and quotation marks", () => {
    const lines = shell.flatMap(commandsOf).flatMap((command) => programWords(command) ?? []);
    expect(lines.filter((line) => /[$`|<>;&*?'\\]/.test(line.replace(/"[^"$`\\]*"/g, "")))).toEqual(
      [],
    );
  });

  test("every command of the program does its work, in the order of the page", async () => {
    const inShell = (line: string) => {
      const { status, stderr } = spawnSync(`"${process.execPath}" "${main}" ${line}`, {
        shell: true,
        encoding: "utf8",
        timeout: 240_000,
      });
      return { exitCode: status, err: stderr };
    };
    const done = new Set<string>();
    for (const fence of shell) {
      for (const command of commandsOf(fence)) {
        const line = programWords(command);
        if (line === undefined || done.has(command)) continue;
        done.add(command);
        const words = shellWords(line);
        // Some run as they stand, in a shell: quick ones, and the page, which only a build has. The others
        // run here, where a program's start is not paid, nor a drawing twice; continuous integration runs
        // npm start as it stands after the tests.
        const { exitCode, err } = ["check", "hold", "page"].includes(words[0] ?? "")
          ? inShell(line)
          : await runHere(...words);
        expect(exitCode, `${fence.document}:${fence.line} ${command}\n${err}`).toBe(0);
      }
    }
  }, 600_000);
});

test("every code block is in a language this test knows", () => {
  const bare = fences.filter(
    (fence) => !["", "sh", "ts", "csv", "json", "text"].includes(fence.language),
  );
  expect(bare.map((fence) => `${fence.document}:${fence.line} ${fence.language}`)).toEqual([]);
});

test("every npm script that a document names exists", () => {
  const named = documents.flatMap((document) =>
    [...readProject(document).matchAll(/npm run ([\w:-]+)/g)].map((match) => match[1] ?? ""),
  );
  expect(named.filter((name) => !(name in scripts))).toEqual([]);
});

test("every script of package.json is in the guide for developers", () => {
  const guide = readProject("DEVELOPERS.md");
  const hooks = /^(pre|post)/;
  const missing = Object.keys(scripts).filter(
    (name) => !hooks.test(name) && !new RegExp(`npm (run )?${name}\\b`).test(guide),
  );
  expect(missing).toEqual([]);
});

test("every file and folder that the guide names in backticks exists", () => {
  const guide = readProject("DEVELOPERS.md");
  const paths = [...guide.matchAll(/`((?:src|tests|data|shared|notebooks)\/[\w./-]*)`/g)]
    .map((match) => match[1] ?? "")
    .filter((path) => !path.includes("<"));
  expect(paths.filter((path) => !existsSync(join(projectRoot, path)))).toEqual([]);
});

test("every TypeScript fence runs, and gives what it says", async () => {
  const modules = await Promise.all(
    surfaceFiles().map(
      (file) => import(/* @vite-ignore */ join(projectRoot, file)) as Promise<object>,
    ),
  );
  const scope = Object.assign({}, ...modules) as Readonly<Record<string, unknown>>;
  for (const document of documents) {
    // The fences of a page share one scope, as a reader who types them in order does.
    const code = fences.filter((fence) => fence.document === document && fence.language === "ts");
    await runExample(code.map((fence) => fence.text).join("\n"), scope, document);
  }
});
