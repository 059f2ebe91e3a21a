import { findRoot } from "../../numeric/find-root.js";
import {
  fitAt,
  traceOfP,
  type HeterogeneityEstimator,
  type WeightedFit,
  type WeightedProblem,
} from "../weighted-problem.js";

type ScoreAndLikelihood = (fit: WeightedFit) => Readonly<{ score: number; logLikelihood: number }>;

/**
 * The highest point of a likelihood of τ² ≥ 0: every local top found on a grid, then polished.
 *
 * The score is looked at on a logarithmic grid from far below the smallest variance to above any
 * value the data could support; each fall through zero is a local top, solved to rounding; the
 * highest of them and of τ² = 0 is the answer. A likelihood with two tops is therefore no trap.
 *
 * @source none: bracketing and root finding
 */
const scoreMaximum = (problem: WeightedProblem, at: ScoreAndLikelihood): number => {
  const look = (betweenVariance: number) => at(fitAt(problem, betweenVariance));
  const plain = fitAt(problem, 0);
  const smallest = problem.variances[0]!;
  const largest = problem.variances[problem.rows - 1]!;
  const spread = meanSquare(problem);
  const high = 4 * (spread + largest);
  const low = Math.min(smallest, spread > 0 ? spread : smallest) * 1e-4;
  const steps = Math.ceil(Math.log(high / low) / Math.log(1.6));
  const grid = [
    0,
    ...Array.from({ length: steps + 1 }, (_, i) => low * (high / low) ** (i / steps)),
  ];
  let best = { betweenVariance: 0, logLikelihood: at(plain).logLikelihood };
  let before = at(plain).score;
  for (let i = 1; i < grid.length; i++) {
    const here = look(grid[i]!).score;
    if (before > 0 && here <= 0) {
      const top = topBetween(look, [grid[i - 1]!, before], [grid[i]!, here]);
      const { logLikelihood } = look(top);
      if (logLikelihood > best.logLikelihood) best = { betweenVariance: top, logLikelihood };
    }
    before = here;
  }
  return best.betweenVariance;
};

/** The root between two looked-at places, searched on the logarithm where both lie above zero. */
const topBetween = (
  look: (betweenVariance: number) => Readonly<{ score: number }>,
  [low, scoreLow]: readonly [number, number],
  [high, scoreHigh]: readonly [number, number],
): number => {
  if (scoreHigh === 0) return high;
  // the scores at the ends stand as they were seen: rounding must not undo the change of sign
  const score = (betweenVariance: number) =>
    betweenVariance <= low
      ? scoreLow
      : betweenVariance >= high
        ? scoreHigh
        : look(betweenVariance).score;
  if (low === 0) return findRoot(score, 0, high);
  const place = findRoot(
    (x) => score(x === 0 ? low : x === 1 ? high : low * (high / low) ** x),
    0,
    1,
    { tolerance: 1e-15 },
  );
  return low * (high / low) ** place;
};

/** Residual mean square of the unweighted fit. */
const meanSquare = (problem: WeightedProblem): number => {
  const one = fitAt({ ...problem, variances: new Float64Array(problem.rows).fill(1) }, 0);
  return one.q / (problem.rows - problem.columns);
};

/** Σ w² r², the quadratic part of the score: y'PPy. */
const squaredPull = (fit: WeightedFit): number => {
  let total = 0;
  for (let i = 0; i < fit.weights.length; i++) {
    total += (fit.weights[i]! * fit.residuals[i]!) ** 2;
  }
  return total;
};

/** −Σ ln w = Σ ln(v + τ²). */
const logVariances = (fit: WeightedFit): number => {
  let total = 0;
  for (const weight of fit.weights) total -= Math.log(weight);
  return total;
};

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
