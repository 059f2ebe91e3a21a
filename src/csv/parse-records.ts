import { CsvError, parse } from "csv-parse/browser/esm/sync";
import type { Issue } from "../errors.js";
import type { CsvRow } from "./csv-table.js";
import { unguardFormula } from "./formula-guard.js";

/** After this many broken quotes the rest of the file is read with quotes as plain characters. */
const brokenQuotesMended = 5;

/** Records as they stand, and the quotes that had to be taken as plain characters. */
export type ParsedRecords = Readonly<{ rows: readonly CsvRow[]; issues: readonly Issue[] }>;

/**
 * Bytes of UTF-8 as records of strings, each with the line of the file it starts on.
 *
 * A quote that is not closed on its row, or that swallows the rows after it, spoils only its own line: that
 * line is read with quotes as plain characters, is told as an issue, and parsing resumes on the next.
 *
 * @param utf8 the text without byte-order mark
 * @param delimiter character between cells
 * @param firstLine line of the file the bytes start on
 */
export const parseRecords = (
  utf8: Uint8Array,
  delimiter: string,
  firstLine: number,
): ParsedRecords => {
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

const candidates = [",", ";", "\t", "|"] as const;

/** How often a character stands outside quotes in each of the first lines. */
const countsPerLine = (text: string, mark: string): number[] => {
  const counts: number[] = [];
  let count = 0;
  let quoted = false;
  let filled = false;
  for (const character of text) {
    if (character === '"') quoted = !quoted;
    if (!quoted && (character === "\n" || character === "\r")) {
      if (filled) counts.push(count);
      count = 0;
      filled = false;
      if (counts.length === 20) return counts;
    } else {
      filled = true;
      if (!quoted && character === mark) count += 1;
    }
  }
  if (filled) counts.push(count);
  return counts;
};

/**
 * The character that separates the cells of a table: comma, semicolon, tab or vertical bar.
 *
 * The header decides, for it is all words: the candidate that splits it and splits most of the next
 * lines into the same number of cells wins; among equals the one that makes more cells. A header that
 * none of them splits is one column, and the answer is a comma.
 *
 * @param start the beginning of the file, a few lines or more
 */
export const findDelimiter = (start: string): string => {
  let best = ",";
  let bestScore = 0;
  for (const mark of candidates) {
    const counts = countsPerLine(start, mark);
    const first = counts[0] ?? 0;
    if (first === 0) continue;
    const same = counts.filter((count) => count === first).length / counts.length;
    const score = same * 1000 + Math.min(first, 900);
    if (score > bestScore) {
      bestScore = score;
      best = mark;
    }
  }
  return best;
};
