import { fitAt, type HeterogeneityEstimator } from "../weighted-problem.js";

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
