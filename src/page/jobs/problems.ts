import { linesNamed, named } from "../../answers/named-lines.js";
import type { CsvTable } from "../../csv/csv-table.js";
import { writeTable, writeTableDefaults } from "../../csv/write-table.js";
import type { Issue } from "../../errors.js";
import { openFile, type Bench, type BenchPart } from "./bench.js";

/** One problem with what stands in the file at its place, ready to be changed. */
export type Problem = Readonly<{
  /** Its line is that of the joined table where several files are open. */
  issue: Issue;
  /** Where it is, in words: "Line 57 of more.csv, n_end". */
  where: string;
  /** The cell, or the whole line where the problem is the line's; absent where it is the file's. */
  place?: Readonly<{ kind: "cell" | "line"; text: string }>;
}>;

/** How many problems are shown at once. */
export const problemsAtOnce = 25;

export type Delimiter = "," | ";" | "\t" | "|";

/** What parts the cells when the table is written again. */
export const delimiterOf = ({ delimiter }: CsvTable): Delimiter =>
  ([",", ";", "\t", "|"] as const).find((one) => one === delimiter) ?? writeTableDefaults.delimiter;

/** One line as it would be written, whatever its number of cells. */
export const lineText = (cells: readonly string[], delimiter: Delimiter): string =>
  writeTable(cells, [], { delimiter }).slice(0, -1);

/** Whose line it is. */
export const partOf = (parts: readonly BenchPart[], line: number): BenchPart | undefined =>
  parts.findLast(({ above }) => line > above);

const placeOf = (parts: readonly BenchPart[], { line, column }: Issue): Problem["place"] => {
  const part = partOf(parts, line);
  const row = part?.read.table.rows.find((one) => one.line + part.above === line);
  if (part === undefined || row === undefined) return undefined;
  const { table } = part.read;
  const index = table.header.indexOf(column);
  const text = row.cells[index];
  return index === -1 || text === undefined
    ? { kind: "line", text: lineText(row.cells, delimiterOf(table)) }
    : { kind: "cell", text };
};

/** Some of a table's problems: those to mend first, then those to look at, each in the file's order. */
export const problemsFrom = (bench: Bench, from: number): readonly Problem[] => {
  const { records, files = [] } = openFile(bench);
  const parts = bench.parts ?? [];
  const weight = ({ severity }: Issue): number => (severity === "error" ? 0 : 1);
  const where = ({ line, column }: Issue): string => {
    if (line === 0) return column === "" ? "The whole file" : `Column ${column}`;
    const [own, name] = files.length < 2 ? [line, ""] : named(files, line);
    return `Line ${own}${name === "" ? "" : ` of ${name}`}${column === "" ? "" : `, ${column}`}`;
  };
  return [...records.issues]
    .sort((first, second) => weight(first) - weight(second) || first.line - second.line)
    .slice(from, from + problemsAtOnce)
    .map((issue) => {
      const place = placeOf(parts, issue);
      const words = (text: string) => linesNamed(files, text);
      return {
        issue: { ...issue, message: words(issue.message), mend: words(issue.mend) },
        where: where(issue),
        ...(place === undefined ? {} : { place }),
      };
    });
};
