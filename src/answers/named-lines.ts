/** Lines of several files opened as one, in the words of an answer. */
import type { Note } from "../errors.js";
import { listed } from "../protocol/listed.js";
import { grouped } from "../records/grouped.js";
import type { Table } from "../tables/table.js";

/** Lines from `above` + 1 on are those of this file, less `above`. */
export type FileLines = Readonly<{ name: string; above: number }>;

/** A line of the joined table as its file has it. */
export const named = (
  files: readonly FileLines[],
  line: number,
): readonly [line: number, name: string] => {
  const { name, above } = files.findLast((file) => line > file.above) ?? files[0]!;
  return [line - above, name];
};

/**
 * A sentence with its lines named by file: "line 1057" is "line 57 of b.csv"; as it stands of one file.
 *
 * @source none: wording of this project
 */
export const linesNamed = (files: readonly FileLines[], text: string): string =>
  files.length < 2
    ? text
    : text.replace(/\blines? (\d+(?:(?:, | and )\d+)*)(?: of the file)?/g, (_whole, list: string) =>
        [
          ...grouped(
            list.split(/, | and /).map((line) => named(files, Number(line))),
            ([, name]) => name,
          ),
        ]
          .map(([name, own]) => {
            const numbers = own.map(([line]) => String(line));
            return `line${numbers.length > 1 ? "s" : ""} ${listed(numbers)} of ${name}`;
          })
          .join(" and "),
      );

/** Keys of columns that hold lines. */
const lineColumns = new Set(["line", "lines", "allLines"]);

const tableNamed = (table: Table, files: readonly FileLines[]): Table => {
  const text = (words: string) => linesNamed(files, words);
  // "4, 1057 and 3 more": counts of more are no lines.
  const lines = (cell: string): string =>
    cell.replace(/(?<!and )\b\d+\b(?! more)/g, (line) => {
      const [own, name] = named(files, Number(line));
      return `${own} (${name})`;
    });
  return {
    ...table,
    rows: table.rows.map((row) =>
      Object.fromEntries(
        Object.entries(row).map(([key, cell]) => [
          key,
          lineColumns.has(key) ? lines(cell) : text(cell),
        ]),
      ),
    ),
    notes: table.notes.map(text),
  };
};

type Words = Readonly<{
  headline: string;
  sentences: readonly string[];
  tables: readonly Table[];
  notes: readonly Note[];
}>;

/**
 * The words of an answer about several files, each line named by its file; its data keep the lines of the joined table.
 *
 * @source none: wording of this project
 */
export const answerNamed = <Told extends Words>(
  answer: Told,
  files: readonly FileLines[] = [],
): Told => {
  if (files.length < 2) return answer;
  const text = (words: string) => linesNamed(files, words);
  return {
    ...answer,
    headline: text(answer.headline),
    sentences: answer.sentences.map(text),
    tables: answer.tables.map((table) => tableNamed(table, files)),
    notes: answer.notes.map((note) => ({ ...note, message: text(note.message) })),
  };
};
