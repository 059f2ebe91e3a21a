/** Q, I², H² and the interval of the between variance in the two-level model. */
import { chiSquaredProbability, chiSquaredQuantile } from "../numeric/chi-squared.js";
import { generalisedQRoot } from "./heterogeneity/paule-mandel.js";
import type { Heterogeneity, Interval } from "./synthesis-results.js";
import { fitAt, traceOfP, type WeightedProblem } from "./weighted-problem.js";

/** Heterogeneity of one effect: nothing can be said. */
export const noHeterogeneity: Heterogeneity = {
  betweenVariance: null,
  betweenVarianceInterval: null,
  q: null,
  qDegreesOfFreedom: 0,
  qP: null,
  iSquaredPercent: null,
  iSquaredInterval: null,
  hSquared: null,
};

/**
 * Interval of the between variance from the generalised Q.
 *
 *   lower: Q(τ²) = χ²(upper tail α/2; k − p),  upper: Q(τ²) = χ²(lower tail α/2; k − p); 0 where there is no root
 *
 * Exact when the effects are normal and the variances known.
 *
 * @source Viechtbauer (2007) Statistics in Medicine 26:37–52
 */
export const betweenVarianceInterval = (problem: WeightedProblem, confidence: number): Interval => {
  const freedom = problem.rows - problem.columns;
  const outside = (1 - confidence) / 2;
  return {
    low: generalisedQRoot(problem, chiSquaredQuantile(outside, freedom, "upper")),
    high: generalisedQRoot(problem, chiSquaredQuantile(outside, freedom)),
  };
};

/**
 * Heterogeneity left after the moderators.
 *
 *   typical variance s² = (k − p)/tr P at τ² = 0;  I² = τ²/(τ² + s²);  H² = (τ² + s²)/s²
 *
 * The bounds of I² are those of τ², transformed.
 *
 * @param betweenVariance the estimate; undefined for the common-effect model, whose I² is (Q − df)/Q
 * @source Higgins and Thompson (2002) Statistics in Medicine 21:1539–1558
 */
export const heterogeneitySummary = (
  problem: WeightedProblem,
  betweenVariance: number | undefined,
  confidence: number,
): Heterogeneity => {
  const freedom = problem.rows - problem.columns;
  if (freedom < 1) return noHeterogeneity;
  const fit = fitAt(problem, 0);
  const typical = freedom / traceOfP(fit);
  const share = (variance: number) => (100 * variance) / (variance + typical);
  const interval = betweenVarianceInterval(problem, confidence);
  const moment = fit.q > 0 ? Math.max(0, (fit.q - freedom) / fit.q) * 100 : 0;
  const iSquaredPercent = betweenVariance === undefined ? moment : share(betweenVariance);
  return {
    betweenVariance: betweenVariance ?? 0,
    betweenVarianceInterval: interval,
    q: fit.q,
    qDegreesOfFreedom: freedom,
    qP: chiSquaredProbability(fit.q, freedom, "upper"),
    iSquaredPercent,
    iSquaredInterval: { low: share(interval.low), high: share(interval.high) },
    hSquared:
      betweenVariance === undefined
        ? Math.max(1, fit.q / freedom)
        : (betweenVariance + typical) / typical,
  };
};
