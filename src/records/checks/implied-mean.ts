import { noDoubts, rowIssue } from "./row-check.js";
import type { RowCheck } from "./row-check.js";

/**
 * A change that, with the one printed mean, makes the other mean negative: a decimal point is lost, or the
 * change is in another unit or of another quantity.
 */
export const impliedMean: RowCheck = (row) => {
  const { preMean, postMean, changeMean } = row;
  if (changeMean === undefined || row.statisticOf === "difference from comparator") return noDoubts;
  if ((preMean === undefined) === (postMean === undefined)) return noDoubts;
  const known = preMean ?? postMean ?? 0;
  const implied = preMean === undefined ? known - changeMean : known + changeMean;
  if (known <= 0 || implied >= 0) return noDoubts;
  const [shown, other] = preMean === undefined ? ["post_mean", "before"] : ["pre_mean", "after"];
  return [
    rowIssue(row, "changeMean", "warning", {
      code: "implied-mean-negative",
      message: `with ${shown} ${known} it makes the mean ${other} ${Number(implied.toPrecision(6))}`,
      mend: "check the decimal point and the unit of the change",
    }),
  ];
};
