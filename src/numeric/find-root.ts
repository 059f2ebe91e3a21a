/** A root of a function of one variable inside a bracket. */
import { type CallErrorCode, CallError, ConvergenceError } from "../errors.js";

export type FindRootOptions = Readonly<{
  /** Width of the final bracket, as part of |x| (or absolute near zero). */
  tolerance?: number;
  maxIterations?: number;
}>;
export const findRootDefaults = {
  tolerance: 1e-14,
  maxIterations: 500,
} as const satisfies Required<FindRootOptions>;

/**
 * x between low and high with f(x) = 0.
 *
 * Brent's mixture of inverse quadratic steps, secant steps and halving. Converges when the bracket is
 * narrower than the tolerance; gives up after `maxIterations`.
 *
 * @param f continuous, of opposite sign at the two ends
 * @param low lower end
 * @param high upper end
 * @throws {CallError} "no-sign-change" when f has one sign at both ends, "not-finite" when f is NaN there
 * @throws {ConvergenceError} when the iterations run out
 * @source Brent RP (1973) Algorithms for Minimization without Derivatives, chapter 4
 * @example
 * findRoot((x) => x * x - 2, 0, 2) // => 1.4142136
 */
export const findRoot = (
  f: (x: number) => number,
  low: number,
  high: number,
  options: FindRootOptions = {},
): number => {
  const tolerance = options.tolerance ?? findRootDefaults.tolerance;
  const maxIterations = options.maxIterations ?? findRootDefaults.maxIterations;
  let previous = low;
  let best = high;
  let fPrevious = f(previous);
  let fBest = f(best);
  const refuse = (code: CallErrorCode, needs: string): never => {
    throw new CallError({
      code,
      where: "findRoot",
      needs,
      got: `${fPrevious} at ${low} and ${fBest} at ${high}`,
      try: "widen the bracket",
    });
  };
  if (Number.isNaN(fPrevious) || Number.isNaN(fBest)) {
    refuse("not-finite", "a function that is a number at both ends");
  }
  if (fPrevious === 0) return previous;
  if (fBest === 0) return best;
  if (fPrevious > 0 === fBest > 0) {
    refuse("no-sign-change", "a function of opposite sign at the two ends");
  }
  let other = previous;
  let fOther = fPrevious;
  let step = best - previous;
  let stepBefore = step;
  for (let iteration = 0; iteration < maxIterations; iteration++) {
    if (fBest > 0 === fOther > 0) {
      other = previous;
      fOther = fPrevious;
      step = best - previous;
      stepBefore = step;
    }
    if (Math.abs(fOther) < Math.abs(fBest)) {
      previous = best;
      best = other;
      other = previous;
      fPrevious = fBest;
      fBest = fOther;
      fOther = fPrevious;
    }
    const enough =
      2 * Number.EPSILON * Math.abs(best) + 0.5 * tolerance * Math.max(Math.abs(best), 1e-300);
    const half = 0.5 * (other - best);
    if (fBest === 0 || Math.abs(half) <= enough) return best;
    let halve = true;
    if (Math.abs(stepBefore) >= enough && Math.abs(fPrevious) > Math.abs(fBest)) {
      const s = fBest / fPrevious;
      let p: number;
      let q: number;
      if (previous === other) {
        p = 2 * half * s;
        q = 1 - s;
      } else {
        const r = fBest / fOther;
        const t = fPrevious / fOther;
        p = s * (2 * half * t * (t - r) - (best - previous) * (r - 1));
        q = (t - 1) * (r - 1) * (s - 1);
      }
      if (p > 0) q = -q;
      p = Math.abs(p);
      if (
        Number.isFinite(p / q) &&
        2 * p < Math.min(3 * half * q - Math.abs(enough * q), Math.abs(stepBefore * q))
      ) {
        stepBefore = step;
        step = p / q;
        halve = false;
      }
    }
    if (halve) {
      step = half;
      stepBefore = half;
    }
    previous = best;
    fPrevious = fBest;
    best += Math.abs(step) > enough ? step : half > 0 ? enough : -enough;
    fBest = f(best);
    if (Number.isNaN(fBest)) {
      throw new CallError({
        code: "not-finite",
        where: "findRoot",
        needs: "a function that is a number inside the bracket",
        got: `NaN at ${best}`,
      });
    }
  }
  throw new ConvergenceError({
    where: "findRoot",
    iterations: maxIterations,
    lastChange: Math.abs(other - best),
    tolerance,
    try: "allow more iterations or a wider tolerance",
  });
};
