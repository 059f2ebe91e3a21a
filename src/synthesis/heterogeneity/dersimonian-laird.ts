import { fitAt, traceOfP, type HeterogeneityEstimator } from "../weighted-problem.js";

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
