import type {
  Coefficient,
  Interval,
  MultilevelResult,
  PooledResult,
} from "../synthesis/synthesis-results.js";

const isMultilevel = (result: PooledResult | MultilevelResult): result is MultilevelResult =>
  "varianceByLevel" in result;

/** The object that `holdbook pool --json` prints; scripts lean on its names. */
export type PoolJson = Readonly<{
  estimate: number;
  standardError: number;
  interval: Interval;
  predictionInterval: Interval | null;
  betweenVariance: number | null;
  q: number | null;
  iSquaredPercent: number | null;
  effects: number;
  studies: number;
  degreesOfFreedom: number;
  warnings: readonly string[];
  [more: string]: unknown;
}>;

/** The terms of the model; of an average, the average itself, so that a script finds one list in both cases. */
const coefficientsOf = (result: PooledResult | MultilevelResult): readonly Coefficient[] => {
  if (result.coefficients.length > 0) return result.coefficients;
  const { estimate, standardError, interval, degreesOfFreedom, p } = result;
  return [{ term: "intercept", estimate, standardError, interval, degreesOfFreedom, p }];
};

/** How the list under `robust` was made, and what else it gives. */
const robustInference = ({ robust }: MultilevelResult) => {
  if (robust === null) return null;
  const { coefficients: _listed, ...inference } = robust;
  return inference;
};

/**
 * A pooled answer under the names that scripts lean on.
 *
 * `betweenVariance` is the sum of the variance parts when there are several levels.
 *
 * @param warnings  doubts about the file, before those of the model
 */
export const poolJson = (
  result: PooledResult | MultilevelResult,
  warnings: readonly string[],
): PoolJson => ({
  estimate: result.estimate,
  standardError: result.standardError,
  interval: result.interval,
  predictionInterval: result.predictionInterval,
  betweenVariance: result.heterogeneity.betweenVariance,
  q: result.heterogeneity.q,
  iSquaredPercent: result.heterogeneity.iSquaredPercent,
  effects: result.effects,
  studies: result.studies,
  degreesOfFreedom: result.degreesOfFreedom,
  warnings: [...warnings, ...result.story.notes.map(({ message }) => message)],
  p: result.p,
  heterogeneity: result.heterogeneity,
  coefficients: coefficientsOf(result),
  ...(isMultilevel(result)
    ? {
        varianceByLevel: result.varianceByLevel,
        varianceIntervals: result.varianceIntervals,
        iSquaredPercentByLevel: result.iSquaredPercentByLevel,
        robust: result.robust?.coefficients ?? null,
        robustInference: robustInference(result),
        logLikelihood: result.logLikelihood,
      }
    : { hartungKnapp: result.hartungKnapp }),
  omnibus: result.omnibus,
  explainedPercent: result.explainedPercent,
  story: result.story,
});
