/** Quantiles of positive variables, by safeguarded Newton steps in logarithms. */
import { ConvergenceError } from "../errors.js";

/** A tail of a distribution on the positive numbers, and x times its density there. */
export type PositiveTail = Readonly<{
  where: string;
  /** Probability of the tail at x. */
  probability: (x: number) => number;
  /** x times the density at x. */
  densityTimesX: (x: number) => number;
  /** Does the probability grow with x (lower tail) or fall (upper tail)? */
  grows: boolean;
  /** Any positive first guess. */
  start: number;
}>;

const largestLog = 709.78;
/** Below this numbers lose digits: an answer there is given as 0. */
const smallestLog = -708;

/**
 * x above zero at which the tail's probability is p.
 *
 * Newton's method on ln P against ln x, where tails are nearly straight, held inside a bracket that is
 * widened until it encloses the answer and halved whenever a step would leave it. Converges when the
 * step falls below 10⁻¹⁵ of x or no longer shrinks; gives up after 400 steps.
 *
 * @param tail the tail, its density and a first guess
 * @param p above 0 and below 1
 * @returns x; 0 or Infinity when the answer is beyond the range of double precision
 * @throws {ConvergenceError} when 400 steps do not settle
 * @source none: Newton's method with bisection as its safeguard
 */
export const solvePositiveQuantile = (tail: PositiveTail, p: number): number => {
  const target = Math.log(p);
  const direction = tail.grows ? 1 : -1;
  let low = smallestLog;
  let high = largestLog;
  let u = Math.min(Math.max(Math.log(tail.start), -700), 700);
  if (Number.isNaN(u)) u = 0;
  for (let iteration = 0; iteration < 400; iteration++) {
    const x = Math.exp(u);
    const probability = tail.probability(x);
    if (probability === p) return x;
    const tooFar = direction * (probability - p) > 0;
    if (tooFar) high = u;
    else low = u;
    if (high <= smallestLog + 0.5) return 0;
    if (low >= largestLog - 0.1) return Infinity;
    const slope = (direction * tail.densityTimesX(x)) / probability;
    // near the answer the ratio is exact; far from it its logarithm is the straighter path
    const ratio = probability / p;
    const gap =
      ratio > 0.5 && ratio < 2 ? Math.log1p((probability - p) / p) : Math.log(probability) - target;
    let change = -gap / slope;
    const next = u + change;
    const usable = Number.isFinite(change) && next > low && next < high;
    if (Math.abs(change) < 1e-5) {
      // multiply rather than add in logarithms, so that x keeps its last digits
      const refined = refine(tail, p, x * Math.exp(change), direction);
      if (refined !== undefined) return refined;
    }
    if (!usable) {
      if (high - low < 1e-15 * Math.max(1, Math.abs(u))) return x;
      change = (low + high) / 2 - u;
      // geometric widening: do not jump to the far end of the range at once
      if (change > 8 && high === largestLog) change = 8;
      if (change < -8 && low === smallestLog) change = -8;
    }
    u += change;
  }
  throw new ConvergenceError({
    where: tail.where,
    iterations: 400,
    lastChange: high - low,
    tolerance: 1e-15,
    try: "check that the degrees of freedom are of ordinary size",
  });
};

/** Last Newton steps on x itself, from a point already good to ten digits. */
const refine = (
  tail: PositiveTail,
  p: number,
  start: number,
  direction: number,
): number | undefined => {
  let x = start;
  let previous = Infinity;
  for (let iteration = 0; iteration < 6; iteration++) {
    const relative = (direction * (p - tail.probability(x))) / tail.densityTimesX(x);
    const size = Math.abs(relative);
    if (!Number.isFinite(relative) || size > 1e-3) return undefined;
    if (size >= previous) return x;
    x += x * relative;
    if (size < 4e-16) return x;
    previous = size;
  }
  return x;
};
