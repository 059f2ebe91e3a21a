/** The regularised incomplete gamma function, each tail computed as itself. */
import { devianceTerm, logGamma, stirlingRemainder } from "./log-gamma.js";
import { ConvergenceError } from "../errors.js";
import { requireNotNegative, requirePositive } from "./scalar-guard.js";

const twoPi = 2 * Math.PI;
const smallest = 1e-300;

/** Up to this shape plain powers lose fewer digits in far tails than an exponential of logarithms. */
const powersUpTo = 15;

/**
 * x^shape · exp(−x) / Γ(shape): x times the density of a gamma variable with unit rate.
 *
 * @param shape above zero
 * @param x above zero
 * @returns zero or more
 * @source Loader C (2000), the saddle-point form
 */
export const gammaDensityTimesX = (shape: number, x: number): number => {
  if (shape > powersUpTo) {
    return Math.sqrt(shape / twoPi) * Math.exp(-devianceTerm(shape, x) - stirlingRemainder(shape));
  }
  // exp(−x) in two halves: the first product may be needed where the whole would underflow
  const half = Math.exp(-x / 2);
  return (x ** shape * half * half) / Math.exp(logGamma(shape));
};

const tooLong = (iterations: number): never => {
  throw new ConvergenceError({
    where: "incomplete gamma function",
    iterations,
    lastChange: NaN,
    tolerance: Number.EPSILON,
    try: "use a smaller shape: above about 1e13 the normal distribution serves",
  });
};

/** Lower tail by its series in positive terms; quick for x up to about shape. */
const lowerSeries = (shape: number, x: number): number => {
  let term = 1;
  let total = 1;
  for (let n = 1; n < 5_000_000; n++) {
    term *= x / (shape + n);
    total += term;
    if (term < 1e-17 * total) return (gammaDensityTimesX(shape, x) / shape) * total;
  }
  return tooLong(5_000_000);
};

/** Upper tail by Legendre's continued fraction (Lentz's evaluation); quick for x above shape. */
const upperFraction = (shape: number, x: number): number => {
  let b = x + 1 - shape;
  let c = 1 / smallest;
  let d = 1 / (Math.abs(b) < smallest ? smallest : b);
  let value = d;
  for (let n = 1; n < 5_000_000; n++) {
    const a = -n * (n - shape);
    b += 2;
    d = a * d + b;
    if (Math.abs(d) < smallest) d = smallest;
    c = b + a / c;
    if (Math.abs(c) < smallest) c = smallest;
    d = 1 / d;
    const factor = d * c;
    value *= factor;
    if (Math.abs(factor - 1) < 3e-16) return gammaDensityTimesX(shape, x) * value;
  }
  return tooLong(5_000_000);
};

const bothChecked = (where: string, shape: number, x: number): boolean => {
  requirePositive(where, "shape", shape);
  requireNotNegative(where, "x", x);
  return Number.isNaN(shape) || Number.isNaN(x);
};

/** Below this the series serves; small shapes pass to the fraction earlier to keep the upper tail's digits. */
const seriesReaches = (shape: number, x: number): boolean => x < (shape < 1 ? 1 : shape + 1);

/**
 * P(shape, x) = γ(shape, x)/Γ(shape): probability that a unit-rate gamma variable is at or below x.
 *
 * @param shape above zero
 * @param x zero or more
 * @returns a probability; NaN when either is NaN
 * @throws {CallError} "not-positive" for the shape, "negative" for x
 * @source Abramowitz and Stegun (1964), 6.5.1, 6.5.29, 6.5.31
 * @example
 * incompleteGammaLower(2, 1) // => 0.2642411
 */
export const incompleteGammaLower = (shape: number, x: number): number => {
  if (bothChecked("incompleteGammaLower", shape, x)) return NaN;
  if (x === 0) return 0;
  if (x === Infinity) return 1;
  return seriesReaches(shape, x) ? lowerSeries(shape, x) : 1 - upperFraction(shape, x);
};

/**
 * Q(shape, x) = 1 − P(shape, x): probability that a unit-rate gamma variable is above x.
 *
 * @param shape above zero
 * @param x zero or more
 * @returns a probability; NaN when either is NaN
 * @throws {CallError} "not-positive" for the shape, "negative" for x
 * @source Abramowitz and Stegun (1964), 6.5.3, 6.5.29, 6.5.31
 * @example
 * incompleteGammaUpper(2, 30) // => 2.900863e-12
 */
export const incompleteGammaUpper = (shape: number, x: number): number => {
  if (bothChecked("incompleteGammaUpper", shape, x)) return NaN;
  if (x === 0) return 1;
  if (x === Infinity) return 0;
  return seriesReaches(shape, x) ? 1 - lowerSeries(shape, x) : upperFraction(shape, x);
};
