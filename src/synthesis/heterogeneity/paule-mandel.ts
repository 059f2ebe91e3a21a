import type { HeterogeneityEstimator } from "../weighted-problem.js";
import { generalisedQRoot } from "./generalised-q-root.js";

/**
 * Between variance at which the generalised Q equals its degrees of freedom; zero when Q is smaller.
 *
 *   Q(τ²) = k − p       (the empirical-Bayes estimate is the same number)
 *
 * @source Paule and Mandel (1982) Journal of Research of the National Bureau of Standards 87:377–385
 */
export const pauleMandel: HeterogeneityEstimator = (problem) =>
  generalisedQRoot(problem, problem.rows - problem.columns);
