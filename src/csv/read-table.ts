import type { IssueCode, Issue, Note } from "../errors.js";
import type { CsvRow, CsvTable } from "./csv-table.js";
import { decodeText } from "./decode-text.js";
import { findDelimiter, parseRecords } from "./parse-records.js";

export type ReadTableOptions = Readonly<{
  /** Character between cells; found from the first lines when absent. */
  delimiter?: string;
}>;

/**
 * A delimited text file as a table of strings, each row with the line of the file it starts on.
 *
 * Finds encoding (UTF-8 with or without mark, UTF-16, windows-1252), delimiter (comma, semicolon, tab,
 * vertical bar) and line endings by itself; never casts a cell. Nothing about the text makes it throw: a
 * row with too few or too many cells, a quote that never closes, a repeated or missing header are located
 * issues, and the other rows are read. Empty lines are skipped; a line of blank cells is a row. A quoted
 * cell of several lines that look exactly like rows of the table is taken for rows that a stray quote
 * swallowed.
 *
 * @param source the file's bytes, or its text
 * @returns the table; `issues` holds what is wrong with its form, `notes` what was assumed
 */
export const readTable = (
  source: Uint8Array | string,
  options: ReadTableOptions = {},
): CsvTable => {
  const bytes = typeof source === "string" ? new TextEncoder().encode(source) : source;
  const other = otherFileIssue(bytes);
  if (other !== undefined) return noTable([other]);
  const { utf8, encoding, issues: decodingIssues, notes } = decodeText(bytes);
  const hinted = delimiterHint(utf8);
  const body = hinted === undefined ? utf8 : utf8.subarray(hinted.length);
  const firstLine = hinted === undefined ? 1 : 2;
  const delimiter =
    options.delimiter ??
    hinted?.delimiter ??
    findDelimiter(new TextDecoder("utf-8").decode(body.subarray(0, 1 << 16)));
  const parsed = parseRecords(body, delimiter, firstLine);
  const [first, ...rows] = parsed.rows;
  const issues: Issue[] = [...decodingIssues, ...parsed.issues];
  if (first === undefined) {
    issues.push(wholeFile("empty-file", "the file holds no rows", "start from the blank template"));
    return { header: [], rows: [], delimiter, encoding, issues, notes };
  }
  const named = first.cells.map((name) => name.replaceAll("\u00a0", " ").trim());
  const header = named.map((name) => name.slice(0, longestHeader));
  issues.push(...headerIssues(header, named, first.line), ...raggedIssues(header, rows));
  const allNotes: Note[] = [...notes];
  if (rows.length === 0) {
    allNotes.push({ code: "header-only", message: "the file has a header and no rows" });
  }
  const headerLine = first.line;
  return { header, headerLine, rows, delimiter, encoding, issues, notes: allNotes };
};

/** What is wrong with a file as a whole. */
export const wholeFile = (code: IssueCode, message: string, mend: string): Issue => ({
  code,
  severity: "error",
  line: 0,
  column: "",
  value: "",
  message,
  mend,
});

/** No rows, for the reasons given. */
export const noTable = (issues: readonly Issue[]): CsvTable => ({
  header: [],
  rows: [],
  delimiter: ",",
  encoding: "utf-8",
  issues,
  notes: [],
});

/** What begins like this is no table, whatever its name says: what it is, and the mend. */
const otherFiles: readonly (readonly [begins: RegExp, what: string, mend: string])[] = [
  [
    /^(?:PK\u0003\u0004|\u00d0\u00cf\u0011\u00e0)/,
    "a spreadsheet workbook",
    "open it in the spreadsheet and save the sheet as CSV (UTF-8)",
  ],
  [/^%PDF-/, "a PDF", "type the numbers of its table into the blank template"],
  [
    /^(?:\u0089PNG|\u00ff\u00d8\u00ff|GIF8|BM.{4}\0\0\0\0|RIFF.{4}WEBP|II\*\0|MM\0\*)/s,
    "a picture",
    "type the numbers it shows into the blank template",
  ],
  [
    /^(?:\u00ef\u00bb\u00bf)?\s*<(?:!doctype html|html|head|\?xml|!--)/i,
    "a web page",
    "it may be the log-in page that stood before the file: sign in, and download the file again",
  ],
];

/** Some other kind of file under the wrong name, by its first bytes. */
const otherFileIssue = (bytes: Uint8Array): Issue | undefined => {
  const beginning = String.fromCharCode(...bytes.subarray(0, 64));
  const found = otherFiles.find(([begins]) => begins.test(beginning));
  if (found === undefined) return undefined;
  const [, what, mend] = found;
  return wholeFile("not-a-table", `the file is ${what}, not delimited text`, mend);
};

/** The first line "sep=;" that some spreadsheets write and read as a hint. */
const delimiterHint = (
  utf8: Uint8Array,
): Readonly<{ delimiter: string; length: number }> | undefined => {
  const match = /^sep=(.)(\r\n|\n|\r)/i.exec(new TextDecoder("utf-8").decode(utf8.subarray(0, 16)));
  return match?.[1] === undefined
    ? undefined
    : { delimiter: match[1], length: new TextEncoder().encode(match[0]).length };
};

/** The longest name of a column that is read, characters. */
export const longestHeader = 200;

/** What is wrong with the names of columns: too long, or there twice. */
export const headerIssues = (
  header: readonly string[],
  named: readonly string[],
  line: number,
): readonly Issue[] => {
  const issues = named.flatMap((name, i): Issue[] =>
    name.length <= longestHeader
      ? []
      : [
          {
            code: "long-cell",
            severity: "error",
            line,
            column: `column ${i + 1}`,
            value: `${name.slice(0, 60)}…`,
            message: `the name of the column holds more than ${longestHeader} characters`,
            mend: "the first line of the file must hold the names of the columns: shorten this one",
          },
        ],
  );
  const seen = new Map<string, number>();
  header.forEach((name, i) => {
    const first = seen.get(name);
    if (name !== "" && first !== undefined) {
      issues.push({
        code: "duplicate-header",
        severity: "warning",
        line,
        column: name,
        value: name,
        message: `columns ${first + 1} and ${i + 1} have the same name`,
        mend: "rename or delete one of them",
      });
    }
    if (first === undefined) seen.set(name, i);
  });
  return issues;
};

const raggedIssues = (header: readonly string[], rows: readonly CsvRow[]): readonly Issue[] => {
  const issues: Issue[] = [];
  for (const { line, cells } of rows) {
    if (cells.length === header.length) continue;
    // Spreadsheets leave delimiters behind deleted columns; blank cells past the header hold nothing.
    if (cells.length > header.length && cells.slice(header.length).every((c) => c.trim() === "")) {
      continue;
    }
    const few = cells.length < header.length;
    issues.push({
      code: "ragged-row",
      severity: "error",
      line,
      column: "",
      value: `${cells.length} cells`,
      message: `the row has ${few ? "fewer" : "more"} cells than the header's ${header.length}`,
      mend: few
        ? "add the missing delimiters, or close a quotation mark that swallowed one"
        : "put quotation marks around a cell that contains the delimiter, or delete the extra cells",
    });
  }
  return issues;
};
