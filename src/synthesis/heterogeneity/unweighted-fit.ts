import { weightedFit, type WeightedFit, type WeightedProblem } from "../weighted-problem.js";

/** Ordinary least-squares fit of the problem: every weight one. */
export const unweightedFit = (problem: WeightedProblem): WeightedFit =>
  weightedFit(problem, new Float64Array(problem.rows).fill(1));
