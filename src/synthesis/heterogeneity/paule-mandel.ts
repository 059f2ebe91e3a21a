import { findRoot } from "../../numeric/find-root.js";
import { fitAt, type HeterogeneityEstimator, type WeightedProblem } from "../weighted-problem.js";

/**
 * Between variance at which the generalised Q equals its degrees of freedom; zero when Q is smaller.
 *
 *   Q(τ²) = k − p       (the empirical-Bayes estimate is the same number)
 *
 * @source Paule and Mandel (1982) Journal of Research of the National Bureau of Standards 87:377–385
 */
export const pauleMandel: HeterogeneityEstimator = (problem) =>
  generalisedQRoot(problem, problem.rows - problem.columns);

/**
 * The between variance at which the generalised Q equals a target; zero when Q is below it already.
 *
 *   Q(τ²) = Σ (y − x'β̂(τ²))² / (v + τ²), falling in τ²
 *
 * @param target above zero
 * @returns τ², the root of Q(τ²) = target, or zero
 * @source Viechtbauer (2007) Statistics in Medicine 26:37–52; Paule and Mandel (1982)
 */
export const generalisedQRoot = (problem: WeightedProblem, target: number): number => {
  const excess = (betweenVariance: number) => fitAt(problem, betweenVariance).q - target;
  if (!(excess(0) > 0)) return 0;
  const smallest = problem.variances[0]!;
  let low = 0;
  let high = smallest;
  while (excess(high) > 0) {
    low = high;
    high *= 4;
  }
  if (low === 0) {
    return findRoot(excess, 0, high);
  }
  const [excessLow, excessHigh] = [excess(low), excess(high)];
  if (!(excessLow > 0)) return low;
  const place = findRoot(
    (x) => (x === 0 ? excessLow : x === 1 ? excessHigh : excess(low * (high / low) ** x)),
    0,
    1,
    { tolerance: 1e-15 },
  );
  return low * (high / low) ** place;
};
