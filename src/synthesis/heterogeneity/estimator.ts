import type { WeightedProblem } from "../weighted-problem.js";

/**
 * Between-study variance of a two-level model: zero or more, in the squared unit of the estimates.
 *
 * One signature for every way of estimating it; X is the problem's design, P = W − WX(X'WX)⁻¹X'W.
 */
export type HeterogeneityEstimator = (problem: WeightedProblem) => number;
