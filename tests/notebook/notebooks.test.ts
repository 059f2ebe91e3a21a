/** Every notebook is run from its top on a kernel of its own; what it shows is what is stored in it. */
import { copyFileSync, mkdirSync, readdirSync, rmSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { afterAll, beforeAll, expect, test } from "vitest";
import { starterNotebook } from "../../src/notebook/starter-notebook.js";
import { freshBuild } from "../house/fresh-build.js";
import { projectRoot } from "../house/source-tree.js";
import { changedCells, type Output } from "./runner/notebook-file.js";
import { runNotebook } from "./runner/run-notebook.js";

const folder = join(projectRoot, "notebooks");
const names = readdirSync(folder)
  .filter((name) => name.endsWith(".ipynb"))
  .sort();

// Below the project, so that the library is found as it is from a learner's folder.
const starterFolder = join(projectRoot, "build/starter-notebook");
afterAll(() => rmSync(starterFolder, { recursive: true, force: true }));

const starter = (): string => {
  const file = "published-outcomes.csv";
  mkdirSync(join(starterFolder, "data"), { recursive: true });
  copyFileSync(join(projectRoot, "data", file), join(starterFolder, "data", file));
  const path = join(starterFolder, "notebook.ipynb");
  writeFileSync(path, starterNotebook({ name: file, invented: false }));
  return path;
};

/** Outputs of the starter notebook, by the number of the code cell. */
let started: readonly (readonly Output[])[] | string = "not run";

/** What became of each notebook: the numbers of the cells that changed, or the error. */
const outcomes = new Map<string, readonly number[] | string>();

beforeAll(async () => {
  freshBuild();
  const waiting = [...names];
  // Two at a time: each kernel holds a compiler.
  const worker = async (): Promise<void> => {
    for (let name = waiting.shift(); name !== undefined; name = waiting.shift())
      try {
        const { stored, fresh } = await runNotebook(join(folder, name));
        outcomes.set(name, changedCells(stored, fresh));
      } catch (error) {
        outcomes.set(name, error instanceof Error ? error.message : String(error));
      }
  };
  const first = async (): Promise<void> => {
    try {
      const { fresh } = await runNotebook(starter());
      started = fresh.cells.flatMap(({ outputs }) => (outputs === undefined ? [] : [outputs]));
    } catch (error) {
      started = error instanceof Error ? error.message : String(error);
    }
    await worker();
  };
  await Promise.all([first(), worker()]);
}, 600_000);

test.each(names)("%s runs without an error and shows what is stored in it", (name) => {
  expect(outcomes.get(name), "npm run notebooks writes the outputs of today").toEqual([]);
});

test("the notebook that holdbook notebook writes runs, and shows tables and figures", () => {
  expect(typeof started === "string" ? started : "").toBe("");
  const shown = JSON.stringify(started);
  expect(shown).toContain("What became of the 173 rows");
  expect(shown).toContain("data:image/svg+xml");
  expect(shown).toContain("vnd.vegalite");
});
