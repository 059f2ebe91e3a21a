import { noDoubts, rowIssue } from "./row-check.js";
import type { RowCheck } from "./row-check.js";

/**
 * Mean endurance time at a fraction of maximal effort, s: 21.92 · f^−1.98, all joints pooled.
 *
 * @source Frey Law LA, Avin KG (2010) Ergonomics 53:109–129, doi 10.1080/00140130903389068
 */
const meanEnduranceSeconds = (fraction: number): number => 21.92 * fraction ** -1.98;

/** Studies scatter by half around the mean curve; joints by a factor of two: five times is beyond both. */
const beyond = 5;

/**
 * Holds that nobody could keep at their intensity, such as 900 s at 90 %: five times the mean
 * endurance time or more, at 15 % of the maximum or above.
 */
export const holdBeyondEndurance: RowCheck = (row) => {
  const { intensityPercent, holdSeconds, intensityBasis } = row;
  if (intensityPercent === undefined || holdSeconds === undefined || intensityPercent < 15) {
    return noDoubts;
  }
  if (intensityBasis === "percent of one-repetition maximum") return noDoubts;
  const endurance = meanEnduranceSeconds(Math.min(intensityPercent, 100) / 100);
  if (holdSeconds <= beyond * endurance) return noDoubts;
  return [
    rowIssue(row, "holdSeconds", "warning", {
      code: "hold-beyond-endurance",
      message: `at ${intensityPercent} % people last about ${Math.round(endurance)} s on average`,
      mend: "check hold and intensity; all repetitions together may stand where one hold belongs",
    }),
  ];
};
