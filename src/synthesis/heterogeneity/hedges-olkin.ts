import { unweightedFit, type HeterogeneityEstimator } from "../weighted-problem.js";

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
