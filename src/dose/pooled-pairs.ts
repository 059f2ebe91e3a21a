import { ConvergenceError, refusal, type Refusal } from "../errors.js";
import { fitMultilevel } from "../synthesis/fit-multilevel.js";
import { headlineAnswer } from "../synthesis/headline-answer.js";
import type { KnownCovariance, SynthesisEffect } from "../synthesis/synthesis-input.js";
import type { Interval } from "../synthesis/synthesis-results.js";
import { didNotSettle } from "./identifiability.js";
import type { EqualTensionPair } from "./equal-tension-pairs.js";

/** Average of the pairs, on the effects' scale. */
export type PooledPairs = Readonly<{
  kind: "told";
  estimate: number;
  standardError: number;
  interval: Interval;
  degreesOfFreedom: number;
  p: number;
  predictionInterval: Interval | null;
  /** Variance of the true contrasts, all levels together. */
  betweenVariance: number;
  pairs: number;
  studies: number;
}>;

/** Fewest studies with a pair before pairs are averaged. */
export const fewestPairStudies = 2;

/**
 * The average of the pairs that are counted, with random parts for study and pair and robust errors by study.
 *
 * @param covarianceOf sampling covariance of two pairs
 * @param none the refusal where there is no pair
 * @source Gleser and Olkin (2009) in The Handbook of Research Synthesis, chapter 19 (dependent contrasts);
 *   average as in fitMultilevel and headlineAnswer
 */
export const pooledPairs = (
  pairs: readonly EqualTensionPair[],
  covarianceOf: (a: EqualTensionPair, b: EqualTensionPair) => number,
  confidence: number,
  none: string,
): PooledPairs | Refusal => {
  const free = freeOf(pairs);
  const studies = new Set(free.map(({ study }) => study));
  if (free.length === 0) return refusal("no-pairs", none);
  if (studies.size < fewestPairStudies) {
    return refusal(
      "one-study",
      `only ${[...studies].join("")} has such arms; its pairs stand for themselves, and one study is no average`,
    );
  }
  const effects = free.map((pair, index): SynthesisEffect => ({
    effectId: `pair ${index + 1}`,
    study: pair.study,
    estimate: pair.estimate,
    variance: pair.variance,
  }));
  const covariances = [...studies].flatMap((study): readonly KnownCovariance[] => {
    const indices = free.flatMap((pair, index) => (pair.study === study ? [index] : []));
    return indices.length < 2
      ? []
      : [
          {
            indices,
            values: indices.flatMap((a) => indices.map((b) => covarianceOf(free[a]!, free[b]!))),
          },
        ];
  });
  try {
    const model = fitMultilevel(effects, { knownCovariances: covariances, confidence });
    const { estimate, standardError, interval, degreesOfFreedom, p, predictionInterval } =
      headlineAnswer(model);
    return {
      kind: "told",
      estimate,
      standardError,
      interval,
      degreesOfFreedom,
      p,
      predictionInterval,
      betweenVariance: Object.values(model.varianceByLevel).reduce((sum, part) => sum + part, 0),
      pairs: free.length,
      studies: studies.size,
    };
  } catch (error) {
    if (!(error instanceof ConvergenceError)) throw error;
    return didNotSettle;
  }
};

/** The pairs that are averaged. */
const freeOf = (pairs: readonly EqualTensionPair[]): readonly EqualTensionPair[] =>
  pairs.filter(({ pooled }) => pooled);
