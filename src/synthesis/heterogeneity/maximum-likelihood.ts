import type { HeterogeneityEstimator } from "../weighted-problem.js";
import { logVariances, scoreMaximum, squaredPull } from "./score-maximum.js";

/**
 * Between variance by maximum likelihood: too small on average, since the coefficients are taken as known.
 *
 *   maximises −½[Σ ln(v + τ²) + Σ w r²];  score ½(Σ w²r² − Σ w)
 *
 * @source Hardy and Thompson (1996) Statistics in Medicine 15:619–629
 */
export const maximumLikelihood: HeterogeneityEstimator = (problem) =>
  scoreMaximum(problem, (fit) => ({
    score: squaredPull(fit) - fit.weights.reduce((total, weight) => total + weight, 0),
    logLikelihood: -0.5 * (logVariances(fit) + fit.q),
  }));
