import { isTrained } from "./peers.js";
import { noDoubts, rowIssue } from "./row-check.js";
import type { RowCheck } from "./row-check.js";

/** Numbers after training that are those before it to the last digit: most likely copied. */
export const afterIsBefore: RowCheck = (row) => {
  const { preMean, postMean, preSpread, postSpread } = row;
  if (preMean === undefined || preMean !== postMean || preMean === 0) return noDoubts;
  const spreadsToo = preSpread !== undefined && preSpread === postSpread;
  const noSpread = preSpread === undefined && postSpread === undefined;
  if (!spreadsToo && !(noSpread && isTrained(row))) return noDoubts;
  return [
    rowIssue(row, "postMean", "warning", {
      code: "after-is-before",
      message: `mean${spreadsToo ? " and spread are" : " is"} the same as before training`,
      mend: "look up the numbers after training; the cells before may have been copied",
    }),
  ];
};
