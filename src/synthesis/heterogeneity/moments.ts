import {
  fitAt,
  traceOfP,
  unweightedFit,
  weightedFit,
  type HeterogeneityEstimator,
} from "../weighted-problem.js";

/**
 * Between variance by the method of moments on Q: max(0, (Q − (k − p)) / tr P).
 *
 * Simple and without iteration, but too small when heterogeneity is large; shown for comparison.
 *
 * @source DerSimonian and Laird (1986) Controlled Clinical Trials 7:177–188
 */
export const dersimonianLaird: HeterogeneityEstimator = (problem) => {
  const fit = fitAt(problem, 0);
  return Math.max(0, (fit.q - (problem.rows - problem.columns)) / traceOfP(fit));
};

/**
 * Between variance from the unweighted spread: max(0, (RSS − Σ v(1 − h)) / (k − p)).
 *
 * With no moderators: the variance of the estimates minus the mean sampling variance.
 *
 * @source Hedges and Olkin (1985), Statistical Methods for Meta-Analysis, chapter 9
 */
export const hedgesOlkin: HeterogeneityEstimator = (problem) => {
  const fit = unweightedFit(problem);
  let sampling = 0;
  problem.variances.forEach((variance, i) => (sampling += variance * fit.freedoms[i]!));
  return Math.max(0, (fit.q - sampling) / (problem.rows - problem.columns));
};

/**
 * Between variance as the excess of Q over the number of effects: max(0, (Q − k) / Σ w). Too small on average.
 *
 * @source Hunter and Schmidt (2004), Methods of Meta-Analysis; form in Viechtbauer (2005) Journal of
 *   Educational and Behavioral Statistics 30:261–293
 */
export const hunterSchmidt: HeterogeneityEstimator = (problem) => {
  const fit = fitAt(problem, 0);
  const weights = fit.weights.reduce((total, weight) => total + weight, 0);
  return Math.max(0, (fit.q - problem.rows) / weights);
};

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
