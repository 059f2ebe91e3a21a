import { traceOfP, type HeterogeneityEstimator } from "../weighted-problem.js";
import { logVariances, scoreMaximum, squaredPull } from "./score-maximum.js";

/**
 * Between variance by restricted maximum likelihood.
 *
 *   maximises −½[Σ ln(v + τ²) + ln|X'WX| + Σ w r²],  w = 1/(v + τ²);  score ½(y'PPy − tr P)
 *
 * Nearly unbiased when the effects are about normal; never negative.
 *
 * @source Raudenbush (2009) in The Handbook of Research Synthesis and Meta-Analysis; Viechtbauer (2005)
 *   Journal of Educational and Behavioral Statistics 30:261–293
 */
export const restrictedMaximumLikelihood: HeterogeneityEstimator = (problem) =>
  scoreMaximum(problem, (fit) => ({
    score: squaredPull(fit) - traceOfP(fit),
    logLikelihood: -0.5 * (logVariances(fit) + fit.logInformation + fit.q),
  }));
