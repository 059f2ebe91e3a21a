/**
 * `npm run notebooks`: runs notebooks and writes their outputs into them; with `--check` it writes nothing
 * and fails where an output is not the stored one. Names of notebooks, or parts of them, choose some.
 */
import { readdirSync, readFileSync, writeFileSync } from "node:fs";
import { join, resolve } from "node:path";
import { changedCells, notebookText } from "./notebook-file.js";
import { runNotebook } from "./run-notebook.js";

const folder = resolve("notebooks");
const words = process.argv.slice(2);
const check = words.includes("--check");
const parts = words.filter((word) => word !== "--check");
const names = readdirSync(folder)
  .filter((name) => name.endsWith(".ipynb"))
  .filter((name) => parts.length === 0 || parts.some((part) => name.includes(part)))
  .sort();
const say = (line: string): void => {
  process.stdout.write(`${line}\n`);
};
let wrong = names.length === 0 ? 1 : 0;
if (names.length === 0) say("no notebook has such a name");

const runOne = async (name: string): Promise<void> => {
  const path = join(folder, name);
  const start = performance.now();
  try {
    const { stored, fresh } = await runNotebook(path);
    const changed = changedCells(stored, fresh);
    const seconds = ((performance.now() - start) / 1000).toFixed(1);
    const what =
      changed.length === 0 ? "outputs as stored" : `outputs changed in cells ${changed.join(", ")}`;
    say(`${name}: ${what} (${seconds} s)`);
    if (check && changed.length > 0) wrong += 1;
    const text = notebookText(fresh);
    if (!check && (changed.length > 0 || text.length !== readFileSync(path, "utf8").length))
      writeFileSync(path, text);
  } catch (error) {
    wrong += 1;
    say(error instanceof Error ? error.message : String(error));
  }
};

// Two at a time: each kernel holds a compiler.
const waiting = [...names];
const worker = async (): Promise<void> => {
  for (let name = waiting.shift(); name !== undefined; name = waiting.shift()) await runOne(name);
};
await Promise.all([worker(), worker()]);
process.exitCode = wrong === 0 ? 0 : 1;
