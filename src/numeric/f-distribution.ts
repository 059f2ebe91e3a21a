/** The F distribution: both tails. */
import { chiSquaredProbability } from "./chi-squared.js";
import { incompleteBeta } from "./incomplete-beta.js";
import { requirePositive } from "./scalar-guard.js";
import type { Tail } from "./tail.js";

/** From here a mean square of the denominator is a constant to double precision. */
const infiniteFrom = 1e18;

const checked = (where: string, first: number, second: number): void => {
  requirePositive(where, "numerator degrees of freedom", first);
  requirePositive(where, "denominator degrees of freedom", second);
};

/** The beta share n₁f/(n₁f + n₂) and its complement, each to full relative accuracy, and their lead. */
const shares = (
  f: number,
  first: number,
  second: number,
): Readonly<{ x: number; y: number; lead: number }> => {
  const ratio = (first / second) * f;
  // n₁/2 − (n₁ + n₂)/2 · x, written so that f near 1 costs no digits
  if (ratio <= 1) {
    const y = 1 / (1 + ratio);
    return { x: ratio / (1 + ratio), y, lead: 0.5 * first * (1 - f) * y };
  }
  const inverse = second / first / f;
  const x = 1 / (1 + inverse);
  return { x, y: inverse / (1 + inverse), lead: 0.5 * second * (1 / f - 1) * x };
};

/**
 * Probability that an F variable lies at or below f, or above it.
 *
 * @param f any number; at or below zero the lower tail is empty
 * @param numeratorDegreesOfFreedom above zero, finite, not necessarily whole
 * @param denominatorDegreesOfFreedom above zero, not necessarily whole, may be Infinity
 * @param tail which side of f
 * @returns a probability, each tail accurate as itself; NaN when an argument is NaN
 * @throws {CallError} "not-positive" for either degrees of freedom
 * @source Abramowitz and Stegun (1964), 26.6.1 and 26.5.28
 * @example
 * fProbability(500, 3, 30, "upper") // => 1.080292e-25
 */
export const fProbability = (
  f: number,
  numeratorDegreesOfFreedom: number,
  denominatorDegreesOfFreedom: number,
  tail: Tail = "lower",
): number => {
  checked("fProbability", numeratorDegreesOfFreedom, denominatorDegreesOfFreedom);
  if (Number.isNaN(f + numeratorDegreesOfFreedom + denominatorDegreesOfFreedom)) return NaN;
  if (f <= 0) return tail === "upper" ? 1 : 0;
  if (f === Infinity) return tail === "upper" ? 0 : 1;
  if (denominatorDegreesOfFreedom >= infiniteFrom) {
    return chiSquaredProbability(f * numeratorDegreesOfFreedom, numeratorDegreesOfFreedom, tail);
  }
  const { x, y, lead } = shares(f, numeratorDegreesOfFreedom, denominatorDegreesOfFreedom);
  return incompleteBeta(x, numeratorDegreesOfFreedom / 2, denominatorDegreesOfFreedom / 2, {
    upper: tail === "upper",
    complement: y,
    lead,
  });
};
