import { CallError } from "../errors.js";
import { columnOf, fieldNames, fieldOfColumn } from "./codebook.js";
import { derivedColumns, derivedValue, isDerivedColumn } from "./derived-columns.js";
import { columnSpelling } from "./header-columns.js";
import { nearestWord } from "../protocol/nearest-word.js";
import type { OutcomeRow } from "./outcome-row.js";

/**
 * A row's value in any column, of the codebook or of the file's own, or a quantity that follows from its prescription
 * (`derivedColumns`): for filters, groups and moderators.
 *
 * A list (training angles) is its text, "30 / 60". A column of the file's own is a number where every filled cell of
 * it is one, else text.
 *
 * @param column  its name, whatever the case and the joining of words
 * @returns undefined where the cell is blank, says "not reported", or the file has no such column; ask
 *   `checkedColumn` first
 */
export const rowValue = (row: OutcomeRow, column: string): string | number | undefined => {
  const key = columnSpelling(column);
  const name = fieldOfColumn(key);
  if (name === undefined) {
    return row.more !== undefined && Object.hasOwn(row.more, key)
      ? row.more[key]
      : derivedValue(row, key);
  }
  const value = row[name];
  return typeof value === "object" ? value.join(" / ") : value;
};

/**
 * The column itself, when the codebook has it, a row fills it, or it follows from the prescription.
 *
 * @throws {CallError} "unknown-column" with the nearest column there is
 */
export const checkedColumn = (column: string, rows: readonly OutcomeRow[]): string => {
  const key = columnSpelling(column);
  if (fieldOfColumn(key) !== undefined) return column;
  const own = new Set(rows.flatMap(({ more }) => Object.keys(more ?? {})));
  if (own.has(key) || isDerivedColumn(key)) return column;
  const worked = derivedColumns.map(({ name }) => name);
  const near = nearestWord(key, [...own, ...fieldNames.map(columnOf), ...worked]);
  throw new CallError({
    code: "unknown-column",
    where: "a column",
    needs: `a name that holdbook codebook lists, a filled column of the file, or one of ${worked.join(", ")}`,
    got: `"${column}"`,
    ...(near === undefined ? {} : { try: `did you mean ${near}?` }),
  });
};
