import { noDoubts, rowIssue } from "./row-check.js";
import type { RowCheck } from "./row-check.js";

/**
 * Mean endurance time at a fraction of maximal effort, s: 21.92 · f^−1.98, all joints pooled.
 *
 * @source Frey Law LA, Avin KG (2010) Ergonomics 53:109–129, doi 10.1080/00140130903389068
 */
const meanEnduranceSeconds = (fraction: number): number => 21.92 * fraction ** -1.98;

/** Joints and people scatter around the mean curve, most of all at low efforts. */
const beyondOne = (intensityPercent: number): number => (intensityPercent < 40 ? 5 : 1.25);
/** All holds of one set with short rests, together: people recover a part in between. */
const beyondSet = 3.5;
/** With rests this many times the hold, the holds of a set stand alone. */
const longRest = 2;

/**
 * Holds that nobody could keep at their intensity, such as 900 s at 90%: at 15% of the maximum or above, longer than
 * five times the mean endurance time (from 40%, longer by a quarter), or a set of them with short rests longer by
 * three and a half times.
 */
export const holdBeyondEndurance: RowCheck = (row) => {
  const { intensityPercent, holdSeconds, intensityBasis, repetitions } = row;
  if (intensityPercent === undefined || holdSeconds === undefined || intensityPercent < 15) {
    return noDoubts;
  }
  if (intensityBasis === "percent of one-repetition maximum") return noDoubts;
  if (row.effortIntent === "to failure") return noDoubts;
  const endurance = meanEnduranceSeconds(Math.min(intensityPercent, 100) / 100);
  const rested = (row.restBetweenRepetitionsSeconds ?? 0) >= longRest * holdSeconds;
  const set = rested ? holdSeconds : holdSeconds * (repetitions ?? 1);
  const limit = row.restBetweenRepetitionsSeconds === undefined ? 2 * beyondSet : beyondSet;
  const most = beyondOne(intensityPercent) * endurance;
  if (holdSeconds <= most && (set <= limit * endurance || intensityPercent < 40)) return noDoubts;
  return [
    rowIssue(row, "holdSeconds", "warning", {
      code: "hold-beyond-endurance",
      message:
        holdSeconds > most
          ? `at ${intensityPercent}% people last about ${Math.round(endurance)} s on average`
          : `${repetitions ?? 1} holds make ${Math.round(set)} s in a set, where people last about ${Math.round(endurance)} s at ${intensityPercent}%`,
      mend: "check hold and intensity: a decimal point, or all repetitions together where one hold belongs",
    }),
  ];
};
