import { createHash } from "node:crypto";
import { chosenRows, type Evidence } from "../answers/evidence.js";
import { printedGains as gainsOf } from "../answers/printed-gains.js";
import { ownColumn } from "../answers/own-column.js";
import { CallError } from "../errors.js";
import type { NamedFigure } from "../figures/figure-list.js";
import type { OutcomeRow } from "../records/outcome-row.js";
import { openedFile } from "./ask.js";

const required = (file: Evidence | undefined): Evidence => {
  if (file !== undefined) return file;
  throw new CallError({
    code: "no-file",
    where: "this question",
    needs: "a file",
    got: "none",
    try: 'open one first: await openFile("data/my.csv")',
  });
};

/**
 * The rows of a file that meet conditions, as people type them.
 *
 * @param set   the file, or its rows; the file opened last where it is left out
 * @param where e.g. "weeks>=8" or "outcome_family=strength, intensity_percent>70"
 * @throws {CallError} for a condition that cannot be read, or that no row meets
 * @source none: a choice
 */
export const rowsWhere = (set: Evidence | undefined, where: string): readonly OutcomeRow[] =>
  chosenRows(required(set ?? openedFile()), where);

/**
 * The file with a column of your own, worked out row by row, for conditions, groups and moderators.
 *
 * @param name  of the column, e.g. "period"
 * @param value what a row has there; undefined leaves it blank
 * @param file  the file opened last where it is left out; it stays as it is, and questions are asked of what comes back
 * @throws {CallError} where no file is open, or a column has that name
 * @source none: a column added
 */
export const withColumn = (
  name: string,
  value: (row: OutcomeRow) => string | number | undefined,
  file?: Evidence,
): Evidence => {
  const whole = required(file ?? openedFile());
  const values = whole.records.rows.map(value);
  const together = JSON.stringify([whole.source.fingerprint, name, values]);
  return ownColumn(whole, name, values, createHash("sha256").update(together).digest("hex"));
};

/**
 * Gains as papers print them, row by row along any column, as a figure for `showFigure` or `saveFigure`: filled where a
 * spread is printed, open where none is.
 *
 * @param where conditions as people type them
 * @param along a column with numbers, of the codebook or of the file's own
 * @param file  the file opened last where it is left out
 * @throws {CallError} where no row prints a gain at a number of that column
 * @source none: 100 · (after − before) / before, and mean ± 1.96 standard errors
 */
export const printedGains = (where: string, along: string, file?: Evidence): NamedFigure =>
  gainsOf(required(file ?? openedFile()), where, along);
