import { noDoubts, rowIssue } from "./row-check.js";
import type { RowCheck } from "./row-check.js";

/**
 * A t value or a direction that runs against the printed means of the same row. Both are taken with the
 * sign of "after minus before", so one of them is turned.
 */
export const signOfStatistic: RowCheck = (row) => {
  if (row.statisticOf === "difference from comparator") return noDoubts;
  const change =
    row.changeMean ??
    (row.preMean !== undefined && row.postMean !== undefined
      ? row.postMean - row.preMean
      : undefined);
  if (change === undefined || change === 0) return noDoubts;
  const t = row.tValue !== undefined && Math.sign(row.tValue) === -Math.sign(change);
  const way = row.direction !== undefined && (row.direction === "increase") !== change > 0;
  if (!t && !way) return noDoubts;
  const doubt = {
    code: "turned-sign" as const,
    message: `the means ${change > 0 ? "rise" : "fall"} and this says they ${change > 0 ? "fall" : "rise"}`,
    mend: "take t and direction with the sign of after minus before",
  };
  return [
    ...(t ? [rowIssue(row, "tValue", "warning", doubt)] : []),
    ...(way ? [rowIssue(row, "direction", "warning", doubt)] : []),
  ];
};
