/** Sums and plain descriptions of a list of numbers. */
import { CallError } from "../errors.js";
import { requireProbability } from "./scalar-guard.js";

const requireMany = (where: string, values: ArrayLike<number>, least: number): void => {
  if (values.length < least) {
    throw new CallError({
      code: "too-few-values",
      where,
      needs: least === 1 ? "at least one value" : "at least two values",
      got: String(values.length),
    });
  }
};

/**
 * Sum of the values, with the rounding of each addition carried along and added at the end.
 *
 * @param values any numbers; the empty sum is 0
 * @source Neumaier A (1974) Zeitschrift für Angewandte Mathematik und Mechanik 54:39–51
 * @example
 * sum([1e16, 1, -1e16]) // => 1
 */
export const sum = (values: ArrayLike<number>): number => {
  let total = 0;
  let lost = 0;
  for (let i = 0; i < values.length; i++) {
    const value = values[i] as number;
    const next = total + value;
    lost += Math.abs(total) >= Math.abs(value) ? total - next + value : value - next + total;
    total = next;
  }
  return Number.isFinite(total) ? total + lost : total;
};

/**
 * Arithmetic mean.
 * @param values at least one number
 * @throws {CallError} "too-few-values" when empty
 * @source none: a definition
 */
export const mean = (values: ArrayLike<number>): number => {
  requireMany("mean", values, 1);
  return sum(values) / values.length;
};

/**
 * Sample variance, Σ(x − mean)²/(n − 1).
 * @param values at least two numbers
 * @throws {CallError} "too-few-values" when fewer than two
 * @source none: a definition; two passes, so that a large mean costs no digits
 * @example
 * sampleVariance([1, 2, 3, 4]) // => 1.6666667
 */
export const sampleVariance = (values: ArrayLike<number>): number => {
  requireMany("sampleVariance", values, 2);
  const centre = mean(values);
  return sum(Float64Array.from(values, (value) => (value - centre) ** 2)) / (values.length - 1);
};

/**
 * Quantile of a list by linear interpolation between order statistics.
 *
 * The value at place (n − 1)·p of the sorted list counted from 0 (definition 7 of the source).
 *
 * @param values at least one number, any order
 * @param p between 0 and 1
 * @throws {CallError} "too-few-values" when empty, "not-a-probability" for p
 * @source Hyndman RJ, Fan Y (1996) The American Statistician 50:361–365, definition 7
 * @example
 * quantile([1, 2, 3, 4], 0.5) // => 2.5
 */
export const quantile = (values: ArrayLike<number>, p: number): number => {
  requireMany("quantile", values, 1);
  requireProbability("quantile", p);
  const sorted = Float64Array.from(values).sort();
  const place = (sorted.length - 1) * p;
  const below = Math.floor(place);
  const low = sorted[below];
  const high = sorted[Math.min(below + 1, sorted.length - 1)];
  if (low === undefined || high === undefined) return NaN;
  return low === high ? low : low + (place - below) * (high - low);
};
