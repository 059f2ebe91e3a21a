/** A file of statements: a table with the form's columns, JSON from a program, or one sentence a line. */
import * as z from "zod";
import { readTable } from "../csv/read-table.js";
import { CallError, type Issue } from "../errors.js";
import { plainWord } from "./option.js";
import { readJson } from "./read-json.js";
import {
  fieldQuestions,
  readCells,
  statementFields,
  Unreadable,
  type ReadStatement,
  type StatementCells,
  type StatementField,
} from "./statement-form.js";
import { proposedCells } from "./statement-words.js";

/** One statement: its form where it has one, else what its own words propose. */
const readStatement = (line: number, given: StatementCells): ReadStatement => {
  const statement = given.statement?.trim() ?? "";
  const hasForm = statementFields.some(
    (field) => field !== "statement" && (given[field] ?? "").trim() !== "",
  );
  const words = hasForm ? { cells: {}, asked: [] } : proposedCells(statement);
  const cells = { ...words.cells, ...given, statement };
  const proposed = Object.keys(words.cells) as StatementField[];
  const base = { line, statement, cells, proposed };
  if (statement === "")
    return {
      ...base,
      asked: [{ field: "statement", question: fieldQuestions.statement! }],
      problems: [],
    };
  try {
    const { reading, asked } = readCells(line, cells);
    const open = [...asked, ...words.asked];
    return {
      ...base,
      asked: open,
      problems: [],
      ...(reading === undefined || open.length > 0 ? {} : { reading }),
    };
  } catch (error) {
    if (!(error instanceof Unreadable)) throw error;
    return { ...base, asked: [], problems: [error.issue] };
  }
};

const cellText = z.union([z.string(), z.number()]).transform(String);
const cellRecord = z.record(z.string(), cellText.nullable());

/** Statements as a program hands them over: sentences, or records of the form's fields. */
export const statementsGiven = z.union([
  z.string(),
  z.array(z.union([z.string(), cellRecord])).readonly(),
]);
export type StatementsGiven = z.output<typeof statementsGiven>;

const fieldNamed = (title: string): StatementField | undefined =>
  statementFields.find((field) => plainWord(field) === plainWord(title));

const tooMany = 200;

/**
 * The statements of a file: a table whose header names the form's columns, JSON, or one sentence a line.
 *
 * Every statement stands for itself: what cannot be read of one is told with its line, column, value and mend, and the
 * others are read.
 *
 * @throws {CallError} "not-json" for text that begins as JSON and is none; "too-many" above 200
 */
export const readStatements = (
  given: StatementsGiven,
): Readonly<{ statements: readonly ReadStatement[]; problems: readonly Issue[] }> => {
  const { rows, problems } = rowsOf(given);
  if (rows.length > tooMany)
    throw new CallError({
      code: "too-many",
      where: "--statements",
      needs: `at most ${tooMany} statements`,
      got: String(rows.length),
      try: "split the file: the more are asked together, the wider each interval",
    });
  return { statements: rows.map(({ line, cells }) => readStatement(line, cells)), problems };
};

type GivenRow = Readonly<{ line: number; cells: StatementCells }>;

const recordCells = (record: Readonly<Record<string, string | null>>): StatementCells =>
  Object.fromEntries(
    Object.entries(record).flatMap(([name, value]) => {
      const field = fieldNamed(name);
      return field === undefined || value === null ? [] : [[field, value]];
    }),
  );

const rowsOf = (
  given: StatementsGiven,
): Readonly<{ rows: readonly GivenRow[]; problems: readonly Issue[] }> => {
  if (typeof given !== "string")
    return {
      rows: given.map((one, place) => ({
        line: place + 1,
        cells: typeof one === "string" ? { statement: one } : recordCells(one),
      })),
      problems: [],
    };
  const said = given.replace(/^\uFEFF/u, "").trim();
  if (said.startsWith("[") || said.startsWith("{")) {
    const read = z
      .array(z.union([z.string(), cellRecord]))
      .safeParse(readJson(said, notStatements));
    if (!read.success) throw notStatements("JSON of another form");
    return rowsOf(read.data);
  }
  const table = readTable(given);
  const fields = table.header.map(fieldNamed);
  if (fields.includes("statement")) {
    const unknown = table.header.flatMap((title, place): readonly Issue[] =>
      fields[place] !== undefined || title === ""
        ? []
        : [
            {
              code: "unknown-column",
              severity: "warning",
              line: table.headerLine ?? 1,
              column: title,
              value: title,
              message: "a file of statements has no such column, so it is left aside",
              mend: `the columns are ${statementFields.join(", ")}`,
            },
          ],
    );
    return {
      rows: table.rows.map(({ line, cells }) => ({
        line,
        cells: Object.fromEntries(
          cells.flatMap((cell, place) => {
            const field = fields[place];
            return field === undefined || cell.trim() === "" ? [] : [[field, cell.trim()]];
          }),
        ),
      })),
      problems: [...table.issues, ...unknown],
    };
  }
  return {
    rows: given.split(/\r\n|\r|\n/u).flatMap((line, place) => {
      const statement = line.trim();
      return statement === "" || statement.startsWith("#")
        ? []
        : [{ line: place + 1, cells: { statement } }];
    }),
    problems: [],
  };
};

const notStatements = (found: string): CallError =>
  new CallError({
    code: "not-json",
    where: "--statements",
    needs:
      "a table with the column statement, a list of sentences or of records, or one sentence a line",
    got: found,
  });
