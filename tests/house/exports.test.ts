import { build } from "esbuild";
import { join } from "node:path";
import { expect, test } from "vitest";
import { exportedNames, surfaceFiles } from "./public-surface.js";
import { projectRoot, readProject, sourceFiles, testFiles } from "./source-tree.js";

/** The names that `src/index.ts` offers. */
const surface = exportedNames(sourceFiles.filter((file) => file === "src/index.ts"));

test("no two exports share a name", () => {
  const names = surface.map((each) => each.name);
  expect(names.filter((name, index) => names.indexOf(name) !== index)).toEqual([]);
});

test("every exported function is called in a test", () => {
  const text = testFiles
    .filter((file) => !file.startsWith("tests/house/"))
    .map(readProject)
    .join("\n");
  const words = new Set(text.match(/\w+/g));
  const untested = surface.filter((each) => each.kind === "function" && !words.has(each.name));
  expect(untested.map((each) => `${each.file} ${each.name}`)).toEqual([]);
});

test("the library bundles for a browser, with nothing of Node's in it", async () => {
  const entry = surfaceFiles()
    .map((file) => `export * as ${file.replace(/\W/g, "_")} from "./${file}";`)
    .join("\n");
  const result = await build({
    stdin: { contents: entry, resolveDir: projectRoot, loader: "ts" },
    bundle: true,
    format: "esm",
    platform: "browser",
    write: false,
    logLevel: "silent",
    absWorkingDir: projectRoot,
    metafile: true,
    tsconfig: join(projectRoot, "tsconfig.json"),
  });
  const inputs = Object.keys(result.metafile.inputs);
  expect(inputs.filter((path) => path.startsWith("node:"))).toEqual([]);
  expect(result.outputFiles[0]?.text).not.toMatch(/from\s*["']node:/);
});
