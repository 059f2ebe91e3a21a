import { isTrained } from "./peers.js";
import { noDoubts, rowIssue } from "./row-check.js";
import type { RowCheck } from "./row-check.js";

/** Changes typed as fractions where percent belong: 0.235 for 23.5. */
export const fractionForPercentage: RowCheck = (row) => {
  const { changePercentMean: mean, changePercentSpread: spread } = row;
  if (mean === undefined || mean === 0 || Math.abs(mean) >= 1) return noDoubts;
  // People's changes never agree to within one percent of themselves.
  const small = spread === undefined ? isTrained(row) && Math.abs(mean) < 0.6 : spread < 1;
  if (!small) return noDoubts;
  return [
    rowIssue(row, "changePercentMean", "warning", {
      code: "fraction-for-percentage",
      message: "the number looks like a fraction where a percentage belongs",
      mend: `write ${Number((mean * 100).toPrecision(12))} if that is meant${spread === undefined ? "" : `, and ${Number((spread * 100).toPrecision(12))} for its spread`}`,
    }),
  ];
};
