import { writeTable, writeTableDefaults } from "../../csv/write-table.js";
import type { Issue } from "../../errors.js";
import type { BenchFile } from "./bench.js";

/** One problem with what stands in the file at its place, ready to be changed. */
export type Problem = Readonly<{
  issue: Issue;
  /** The cell, or the whole line where the problem is the line's; absent where it is the file's. */
  place?: Readonly<{ kind: "cell" | "line"; text: string }>;
}>;

/** How many problems are shown at once. */
export const problemsAtOnce = 25;

export type Delimiter = "," | ";" | "\t" | "|";

/** What parts the cells when the table is written again. */
export const delimiterOf = ({ table }: BenchFile): Delimiter =>
  ([",", ";", "\t", "|"] as const).find((one) => one === table.delimiter) ??
  writeTableDefaults.delimiter;

/** One line as it would be written, whatever its number of cells. */
export const lineText = (cells: readonly string[], delimiter: Delimiter): string =>
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

/** Some of a table's problems: those to mend first, then those to look at, each in the file's order. */
export const problemsFrom = (file: BenchFile, from: number): readonly Problem[] => {
  const weight = ({ severity }: Issue): number => (severity === "error" ? 0 : 1);
  return [...file.records.issues]
    .sort((first, second) => weight(first) - weight(second) || first.line - second.line)
    .slice(from, from + problemsAtOnce)
    .map((issue) => {
      const place = placeOf(file, issue);
      return place === undefined ? { issue } : { issue, place };
    });
};
