import { unweightedFit, weightedFit, type HeterogeneityEstimator } from "../weighted-problem.js";

/**
 * Between variance in two steps; above zero whenever the estimates differ, so too large when they hardly do.
 *
 *   t₀ = RSS/k (unweighted);  q = 1/(v/t₀ + 1);  τ² = Σ q (y − x'β̂_q)² / (k − p)
 *
 * @source Sidik and Jonkman (2005) Journal of the Royal Statistical Society C 54:367–384
 */
export const sidikJonkman: HeterogeneityEstimator = (problem) => {
  const start = unweightedFit(problem).q / problem.rows;
  if (!(start > 0)) return 0;
  const weights = problem.variances.map((variance) => 1 / (variance / start + 1));
  return weightedFit(problem, weights).q / (problem.rows - problem.columns);
};
