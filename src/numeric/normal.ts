/** The standard normal distribution: density, both tails, quantiles. */
import { erf, expMinusSquare, scaledErrorComplement } from "./error-function.js";
import { requireProbability } from "./scalar-guard.js";
import type { Tail } from "./tail.js";

const rootHalf = Math.SQRT1_2;
const rootTwoPi = 2.506_628_274_631_000_7;

/**
 * Density of the standard normal distribution, exp(−x²/2)/√(2π).
 *
 * @param x any number
 * @returns zero or more; NaN for NaN
 * @source Abramowitz and Stegun (1964), 26.2.1
 * @example
 * normalDensity(0) // => 0.3989423
 */
export const normalDensity = (x: number): number =>
  Number.isNaN(x) ? NaN : expMinusSquare(x, 0.5) / rootTwoPi;

/** P(Z > x) for x of 0.6 or more. */
const farProbability = (x: number): number =>
  0.5 * scaledErrorComplement(x * rootHalf) * expMinusSquare(x, 0.5);

/**
 * Probability that a standard normal variable lies at or below x, or above it.
 *
 * Each tail is computed as itself, never as one minus the other where that would lose digits:
 * relative error near 10⁻¹⁵ down to the smallest double.
 *
 * @param x any number, also ±Infinity
 * @param tail which side of x
 * @returns a probability; NaN for NaN
 * @source Abramowitz and Stegun (1964), 26.2.2 and 26.2.29
 * @example
 * normalProbability(-10) // => 7.619853e-24
 */
export const normalProbability = (x: number, tail: Tail = "lower"): number => {
  const outward = tail === "upper" ? x : -x;
  if (Number.isNaN(outward)) return NaN;
  if (outward > 40) return 0;
  if (outward >= 0.7) return farProbability(outward);
  if (outward <= -0.7) return outward < -40 ? 1 : 1 - farProbability(-outward);
  return 0.5 - 0.5 * erf(outward * rootHalf);
};

/** z > 0 with P(Z > z) = p, p at most 0.15. */
const farQuantile = (p: number): number => {
  const target = Math.log(p);
  const radius = Math.sqrt(-2 * target);
  // The classical three-constant start is good to 5e-4; Newton's steps on ln P square that twice.
  let z =
    radius -
    (2.515517 + radius * (0.802853 + radius * 0.010328)) /
      (1 + radius * (1.432788 + radius * (0.189269 + radius * 0.001308)));
  for (let iteration = 0; iteration < 4; iteration++) {
    const mills = 0.5 * rootTwoPi * scaledErrorComplement(z * rootHalf);
    const gap = Math.log(mills / rootTwoPi) - (0.5 * z * z + target);
    const change = gap * mills;
    z += change;
    if (Math.abs(change) < 1e-9 * z) {
      const probability = farProbability(z);
      // One last step on the probability itself, free of the logarithm's rounding.
      return probability > 1e-290 ? z + (probability / p - 1) * mills : z;
    }
  }
  return z;
};

/**
 * Value that a standard normal variable stays below (or above) with the given probability.
 *
 * @param p between 0 and 1; give the small tail as itself rather than one minus it
 * @param tail "lower": P(Z ≤ z) = p; "upper": P(Z > z) = p
 * @returns z; ∓Infinity at 0 and 1; NaN for NaN
 * @throws {CallError} "not-a-probability" when p is outside [0, 1]
 * @source start: Abramowitz and Stegun (1964), 26.2.23; then Newton's method
 * @example
 * normalQuantile(0.975) // => 1.9599640
 */
export const normalQuantile = (p: number, tail: Tail = "lower"): number => {
  requireProbability("normalQuantile", p);
  if (Number.isNaN(p)) return NaN;
  const sign = tail === "upper" ? 1 : -1;
  if (p === 0) return sign * Infinity;
  if (p === 1) return -sign * Infinity;
  if (p <= 0.15) return sign * farQuantile(p);
  if (p >= 0.85) return -sign * farQuantile(1 - p);
  const centred = 0.5 - p; // exact here
  if (centred === 0) return 0;
  let z = centred * rootTwoPi;
  for (let iteration = 0; iteration < 20; iteration++) {
    const change = (0.5 * erf(z * rootHalf) - centred) / normalDensity(z);
    z -= change / (1 + 0.5 * z * change); // Halley
    if (Math.abs(change) < 1e-8 * Math.abs(z)) break;
  }
  return sign * z;
};
