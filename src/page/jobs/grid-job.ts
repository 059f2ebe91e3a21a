import type { Issue } from "../../errors.js";
import { asOne, type OpenFile } from "../open-file.js";
import { openFile, type Bench, type BenchPart, type Job } from "./bench.js";
import { written } from "./mend-job.js";
import { readOntoBench, type FileCheck } from "./open-job.js";

/** A problem at its cell; a column of −1 is the whole line's. */
export type CellProblem = Readonly<{ row: number; column: number }> &
  Pick<Issue, "severity" | "message" | "mend" | "instead">;

/** Some rows of one of the open files, with its header, how many it has, and the problems at its cells. */
export type SheetRows = Readonly<{
  header: readonly string[];
  rows: readonly (readonly string[])[];
  of: number;
  problems: readonly CellProblem[];
}>;

/** More problems than anyone goes through cell by cell. */
const mostProblems = 2000;

const problemsOf = (
  bench: Bench,
  { above, read: { table } }: BenchPart,
): readonly CellProblem[] => {
  const rowAt = new Map(table.rows.map(({ line }, row) => [line + above, row]));
  return openFile(bench)
    .records.issues.flatMap(({ line, column, severity, message, mend, instead = [] }) => {
      const row = rowAt.get(line);
      return row === undefined
        ? []
        : [{ row, column: table.header.indexOf(column), severity, message, mend, instead }];
    })
    .slice(0, mostProblems);
};

/** Rows of an open file, a piece at a time, so that the page never waits for them all. */
export const sheetJob: Job<Readonly<{ at: number; from: number; count: number }>, SheetRows> = (
  bench,
  { at, from, count },
) => {
  const part = bench.parts?.[at];
  if (part === undefined) return { header: [], rows: [], of: 0, problems: [] };
  const { header, rows } = part.read.table;
  return {
    header,
    rows: rows
      .slice(from, from + count)
      .map(({ cells }) => header.map((_, column) => cells[column] ?? "")),
    of: rows.length,
    problems: from === 0 ? problemsOf(bench, part) : [],
  };
};

/** Changed cells of one open file, by the places of their rows; rows and columns behind the last are new. */
export type SheetEdit = Readonly<{
  at: number;
  header: readonly string[];
  cells: readonly Readonly<{ row: number; column: number; text: string }>[];
}>;

/** Changes cells of an open file and reads it again; cells of a line beyond its header stay where they are. */
export const editJob: Job<
  SheetEdit,
  Readonly<{ file: OpenFile; check: FileCheck; problems: readonly CellProblem[] }>
> = async (bench, { at, header, cells }, tell) => {
  const parts = bench.parts ?? [];
  const part = parts[at]!;
  const rows = part.read.table.rows.map(({ cells: own }) => [
    ...header.map((_, column) => own[column] ?? ""),
    ...own.slice(header.length),
  ]);
  for (const { row, column, text } of cells) {
    while (rows.length <= row) rows.push(header.map(() => ""));
    rows[row]![column] = text;
  }
  const file = written(part, header, rows);
  const whole = asOne(parts.map((one, place) => (place === at ? file : one.file)))!;
  const check = await readOntoBench(bench, whole, tell);
  return { file: whole, check, problems: problemsOf(bench, bench.parts![at]!) };
};
