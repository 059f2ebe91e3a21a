import { CallError } from "../errors.js";
import { fieldOfColumn } from "./codebook.js";
import type { OutcomeRow } from "./outcome-row.js";

/** A row's value in a codebook column, for filters, groups and moderators. */
export const rowValue = (row: OutcomeRow, column: string): string | number | undefined => {
  const name = fieldOfColumn(column);
  if (name === undefined)
    throw new CallError({
      code: "unknown-column",
      where: "a column of the codebook",
      needs: "one of the columns that holdbook codebook lists",
      got: `"${column}"`,
    });
  const value = row[name];
  return Array.isArray(value) ? value.join(" / ") : (value as string | number | undefined);
};
