import type { Interval, MultilevelResult, PooledResult } from "../synthesis/synthesis-results.js";

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
  ...(isMultilevel(result)
    ? {
        varianceByLevel: result.varianceByLevel,
        varianceIntervals: result.varianceIntervals,
        iSquaredPercentByLevel: result.iSquaredPercentByLevel,
        robust: result.robust,
        logLikelihood: result.logLikelihood,
      }
    : { hartungKnapp: result.hartungKnapp }),
  coefficients: result.coefficients,
  omnibus: result.omnibus,
  explainedPercent: result.explainedPercent,
  story: result.story,
});
