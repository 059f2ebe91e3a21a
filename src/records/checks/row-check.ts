import type { IssueCode, Issue } from "../../errors.js";
import type { FieldName } from "../codebook.js";
import { columnOf } from "../codebook.js";
import type { OutcomeRow } from "../outcome-row.js";

/** A check of one row by itself. */
export type RowCheck = (row: OutcomeRow) => readonly Issue[];

/** A check of rows against each other: what it doubts, each doubt at one row. */
export type TableCheck = (rows: readonly OutcomeRow[]) => readonly Issue[];

/** Shared by all checks, since nearly every row of a long table raises no doubt. */
export const noDoubts: readonly never[] = [];

/** One doubt at a row's field. An `error` refuses the row, a `warning` lets it be used. */
export const rowIssue = (
  row: OutcomeRow,
  field: FieldName,
  severity: Issue["severity"],
  doubt: Readonly<{ code: IssueCode; message: string; mend: string }>,
): Issue => {
  const value = row[field];
  return {
    code: doubt.code,
    severity,
    line: row.line,
    column: columnOf(field),
    value: value === undefined ? "" : Array.isArray(value) ? value.join(" / ") : String(value),
    message: doubt.message,
    mend: doubt.mend,
  };
};

/** Key of an arm: arm ids are taken within their study. */
export const armKey = (row: OutcomeRow): string => `${row.study}\u0000${row.arm}`;
