import { readFileSync } from "node:fs";
import { basename, dirname } from "node:path";
import { startKernel } from "./kernel.js";
import { readNotebook, sourceOf, type Cell, type Notebook } from "./notebook-file.js";

/** A notebook run from its top: the file as it stood, and with the outputs of this run. */
export type NotebookRun = Readonly<{ stored: Notebook; fresh: Notebook }>;

const textOf = (outputs: Cell["outputs"]): string =>
  (outputs ?? [])
    .map((output) => {
      const text = output["text"] ?? output["traceback"] ?? "";
      return Array.isArray(text) ? text.join("") : String(text);
    })
    .join("\n");

/**
 * Runs every code cell of a notebook in order on a kernel of its own.
 *
 * @param path of the file, which is left as it is
 * @throws {Error} at the first cell that fails, with the cell and what it printed
 */
export const runNotebook = async (path: string): Promise<NotebookRun> => {
  for (let attempt = 1; ; attempt++) {
    const run = await runOnce(path);
    if (attempt === 3 || !run.fresh.cells.some(({ outputs }) => interrupted.test(textOf(outputs))))
      return run;
  }
};

/** What the kernel's compiler says, and no cell, when a busy machine let its own timer overtake it. */
const interrupted = /Unexpected pending rebuildTimer/;

const runOnce = async (path: string): Promise<NotebookRun> => {
  const stored = readNotebook(readFileSync(path, "utf8"));
  const kernel = await startKernel(dirname(path));
  try {
    const cells: Cell[] = [];
    for (const cell of stored.cells) {
      if (cell.cell_type !== "code") {
        cells.push(cell);
        continue;
      }
      const code = sourceOf(cell);
      const { outputs, executionCount, failed } = await kernel.run(code);
      if (failed)
        throw new Error(`${basename(path)}: this cell failed\n\n${code}\n\n${textOf(outputs)}`);
      cells.push({ ...cell, execution_count: executionCount, outputs });
    }
    return { stored, fresh: { ...stored, cells } };
  } finally {
    await kernel.stop();
  }
};
