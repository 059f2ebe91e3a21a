import type { Issue, Note } from "../errors.js";
import type { OutcomeRow } from "./outcome-row.js";

/** What became of one row of the file, and why. */
export type RowFate = Readonly<{
  line: number;
  /**
   * `used` and `used with a warning` rows are among the record set's rows; a row `set aside` is sound
   * but holds nothing to analyse; a `refused` row has a problem that must be mended first.
   */
  fate: "used" | "used with a warning" | "set aside" | "refused";
  /** In words; empty for a row used without remark. */
  reason: string;
}>;

/** How far one column is filled; the four counts add up to the rows of the file. */
export type FieldCompleteness = Readonly<{
  column: string;
  coded: number;
  /** The cell says that the source was searched in vain. */
  notReported: number;
  blank: number;
  /** The cell, or its whole line, could not be read. */
  unusable: number;
}>;

/** A file read through the codebook: usable rows, every row's fate, and everything that was wrong. */
export type RecordSet = Readonly<{
  rows: readonly OutcomeRow[];
  /** One entry a row of the file, in file order. */
  fates: readonly RowFate[];
  issues: readonly Issue[];
  notes: readonly Note[];
  /** Columns the codebook does not know, as the header names them; rows keep their cells in `more`. */
  unknownColumns: readonly string[];
  completeness: readonly FieldCompleteness[];
  /** No error anywhere, and at least one row used. */
  usable: boolean;
  rowsInFile: number;
}>;
