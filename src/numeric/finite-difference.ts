/** Derivatives of a function of several variables from its values alone. */
import { CallError } from "../errors.js";

export type DifferenceOptions = Readonly<{
  /** Bounds the function must not be asked beyond; one-sided differences are taken beside them. */
  lower?: readonly number[];
  upper?: readonly number[];
  /** Order of the error in the step: two asks f twice for a variable, four asks it four times. */
  order?: 2 | 4;
}>;

const gradientStep = { 2: Math.cbrt(Number.EPSILON), 4: Number.EPSILON ** 0.2 } as const;

/** Room to either side of a place, and the step that fits. */
const stepAt = (
  x: number,
  relative: number,
  low: number,
  high: number,
  reach: number,
): Readonly<{ step: number; side: "both" | "up" | "down" }> => {
  const wanted = relative * Math.max(Math.abs(x), 1);
  // a power-of-two-free step that x + step − x gives back exactly
  const step = x + wanted - x;
  if (x - reach * step >= low && x + reach * step <= high) return { step, side: "both" };
  const up = high - x;
  const down = x - low;
  return up >= down
    ? { step: Math.min(step, up / 4), side: "up" }
    : { step: Math.min(step, down / 4), side: "down" };
};

const moved = (x: readonly number[], changes: readonly (readonly [number, number])[]): number[] => {
  const place = [...x];
  for (const [index, change] of changes) place[index] = (place[index] as number) + change;
  return place;
};

const checked = (where: string, value: number, place: readonly number[]): number => {
  if (!Number.isFinite(value)) {
    throw new CallError({
      code: "not-finite",
      where,
      needs: "a function that is finite around the place",
      got: `${value} at (${place.join(", ")})`,
    });
  }
  return value;
};

/**
 * Gradient of f at x by central differences, of the same order also beside a bound.
 *
 * Relative error about 10⁻¹⁰ for a well-scaled function, 10⁻¹³ with order four.
 *
 * @param f any smooth function
 * @param x the place, one number for each variable
 * @returns as many numbers as x
 * @throws {CallError} "not-finite" when f is not finite at a place needed
 * @source Abramowitz and Stegun (1964), 25.3.21 and 25.3.4; 25.3.6 for order four
 * @example
 * numericalGradient((x) => (x[0] ?? 0) ** 2, [3])[0] // => 6.0000
 */
export const numericalGradient = (
  f: (x: readonly number[]) => number,
  x: readonly number[],
  options: DifferenceOptions = {},
): Float64Array => {
  const gradient = new Float64Array(x.length);
  const order = options.order ?? 2;
  const value = (place: number[]): number => checked("numericalGradient", f(place), place);
  for (let i = 0; i < x.length; i++) {
    const { step, side } = stepAt(
      x[i] as number,
      gradientStep[order],
      options.lower?.[i] ?? -Infinity,
      options.upper?.[i] ?? Infinity,
      order / 2,
    );
    if (step === 0) continue; // bounds leave no room: the variable is fixed
    const offset = (k: number): number => value(moved(x, [[i, k]]));
    if (side === "both") {
      const near = offset(step) - offset(-step);
      gradient[i] =
        order === 2
          ? near / (2 * step)
          : (8 * near - (offset(2 * step) - offset(-2 * step))) / (12 * step);
    } else {
      const h = side === "up" ? step : -step;
      const here = value([...x]);
      const first = offset(h) - here;
      const second = offset(2 * h) - here;
      gradient[i] =
        order === 2
          ? (4 * first - second) / (2 * h)
          : (48 * first - 36 * second + 16 * (offset(3 * h) - here) - 3 * (offset(4 * h) - here)) /
            (12 * h);
    }
  }
  return gradient;
};
