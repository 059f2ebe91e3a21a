import { noDoubts, rowIssue } from "./row-check.js";
import type { RowCheck } from "./row-check.js";

/**
 * Intervals that do not contain the mean change or the effect they are of: an end is mistyped, or the
 * interval is of something else. The row is refused when the interval is what it would be weighted by.
 */
export const intervalHoldsMean: RowCheck = (row) => {
  const { intervalLow: low, intervalHigh: high } = row;
  if (low === undefined || high === undefined || low > high) return noDoubts;
  const of = row.statistic === "effect computed elsewhere" ? "effect" : "changeMean";
  const middle = row[of];
  if (middle === undefined || (middle >= low && middle <= high)) return noDoubts;
  if (of === "changeMean" && row.statisticOf === "difference from comparator") return noDoubts;
  const used =
    row.statistic === "change with interval" || row.statistic === "effect computed elsewhere";
  return [
    rowIssue(row, of, used ? "error" : "warning", {
      code: "outside-its-interval",
      message: `the interval from ${low} to ${high} does not contain it`,
      mend: "check the three numbers and their signs; the interval may be of another quantity",
    }),
  ];
};
