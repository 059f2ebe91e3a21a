/** The chi-squared distribution: both tails and quantiles. */
import {
  gammaDensityTimesX,
  incompleteGammaLower,
  incompleteGammaUpper,
} from "./incomplete-gamma.js";
import { logGamma } from "./log-gamma.js";
import { normalQuantile } from "./normal.js";
import { requirePositive, requireProbability } from "./scalar-guard.js";
import { solvePositiveQuantile } from "./solve-positive-quantile.js";
import type { Tail } from "./tail.js";

/**
 * Probability that a chi-squared variable lies at or below x, or above it.
 *
 * @param x any number; at or below zero the lower tail is empty
 * @param degreesOfFreedom above zero, finite, not necessarily whole
 * @param tail which side of x
 * @returns a probability, each tail accurate as itself; NaN when an argument is NaN
 * @throws {CallError} "not-positive" for the degrees of freedom
 * @source Abramowitz and Stegun (1964), 26.4.1 and 26.4.19
 * @example
 * chiSquaredProbability(3.841459, 1, "upper") // => 0.0500000
 */
export const chiSquaredProbability = (
  x: number,
  degreesOfFreedom: number,
  tail: Tail = "lower",
): number => {
  requirePositive("chiSquaredProbability", "degrees of freedom", degreesOfFreedom);
  if (Number.isNaN(x) || Number.isNaN(degreesOfFreedom)) return NaN;
  if (x <= 0) return tail === "upper" ? 1 : 0;
  return tail === "upper"
    ? incompleteGammaUpper(degreesOfFreedom / 2, x / 2)
    : incompleteGammaLower(degreesOfFreedom / 2, x / 2);
};

/**
 * Value that a chi-squared variable stays below (or above) with the given probability.
 *
 * @param p between 0 and 1; give the small tail as itself rather than one minus it
 * @param degreesOfFreedom above zero, finite, not necessarily whole
 * @param tail "lower": P(X ≤ x) = p; "upper": P(X > x) = p
 * @returns x, zero or more (0 also where it underflows); NaN when an argument is NaN
 * @throws {CallError} "not-a-probability" for p, "not-positive" for the degrees of freedom
 * @source start: Wilson EB, Hilferty MM (1931) Proceedings of the National Academy of Sciences
 *   17:684–688; then Newton's method
 * @example
 * chiSquaredQuantile(0.95, 1) // => 3.8414588
 */
export const chiSquaredQuantile = (
  p: number,
  degreesOfFreedom: number,
  tail: Tail = "lower",
): number => {
  requireProbability("chiSquaredQuantile", p);
  requirePositive("chiSquaredQuantile", "degrees of freedom", degreesOfFreedom);
  if (Number.isNaN(p) || Number.isNaN(degreesOfFreedom)) return NaN;
  if (p === 0) return tail === "upper" ? Infinity : 0;
  if (p === 1) return tail === "upper" ? 0 : Infinity;
  const shape = degreesOfFreedom / 2;
  const upper = tail === "upper" ? p <= 0.5 : p > 0.5;
  const small = p <= 0.5 ? p : 1 - p;
  const z = (upper ? 1 : -1) * normalQuantile(small, "upper");
  const spread = 2 / (9 * degreesOfFreedom);
  const cube = shape * (1 - spread + z * Math.sqrt(spread)) ** 3;
  // near zero the lower tail is x^shape / Γ(shape + 1)
  const nearZero = Math.exp((Math.log(upper ? 1 - small : small) + logGamma(shape + 1)) / shape);
  const start = cube > 0.1 * shape || (upper && cube > 0) ? cube : Math.max(nearZero, 1e-300);
  const half = solvePositiveQuantile(
    {
      where: "chiSquaredQuantile",
      grows: !upper,
      start,
      probability: (x) => (upper ? incompleteGammaUpper(shape, x) : incompleteGammaLower(shape, x)),
      densityTimesX: (x) => gammaDensityTimesX(shape, x),
    },
    small,
  );
  return 2 * half;
};
