import { readTable } from "../../csv/read-table.js";
import { CallError } from "../../errors.js";
import { openFile, type BenchFile, type Job } from "./bench.js";
import { readOntoBench, type FileCheck } from "./open-job.js";
import { delimiterOf, lineText, problemsFrom, type Delimiter, type Problem } from "./problems.js";

/** A change of one cell, or of a whole line. */
export type Mend = Readonly<{ line: number; column: string; text: string }>;

/** The open table's problems from a place on. */
export const problemsJob: Job<Readonly<{ from: number }>, readonly Problem[]> = (bench, { from }) =>
  problemsFrom(openFile(bench), from);

const cellsOf = (text: string, width: number, delimiter: Delimiter): readonly string[] => {
  // Read below a header of the right width, so that the same delimiter is found.
  const header = lineText(
    Array.from({ length: width }, (_, index) => `c${index}`),
    delimiter,
  );
  return readTable(`${header}\n${text}\n`).rows[0]?.cells ?? [];
};

/** The table's text with changed cells and lines; every other cell is kept. */
const mendedText = (file: BenchFile, mends: readonly Mend[]): string => {
  const { header, rows } = file.table;
  const delimiter = delimiterOf(file);
  const byLine = new Map<number, Mend[]>();
  for (const mend of mends) byLine.set(mend.line, [...(byLine.get(mend.line) ?? []), mend]);
  const lines = rows.map(({ line, cells }) => {
    let changed = cells;
    for (const { column, text } of byLine.get(line) ?? []) {
      const index = header.indexOf(column);
      if (index === -1 || index >= cells.length) changed = cellsOf(text, header.length, delimiter);
      else changed = changed.with(index, text);
    }
    return lineText(changed, delimiter);
  });
  return `${[lineText(header, delimiter), ...lines].join("\n")}\n`;
};

/** Changes cells of the open table and reads it again; gives the changed bytes with the new check. */
export const mendJob: Job<
  Readonly<{ mends: readonly Mend[] }>,
  Readonly<{ bytes: Uint8Array; check: FileCheck }>
> = (bench, { mends }, tell) => {
  const file = openFile(bench);
  if (mends.length === 0)
    throw new CallError({
      code: "no-mends",
      where: "checking again",
      needs: "at least one changed cell",
      got: "none",
    });
  const bytes = new TextEncoder().encode(mendedText(file, mends));
  return { bytes, check: readOntoBench(bench, file.source.name, bytes, tell) };
};
