import type { Issue, Note } from "../errors.js";

/** How the bytes of a table were written. */
export type CsvEncoding = "utf-8" | "utf-16le" | "utf-16be" | "windows-1252";

/** One record of the file: the line it starts on (the header is usually line 1) and its cells as text. */
export type CsvRow = Readonly<{ line: number; cells: readonly string[] }>;

/**
 * A delimited text table as it stands in its file: strings only, nothing cast, every row numbered by
 * its own line. Rows keep as many cells as their line has; a row whose count differs from the header's
 * is an issue of severity `error` on that line.
 */
export type CsvTable = Readonly<{
  header: readonly string[];
  /** Its line; 1 where left out. */
  headerLine?: number;
  rows: readonly CsvRow[];
  delimiter: string;
  encoding: CsvEncoding;
  /** Of a workbook: the sheet that was read, and the names of all. */
  sheet?: Readonly<{ name: string; names: readonly string[] }>;
  issues: readonly Issue[];
  notes: readonly Note[];
}>;
