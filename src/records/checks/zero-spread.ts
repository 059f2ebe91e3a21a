import type { FieldName } from "../codebook.js";
import { noDoubts, rowIssue } from "./row-check.js";
import type { RowCheck } from "./row-check.js";

const spreads: readonly FieldName[] = [
  "preSpread",
  "postSpread",
  "changeSpread",
  "changePercentSpread",
];

/** Spreads of exactly zero: people differ, so a zero is a blank cell in disguise or a rounded number. */
export const zeroSpread: RowCheck = (row) => {
  const zeros = spreads.some((field) => row[field] === 0)
    ? spreads.filter((field) => row[field] === 0)
    : noDoubts;
  return zeros === noDoubts
    ? noDoubts
    : zeros.map((field) =>
        rowIssue(row, field, "warning", {
          code: "zero-spread",
          message: "a spread of zero would give the row infinite weight",
          mend: "leave the cell blank when the source prints no spread, or type more digits",
        }),
      );
};
