import { noDoubts, rowIssue } from "./row-check.js";
import type { RowCheck } from "./row-check.js";

/**
 * Intensities that do not fit their basis: a rating typed as it stands (7) where ten times the rating
 * belongs (70), and maximal effort at less than 90%.
 */
export const intensityBasisFits: RowCheck = (row) => {
  const { intensityPercent: intensity, intensityBasis: basis } = row;
  if (intensity === undefined) return noDoubts;
  if (basis === "effort rating 0–10" && intensity > 0 && intensity <= 10) {
    return [
      rowIssue(row, "intensityPercent", "warning", {
        code: "rating-not-in-percent",
        message: `it is read as a rating of ${intensity / 10} out of 10`,
        mend: `write ${intensity * 10} if the rating is ${intensity}`,
      }),
    ];
  }
  if (basis === "maximal effort" && intensity < 90) {
    return [
      rowIssue(row, "intensityPercent", "warning", {
        code: "maximal-below-maximum",
        message: "the basis says maximal effort and the intensity does not",
        mend: "write 100, or change intensity_basis",
      }),
    ];
  }
  return noDoubts;
};
