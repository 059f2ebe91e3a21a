/** Every notebook is run from its top on a kernel of its own; what it shows is what is stored in it. */
import { readdirSync } from "node:fs";
import { join } from "node:path";
import { beforeAll, expect, test } from "vitest";
import { freshBuild } from "../house/fresh-build.js";
import { projectRoot } from "../house/source-tree.js";
import { changedCells } from "./runner/notebook-file.js";
import { runNotebook } from "./runner/run-notebook.js";

const folder = join(projectRoot, "notebooks");
const names = readdirSync(folder)
  .filter((name) => name.endsWith(".ipynb"))
  .sort();

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
  await Promise.all([worker(), worker()]);
}, 600_000);

test.each(names)("%s runs without an error and shows what is stored in it", (name) => {
  expect(outcomes.get(name), "npm run notebooks writes the outputs of today").toEqual([]);
});
