import { noDoubts, rowIssue } from "./row-check.js";
import type { RowCheck } from "./row-check.js";

/**
 * Printed changes that are not "after minus before": the sign is turned, the units differ, or a number
 * is mistyped. Differences that rounding of the printed means can explain are let pass.
 */
export const changeIsDifference: RowCheck = (row) => {
  const { preMean, postMean, changeMean, changePercentMean } = row;
  if (preMean === undefined || postMean === undefined) return noDoubts;
  if (row.statisticOf === "difference from comparator") return noDoubts;
  const difference = postMean - preMean;
  const size = Math.max(Math.abs(preMean), Math.abs(postMean));
  const shown = Number(difference.toPrecision(6));
  if (changeMean !== undefined) {
    const slack = 0.02 * size + 0.1 * Math.abs(difference);
    if (Math.abs(changeMean - difference) <= slack) return noDoubts;
    const turned = Math.abs(changeMean + difference) <= slack;
    return [
      rowIssue(row, "changeMean", "warning", {
        code: turned ? "turned-sign" : "change-is-not-difference",
        message: `post_mean minus pre_mean is ${shown}${turned ? ", the same with the other sign" : ""}`,
        mend: turned
          ? "write the change as after minus before"
          : "check the three numbers and their units",
      }),
    ];
  }
  if (changePercentMean !== undefined && preMean !== 0) {
    const percent = (100 * difference) / preMean;
    const opposed = Math.sign(percent) !== Math.sign(changePercentMean);
    // The mean of percent changes is not the percent change of means; only clear opposition counts.
    if (!opposed || Math.min(Math.abs(percent), Math.abs(changePercentMean)) < 3) return noDoubts;
    return [
      rowIssue(row, "changePercentMean", "warning", {
        code: "turned-sign",
        message: `the means change by ${Number(percent.toPrecision(3))}%`,
        mend: "check the sign, and that pre_mean and post_mean are not swapped",
      }),
    ];
  }
  return noDoubts;
};
