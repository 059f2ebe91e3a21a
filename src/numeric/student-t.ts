/** Student's t distribution: both tails, quantiles; any positive degrees of freedom, also Infinity. */
import { betaDensityTimesXY, incompleteBeta } from "./incomplete-beta.js";
import { logBeta } from "./log-gamma.js";
import { normalProbability, normalQuantile } from "./normal.js";
import { requirePositive, requireProbability } from "./scalar-guard.js";
import { solvePositiveQuantile } from "./solve-positive-quantile.js";
import type { Tail } from "./tail.js";

/** From here the t and normal tails agree to double precision wherever they are not zero. */
const normalFrom = 1e22;

/** n/(n + t²) and t²/(n + t²), each to full relative accuracy and without overflow, and their lead. */
const shares = (
  t: number,
  degreesOfFreedom: number,
): Readonly<{ x: number; y: number; lead: number }> => {
  const size = Math.abs(t);
  if (size * size <= degreesOfFreedom) {
    const ratio = (size / degreesOfFreedom) * size;
    const x = 1 / (1 + ratio);
    return { x, y: ratio / (1 + ratio), lead: 0.5 * (size - 1) * (size + 1) * x };
  }
  const ratio = degreesOfFreedom / size / size;
  const y = 1 / (1 + ratio);
  const lead = 0.5 * degreesOfFreedom * (1 - 1 / size) * (1 + 1 / size) * y;
  return { x: ratio / (1 + ratio), y, lead };
};

/** Beyond this the square of t overflows, or would soon. */
const powerLawFrom = 1e140;

/** P(|T| > |t|) for huge t, where the tail is a power: (n/t²)^(n/2) / (n/2 · B(n/2, 1/2)). */
const powerLawTail = (t: number, degreesOfFreedom: number): number => {
  const half = degreesOfFreedom / 2;
  const logShare = Math.log(degreesOfFreedom) - 2 * Math.log(Math.abs(t));
  return Math.exp(half * logShare - Math.log(half) - logBeta(half, 0.5));
};

/** P(|T| > |t|) or, with `central`, P(|T| < |t|). */
const twoSided = (t: number, degreesOfFreedom: number, central: boolean): number => {
  if (Math.abs(t) > powerLawFrom && degreesOfFreedom < 1e6) {
    const outer = powerLawTail(t, degreesOfFreedom);
    return central ? 1 - outer : outer;
  }
  const { x, y, lead } = shares(t, degreesOfFreedom);
  return incompleteBeta(x, degreesOfFreedom / 2, 0.5, { upper: central, complement: y, lead });
};

/**
 * Probability that a Student t variable lies at or below t, or above it.
 *
 * @param t any number, also ±Infinity
 * @param degreesOfFreedom above zero, not necessarily whole, may be Infinity
 * @param tail which side of t
 * @returns a probability, each tail accurate as itself; NaN when an argument is NaN
 * @throws {CallError} "not-positive" for the degrees of freedom
 * @source Abramowitz and Stegun (1964), 26.7.1 and 26.5.27
 * @example
 * studentTProbability(-60, 20) // => 2.340326e-24
 */
export const studentTProbability = (
  t: number,
  degreesOfFreedom: number,
  tail: Tail = "lower",
): number => {
  requirePositive("studentTProbability", "degrees of freedom", degreesOfFreedom);
  if (Number.isNaN(t) || Number.isNaN(degreesOfFreedom)) return NaN;
  if (degreesOfFreedom >= normalFrom) return normalProbability(t, tail);
  const outward = tail === "upper" ? t : -t;
  if (outward === Infinity) return 0;
  if (outward === -Infinity) return 1;
  if (outward === 0) return 0.5;
  if (outward > 0) return 0.5 * twoSided(t, degreesOfFreedom, false);
  return 0.5 + 0.5 * twoSided(t, degreesOfFreedom, true);
};

/** t > 0 with P(T > t) = p, p at most 1/2. */
const outwardQuantile = (p: number, degreesOfFreedom: number): number => {
  const central = p > 0.25;
  const densityTimesX = (t: number): number => {
    if (t > powerLawFrom) return (degreesOfFreedom / 2) * twoSided(t, degreesOfFreedom, false);
    const { x, y, lead } = shares(t, degreesOfFreedom);
    return betaDensityTimesXY(x, y, degreesOfFreedom / 2, 0.5, lead);
  };
  const z = normalQuantile(p, "upper");
  // one term of the Cornish–Fisher series when it is small; otherwise the power-law tail
  const corrected = z * (1 + (z * z + 1) / (4 * degreesOfFreedom));
  const start =
    (z * z + 1) / (4 * degreesOfFreedom) < 1
      ? corrected
      : Math.exp(Math.min(700, -Math.log(2 * p) / degreesOfFreedom)) * Math.sqrt(degreesOfFreedom);
  return solvePositiveQuantile(
    {
      where: "studentTQuantile",
      grows: central,
      start,
      probability: (t) => twoSided(t, degreesOfFreedom, central),
      densityTimesX: (t) => 2 * densityTimesX(t),
    },
    central ? 2 * (0.5 - p) : 2 * p,
  );
};

/**
 * Value that a Student t variable stays below (or above) with the given probability.
 *
 * @param p between 0 and 1; give the small tail as itself rather than one minus it
 * @param degreesOfFreedom above zero, not necessarily whole, may be Infinity
 * @param tail "lower": P(T ≤ t) = p; "upper": P(T > t) = p
 * @returns t; ∓Infinity at 0 and 1, and where the answer exceeds double precision; NaN when an argument is NaN
 * @throws {CallError} "not-a-probability" for p, "not-positive" for the degrees of freedom
 * @source start: Abramowitz and Stegun (1964), 26.7.5; then Newton's method
 * @example
 * studentTQuantile(0.975, 7) // => 2.3646243
 */
export const studentTQuantile = (
  p: number,
  degreesOfFreedom: number,
  tail: Tail = "lower",
): number => {
  requireProbability("studentTQuantile", p);
  requirePositive("studentTQuantile", "degrees of freedom", degreesOfFreedom);
  if (Number.isNaN(p) || Number.isNaN(degreesOfFreedom)) return NaN;
  if (degreesOfFreedom >= normalFrom) return normalQuantile(p, tail);
  const sign = tail === "upper" ? 1 : -1;
  if (p === 0) return sign * Infinity;
  if (p === 1) return -sign * Infinity;
  if (p === 0.5) return 0;
  return p < 0.5
    ? sign * outwardQuantile(p, degreesOfFreedom)
    : -sign * outwardQuantile(1 - p, degreesOfFreedom);
};
