import { readTable } from "../../csv/read-table.js";
import { CallError } from "../../errors.js";
import { asOne, type OpenFile } from "../open-file.js";
import type { BenchPart, Job } from "./bench.js";
import { readOntoBench, type FileCheck } from "./open-job.js";
import {
  delimiterOf,
  lineText,
  partOf,
  problemsFrom,
  type Delimiter,
  type Problem,
} from "./problems.js";

/** The name of a file that begins in the page. */
export const ownName = "my-trials.csv";

/** A change of one cell, or of a whole line. */
export type Mend = Readonly<{ line: number; column: string; text: string }>;

/** The open table's problems from a place on. */
export const problemsJob: Job<Readonly<{ from: number }>, readonly Problem[]> = (bench, { from }) =>
  problemsFrom(bench, from);

const cellsOf = (text: string, width: number, delimiter: Delimiter): readonly string[] => {
  // Read below a header of the right width, so that the same delimiter is found.
  const header = lineText(
    Array.from({ length: width }, (_, index) => `c${index}`),
    delimiter,
  );
  return readTable(`${header}\n${text}\n`).rows[0]?.cells ?? [];
};

/** A file written anew as text; what was a sheet is a text from then on. Without one before, a file of one's own begins. */
export const written = (
  part: BenchPart | undefined,
  header: readonly string[],
  rows: readonly (readonly string[])[],
): OpenFile => {
  const delimiter = part === undefined ? "," : delimiterOf(part.read.table);
  const lines = [header, ...rows].map((cells) => `${lineText(cells, delimiter)}\n`);
  const isSheet = part?.read.table.sheet !== undefined;
  return {
    name:
      part === undefined
        ? ownName
        : isSheet
          ? `${part.read.name.replace(/\.\w+/, "")}.csv`
          : part.file.name,
    bytes: new TextEncoder().encode(lines.join("")),
    mended: true,
  };
};

/** A file with changed cells and lines; every other cell is kept. */
const mended = (part: BenchPart, mends: readonly Mend[]): OpenFile => {
  const { read, above } = part;
  const { header, rows } = read.table;
  const delimiter = delimiterOf(read.table);
  const byLine = new Map<number, Mend[]>();
  for (const mend of mends) byLine.set(mend.line, [...(byLine.get(mend.line) ?? []), mend]);
  const lines = rows.map(({ line, cells }) => {
    let changed = cells;
    for (const { column, text } of byLine.get(line + above) ?? []) {
      const index = header.indexOf(column);
      if (index === -1 || index >= cells.length) changed = cellsOf(text, header.length, delimiter);
      else changed = changed.with(index, text);
    }
    return changed;
  });
  return written(part, header, lines);
};

/** Changes cells of the open table and reads it again; gives the changed file with the new check. */
export const mendJob: Job<
  Readonly<{ mends: readonly Mend[] }>,
  Readonly<{ file: OpenFile; check: FileCheck }>
> = async (bench, { mends }, tell) => {
  const { parts = [] } = bench;
  if (mends.length === 0)
    throw new CallError({
      code: "no-mends",
      where: "checking again",
      needs: "at least one changed cell",
      got: "none",
    });
  const file = asOne(
    parts.map((part) => {
      const own = mends.filter(({ line }) => partOf(parts, line) === part);
      return own.length === 0 ? part.file : mended(part, own);
    }),
  )!;
  return { file, check: await readOntoBench(bench, file, tell) };
};
