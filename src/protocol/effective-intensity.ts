import type { Prescription } from "./prescription.js";

/** Percent of MVC that one step of a 0–10 rating stands for: common practice, no source. */
export const percentPerRatingStep = 10;

/**
 * The one effort that stands for a prescription, percent of MVC at the training angle.
 *
 * A single percentage is itself; a range is its midpoint; a rating is ten times itself (common
 * practice, no source); `maximal effort` without a number is 100. `doseNotes` says which of these
 * was done.
 *
 * @returns percent of MVC, or undefined when no effort is given or it is a percentage of something
 *   that does not convert: a one-repetition maximum, or MVC at another angle
 */
export const effectiveIntensityPercent = (p: Prescription): number | undefined => {
  if (
    p.intensityBasis === "percent of one-repetition maximum" ||
    p.intensityBasis === "percent of MVC at another angle"
  )
    return undefined;
  if (p.effortRating !== undefined) return percentPerRatingStep * p.effortRating;
  if (p.intensityPercent !== undefined)
    return p.intensityPercentHigh === undefined
      ? p.intensityPercent
      : (p.intensityPercent + p.intensityPercentHigh) / 2;
  return p.intensityBasis === "maximal effort" ? 100 : undefined;
};
