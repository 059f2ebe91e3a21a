/** The least value of a function of one variable inside an interval. */
import { CallError } from "../errors.js";

export type MinimiseScalarOptions = Readonly<{
  /** Distance in x, as part of |x|, at which the search stops; below 10⁻⁸ rounding rules. */
  tolerance?: number;
  maxIterations?: number;
}>;
export const minimiseScalarDefaults = {
  tolerance: 1e-8,
  maxIterations: 200,
} as const satisfies Required<MinimiseScalarOptions>;

export type ScalarMinimum = Readonly<{
  x: number;
  value: number;
  iterations: number;
  converged: boolean;
}>;

/** Pieces of the grid that is asked when f is infinitely high at the first place. */
const gridSteps = 100;
const goldenPart = (3 - Math.sqrt(5)) / 2;

/**
 * A local minimum of f between low and high; the minimum when f has only one.
 *
 * Golden sections, with parabolic steps where they help; the two ends are tried as well, so that a
 * minimum on the border is returned exactly. A value of NaN counts as infinitely high,
 * and ground that is finite is then looked for on a grid of a hundred steps. Converges when
 * the interval is narrower than twice the tolerance; otherwise `converged` is false.
 *
 * @param f defined from low to high
 * @param low finite
 * @param high finite, above low
 * @returns the place, the value there, the iterations used and whether the search settled
 * @throws {CallError} "bad-interval" when the ends are not finite and in order
 * @source Brent RP (1973) Algorithms for Minimization without Derivatives, chapter 5
 * @example
 * minimiseScalar((x) => (x - 2) ** 2, 0, 5).x // => 2
 */
export const minimiseScalar = (
  f: (x: number) => number,
  low: number,
  high: number,
  options: MinimiseScalarOptions = {},
): ScalarMinimum => {
  if (!(Number.isFinite(low) && Number.isFinite(high) && low <= high)) {
    throw new CallError({
      code: "bad-interval",
      where: "minimiseScalar",
      needs: "two finite ends in order",
      got: `${low} to ${high}`,
    });
  }
  const tolerance = options.tolerance ?? minimiseScalarDefaults.tolerance;
  const maxIterations = options.maxIterations ?? minimiseScalarDefaults.maxIterations;
  const safe = (place: number): number => {
    const value = f(place);
    return Number.isNaN(value) ? Infinity : value;
  };
  let a = low;
  let b = high;
  let x = a + goldenPart * (b - a);
  let fx = safe(x);
  if (fx === Infinity) {
    // infinitely high where the search would begin: look for firmer ground on a grid
    const spacing = (high - low) / gridSteps;
    for (let k = 0; k <= gridSteps; k++) {
      const place = k === gridSteps ? high : low + k * spacing;
      const value = safe(place);
      if (value < fx) {
        x = place;
        fx = value;
        a = Math.max(low, place - spacing);
        b = Math.min(high, place + spacing);
      }
    }
  }
  let second = x;
  let third = x;
  let fSecond = fx;
  let fThird = fx;
  let step = 0;
  let stepBefore = 0;
  let converged = false;
  let iterations = 0;
  while (iterations < maxIterations) {
    const middle = (a + b) / 2;
    const near = tolerance * Math.abs(x) + 1e-12 * (high - low) + 1e-300;
    if (Math.abs(x - middle) <= 2 * near - (b - a) / 2) {
      converged = true;
      break;
    }
    iterations++;
    let golden = true;
    if (Math.abs(stepBefore) > near) {
      const r = (x - second) * (fx - fThird);
      let q = (x - third) * (fx - fSecond);
      let p = (x - third) * q - (x - second) * r;
      q = 2 * (q - r);
      if (q > 0) p = -p;
      q = Math.abs(q);
      const limit = stepBefore;
      stepBefore = step;
      if (Math.abs(p) < Math.abs(0.5 * q * limit) && p > q * (a - x) && p < q * (b - x)) {
        step = p / q;
        const u = x + step;
        if (u - a < 2 * near || b - u < 2 * near) step = x < middle ? near : -near;
        golden = false;
      }
    }
    if (golden) {
      stepBefore = x < middle ? b - x : a - x;
      step = goldenPart * stepBefore;
    }
    const u = x + (Math.abs(step) >= near ? step : step > 0 ? near : -near);
    const fu = safe(u);
    if (fu <= fx) {
      if (u < x) b = x;
      else a = x;
      [third, fThird, second, fSecond, x, fx] = [second, fSecond, x, fx, u, fu];
    } else {
      if (u < x) a = u;
      else b = u;
      if (fu <= fSecond || second === x) {
        [third, fThird, second, fSecond] = [second, fSecond, u, fu];
      } else if (fu <= fThird || third === x || third === second) {
        third = u;
        fThird = fu;
      }
    }
  }
  for (const end of [low, high]) {
    const value = safe(end);
    if (value < fx || (value === fx && Math.abs(end - x) <= 4 * tolerance * Math.abs(x))) {
      x = end;
      fx = value;
    }
  }
  return { x, value: fx, iterations, converged: converged && fx < Infinity };
};
