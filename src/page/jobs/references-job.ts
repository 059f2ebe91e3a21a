import {
  filledFromList,
  referenceCells,
  type ReferenceCells,
} from "../../report/reference-fields.js";
import { readReferences } from "../../report/read-references.js";
import { asOne, type OpenFile } from "../open-file.js";
import type { Job } from "./bench.js";
import { written } from "./mend-job.js";
import { readOntoBench, type FileCheck } from "./open-job.js";

/** The works of a list in BibTeX or CSL-JSON, as cells. */
export const referencesJob: Job<string, readonly ReferenceCells[]> = (_bench, list) =>
  readReferences(list).map(referenceCells);

/** Fills citations, titles, DOIs and years of the open files from a list; tells how many cells and works. */
export const fillJob: Job<
  string,
  Readonly<{ file: OpenFile; check: FileCheck; cells: number; works: number }>
> = async (bench, text, tell) => {
  const list = readReferences(text);
  let [cells, works] = [0, 0];
  const files = (bench.parts ?? []).map((part): OpenFile => {
    const { table } = part.read;
    const filled = filledFromList(table, list);
    if (filled.cells.length === 0) return part.file;
    cells += filled.cells.length;
    works += filled.works;
    const rows = table.rows.map(({ cells: own }) =>
      own.length === table.header.length
        ? filled.header.map((_, column) => own[column] ?? "")
        : [...own],
    );
    for (const { row, column, text: cell } of filled.cells) rows[row]![column] = cell;
    return written(part, filled.header, rows);
  });
  const file = asOne(files)!;
  return { file, check: await readOntoBench(bench, file, tell), cells, works };
};
