import { familyRecord } from "../outcome-families.js";
import { noDoubts, rowIssue } from "./row-check.js";
import type { RowCheck } from "./row-check.js";

const factors = [10, 100, 1000, 9.80665] as const;

/**
 * Means before and after that differ by a power of ten or by the factor between kilogram-force and
 * newton: most likely one of them is in another unit. Endurance times may grow tenfold, so that family
 * and symptoms, which may vanish, are left out.
 */
export const unitSlips: RowCheck = (row) => {
  const { preMean, postMean } = row;
  if (preMean === undefined || postMean === undefined || preMean === 0 || postMean === 0) {
    return noDoubts;
  }
  if (familyRecord(row.outcomeFamily).canChangeManyfold) return noDoubts;
  const ratio = postMean / preMean;
  const size = Math.max(Math.abs(ratio), 1 / Math.abs(ratio));
  if (ratio < 0 || size < 7) return noDoubts;
  const near = factors.reduce((best, factor) =>
    Math.abs(Math.log(size / factor)) < Math.abs(Math.log(size / best)) ? factor : best,
  );
  return [
    rowIssue(row, "postMean", "warning", {
      code: "unit-slip",
      message: `before and after differ by a factor of ${Number(size.toPrecision(3))}, near ${near}`,
      mend: `check that both are in ${row.unit ?? "the same unit"}`,
    }),
  ];
};
