import { CsvError, parse } from "csv-parse/browser/esm/sync";
import type { Issue, Note } from "../errors.js";
import type { CsvRow, CsvTable } from "./csv-table.js";
import { decodeText } from "./decode-text.js";
import { findDelimiter } from "./find-delimiter.js";
import { unguardFormula } from "./formula-guard.js";

export type ReadTableOptions = Readonly<{
  /** Character between cells; found from the first lines when absent. */
  delimiter?: string;
}>;

/** After this many broken quotes the rest of the file is read with quotes as plain characters. */
const brokenQuotesMended = 5;

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
  const workbook = workbookIssue(bytes);
  if (workbook !== undefined) return emptyTable([workbook]);
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
  const header = first.cells.map((name) => name.replaceAll("\u00a0", " ").trim());
  issues.push(...headerIssues(header, first.line), ...raggedIssues(header, rows));
  const allNotes: Note[] = [...notes];
  if (rows.length === 0) {
    allNotes.push({ code: "header-only", message: "the file has a header and no rows" });
  }
  return { header, rows, delimiter, encoding, issues, notes: allNotes };
};

const wholeFile = (code: string, message: string, mend: string): Issue => ({
  code,
  severity: "error",
  line: 0,
  column: "",
  value: "",
  message,
  mend,
});

const emptyTable = (issues: readonly Issue[]): CsvTable => ({
  header: [],
  rows: [],
  delimiter: ",",
  encoding: "utf-8",
  issues,
  notes: [],
});

/** A workbook saved under the wrong name starts with the mark of a zip archive or an old binary document. */
const workbookIssue = (bytes: Uint8Array): Issue | undefined => {
  const starts = (mark: readonly number[]) => mark.every((byte, i) => bytes[i] === byte);
  return starts([0x50, 0x4b, 0x03, 0x04]) || starts([0xd0, 0xcf, 0x11, 0xe0])
    ? wholeFile(
        "workbook",
        "the file is a spreadsheet workbook, not delimited text",
        "open it in the spreadsheet and save the sheet as CSV (UTF-8)",
      )
    : undefined;
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

type Parsed = Readonly<{ rows: readonly CsvRow[]; issues: readonly Issue[] }>;

const parseRecords = (utf8: Uint8Array, delimiter: string, firstLine: number): Parsed => {
  const rows: CsvRow[] = [];
  const issues: Issue[] = [];
  let rest = utf8;
  let line = firstLine;
  for (let broken = 0; ; broken++) {
    const end = parsePart(rest, delimiter, line, broken < brokenQuotesMended, rows);
    if (end === undefined) return { rows, issues };
    issues.push(openQuoteIssue(end));
    // The line with the open quote is read with quotes as plain characters; parsing resumes after it.
    const from = lineStart(rest, end - line);
    const next = lineStart(rest, end - line + 1);
    parsePart(rest.subarray(from, next), delimiter, end, false, rows);
    rest = rest.subarray(next);
    line = end + 1;
  }
};

const openQuoteIssue = (line: number): Issue => ({
  code: "open-quote",
  severity: "error",
  line,
  column: "",
  value: "",
  message: "a quotation mark opens a cell and is not closed on its row",
  mend: "close it, or double it if it belongs to the text",
});

const breaksIn = (cell: string): number => cell.match(/\r\n|\n|\r/g)?.length ?? 0;

/** In narrower tables two lines of text with commas look like two rows by chance. */
const wideTable = 6;

/**
 * Whether a quote too many has swallowed rows. A record whose cells run over lines and that has not the
 * header's number of cells has; so has one whose lines, read without quotes, all have that number, when
 * the table is wide or a cell still begins with a quote, which means that its closing quote was none.
 */
const holdsRows = (cells: readonly string[], delimiter: string, width: number): boolean => {
  if (width < 3) return false;
  if (cells.length !== width) return true;
  if (width < wideTable && !cells.some((c) => c.startsWith('"') && breaksIn(c) > 0)) return false;
  const lines = cells.join(delimiter).split(/\r\n|\n|\r/);
  return lines.every((line) => line.split(delimiter).length === width);
};

/** Byte offset of the line that many lines on; LF, CR and CRLF each end a line. */
const lineStart = (bytes: Uint8Array, linesOn: number): number => {
  let left = linesOn;
  let i = 0;
  for (; i < bytes.length && left > 0; i++) {
    if (bytes[i] === 0x0a || (bytes[i] === 0x0d && bytes[i + 1] !== 0x0a)) left -= 1;
  }
  return i;
};

/**
 * Parses bytes into `rows`; undefined when all was read, else the line of the record whose quote is
 * not closed. A cell equal to the one above it shares its string: long tables repeat study and arm fields,
 * and this keeps them small.
 */
const parsePart = (
  bytes: Uint8Array,
  delimiter: string,
  firstLine: number,
  quotes: boolean,
  rows: CsvRow[],
): number | undefined => {
  let above: string[] = [];
  // csv-parse counts every record delimiter and, inside quotes, CR and LF apart; `counted` is its
  // count at the end of the record before, `line` the line of the file there.
  let counted = 0;
  let line = firstLine - 1;
  let emptyBefore = 0;
  let swallowedAt: number | undefined;
  try {
    parse(bytes, {
      delimiter,
      quote: quotes ? '"' : false,
      relax_quotes: true,
      relax_column_count: true,
      skip_empty_lines: true,
      record_delimiter: ["\r\n", "\n", "\r"],
      on_record: (cells: string[], context) => {
        const emptyNow = context.empty_lines - emptyBefore;
        emptyBefore = context.empty_lines;
        const start = line + emptyNow + 1;
        if (swallowedAt !== undefined) return null;
        let breaks = 0;
        if (context.lines - counted - emptyNow > 1) {
          for (const cell of cells) breaks += breaksIn(cell);
          if (breaks > 0 && holdsRows(cells, delimiter, rows[0]?.cells.length ?? 0)) {
            swallowedAt = start;
          }
        }
        if (swallowedAt !== undefined) return null;
        counted = context.lines;
        line = start + breaks;
        for (let i = 0; i < cells.length; i++) {
          const cell = cells[i] as string;
          if (cell === above[i]) cells[i] = above[i] as string;
          else if (cell.charCodeAt(0) === 0x27) cells[i] = unguardFormula(cell);
        }
        above = cells;
        rows.push({ line: start, cells });
        return null;
      },
    });
    return swallowedAt;
  } catch (error) {
    if (!(error instanceof CsvError) || !quotes) throw error;
    if (swallowedAt !== undefined) return swallowedAt;
    return nextFilledLine(bytes, line + 1 - firstLine) + firstLine;
  }
};

/** Lines on from the start to the first line at or after `from` that is not empty. */
const nextFilledLine = (bytes: Uint8Array, from: number): number => {
  let lines = from;
  for (let i = lineStart(bytes, from); i < bytes.length; i++) {
    if (bytes[i] === 0x0a || (bytes[i] === 0x0d && bytes[i + 1] !== 0x0a)) lines += 1;
    else if (bytes[i] !== 0x0d) break;
  }
  return lines;
};

const headerIssues = (header: readonly string[], line: number): readonly Issue[] => {
  const issues: Issue[] = [];
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
