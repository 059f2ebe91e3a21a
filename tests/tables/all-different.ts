import type { Coefficient } from "../../src/synthesis/synthesis-results.js";
import type { Range } from "../../src/projection/three-ranges.js";

/**
 * A range on the log scale from percentages, so that what is printed can be traced by eye.
 *
 * `percent` holds the same numbers plus a hundredth, so that a CSV shows which of the two it was made from.
 */
export const rangeOfPercent = (
  low: number,
  middle: number,
  high: number,
  probabilityOfGain = 0.5,
): Range => ({
  estimate: Math.log1p(middle / 100),
  low: Math.log1p(low / 100),
  high: Math.log1p(high / 100),
  percent: { estimate: middle + 0.01, low: low + 0.01, high: high + 0.01 },
  probabilityOfGain,
});

/** A coefficient on the log scale from percentages. */
export const coefficientOfPercent = (
  term: string,
  [low, middle, high]: readonly [number, number, number],
  [standardError, degreesOfFreedom, p]: readonly [number, number, number],
): Coefficient => ({
  term,
  estimate: Math.log1p(middle / 100),
  standardError,
  interval: { low: Math.log1p(low / 100), high: Math.log1p(high / 100) },
  degreesOfFreedom,
  p,
});
