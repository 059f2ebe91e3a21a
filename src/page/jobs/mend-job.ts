import { readTable } from "../../csv/read-table.js";
import { writeTable, writeTableDefaults } from "../../csv/write-table.js";
import { CallError, type Issue } from "../../errors.js";
import { openFile, type BenchFile, type Job } from "./bench.js";
import { readOntoBench, type FileCheck } from "./open-job.js";

/** One problem with what stands in the file at its place, ready to be changed. */
export type Problem = Readonly<{
  issue: Issue;
  /** The cell, or the whole line where the problem is the line's; absent where it is the file's. */
  place?: Readonly<{ kind: "cell" | "line"; text: string }>;
}>;

/** A change of one cell, or of a whole line. */
export type Mend = Readonly<{ line: number; column: string; text: string }>;

type Delimiter = "," | ";" | "\t" | "|";

const delimiterOf = ({ table }: BenchFile): Delimiter =>
  ([",", ";", "\t", "|"] as const).find((one) => one === table.delimiter) ??
  writeTableDefaults.delimiter;

/** One line as it would be written, whatever its number of cells. */
const lineText = (cells: readonly string[], delimiter: Delimiter): string =>
  writeTable(cells, [], { delimiter }).slice(0, -1);

const placeOf = (file: BenchFile, { line, column }: Issue): Problem["place"] => {
  const row = file.table.rows.find((one) => one.line === line);
  if (row === undefined) return undefined;
  const index = file.table.header.indexOf(column);
  const text = row.cells[index];
  return index === -1 || text === undefined
    ? { kind: "line", text: lineText(row.cells, delimiterOf(file)) }
    : { kind: "cell", text };
};

/** Some of the open table's problems: those to mend first, then those to look at, each in the file's order. */
export const problemsJob: Job<
  Readonly<{ from: number; count: number }>,
  Readonly<{ problems: readonly Problem[]; of: number }>
> = (bench, { from, count }) => {
  const file = openFile(bench);
  const { issues } = file.records;
  const weight = ({ severity }: Issue): number => (severity === "error" ? 0 : 1);
  const sorted = [...issues].sort(
    (first, second) => weight(first) - weight(second) || first.line - second.line,
  );
  return {
    of: issues.length,
    problems: sorted.slice(from, from + count).map((issue) => {
      const place = placeOf(file, issue);
      return place === undefined ? { issue } : { issue, place };
    }),
  };
};

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
  return { bytes, check: readOntoBench(bench, file.name, bytes, tell) };
};
