/** The multilevel model: nested random intercepts, known sampling covariances, moderators. */
import { CallError, type Note } from "../errors.js";
import { chiSquaredProbability } from "../numeric/chi-squared.js";
import { multiplyVector } from "../numeric/matrix.js";
import { studyCount } from "./check-effects.js";
import { fitBlocks } from "./fit-blocks.js";
import { fittedMultilevel, type FittedMultilevel } from "./fitted-multilevel.js";
import {
  designCentre,
  designInference,
  inferenceOf,
  modelInference,
  predictionRange,
} from "./inference.js";
import { multilevelBlocks } from "./multilevel-blocks.js";
import {
  resolveMultilevel,
  type MultilevelOptions,
  type ResolvedMultilevelOptions,
} from "./multilevel-options.js";
import { multilevelRobust } from "./multilevel-robust.js";
import { multilevelStory } from "./story.js";
import { profileLikelihoodInterval } from "./profile-likelihood-interval.js";
import type { SynthesisEffect } from "./synthesis-input.js";
import type { Heterogeneity, Interval, MultilevelResult } from "./synthesis-results.js";
import { fitAt, traceOfP, weightedProblem } from "./weighted-problem.js";

const where = "fitMultilevel";

/**
 * Average of dependent effects, or their regression, with random intercepts at several levels.
 *
 *   y = Xβ + Σ_levels u_level + e,  Var(u_level) = θ_level per group,  Var(e) = V known, block by block
 *
 * Ids are taken as they stand: effects with the same text at a level share its random intercept, also
 * across studies (with a warning). Variance parts at zero are ordinary answers. With moderators
 * `estimate` is the prediction at the mean of the design's rows.
 *
 *   I² of a level = θ_level / (Σ θ + s²),  s² = (n − p)/tr P of the sampling variances alone
 *   range of a further study: estimate ± quantile · √(SE² + Σ θ)
 *   explained: fall of Σ θ against the model without moderators, same effects, same likelihood
 *
 * Converges as fitBlocks does.
 *
 * @param effects two or more than the coefficients
 * @param options see MultilevelOptions
 * @returns estimate, model-based intervals, variance by level, weights, cluster-robust inference beside it, story;
 *   headlineAnswer puts the robust inference first
 * @throws {CallError} for options, effects, moderators or covariances that cannot be used
 * @throws {ConvergenceError} when the variance parts do not settle
 * @source Konstantopoulos (2011) Research Synthesis Methods 2:61–76; Van den Noortgate et al. (2013) Behavior
 *   Research Methods 45:576–594; Pustejovsky and Tipton (2022) Prevention Science 23:425–438
 */
export const fitMultilevel = (
  effects: readonly SynthesisEffect[],
  options: MultilevelOptions = {},
): MultilevelResult => {
  const resolved = resolveMultilevel(effects, options, where);
  return multilevelResult(fittedMultilevel(effects, resolved, where), resolved);
};

const multilevelResult = (
  fitted: FittedMultilevel,
  options: ResolvedMultilevelOptions,
): MultilevelResult => {
  const { rows, design, fit, varianceByLevel } = fitted;
  const { confidence } = options;
  const n = rows.length;
  const p = design.matrix.columns;
  const degreesOfFreedom = options.interval === "normal" ? Infinity : n - p;
  const own = designInference(
    design,
    modelInference(fit.coefficients, fit.covariance, degreesOfFreedom, confidence),
  );
  const total = Object.values(varianceByLevel).reduce((sum, variance) => sum + variance, 0);
  const typical = typicalVariance(fitted);
  const iSquaredPercentByLevel: Record<string, number> = {};
  for (const [level, variance] of Object.entries(varianceByLevel)) {
    iSquaredPercentByLevel[level] = (100 * variance) / (total + typical);
  }
  const robust = multilevelRobust(fitted, options);
  const profiled = options.profileIntervals ? varianceIntervals(fitted, options) : undefined;
  const studies = studyCount(rows);
  const predictionInterval =
    studies >= fewestForPrediction
      ? predictionRange(own.average, total, options.predictionDegreesOfFreedom, confidence)
      : null;
  const weightsPercent = weightsOf(fitted);
  return {
    ...inferenceOf(own, predictionInterval),
    varianceByLevel,
    varianceIntervals: profiled?.intervals ?? null,
    iSquaredPercentByLevel,
    heterogeneity: heterogeneityOf(fitted, total, typical),
    weightsPercent,
    robust: robust.result,
    explainedPercent: p === 1 ? null : explained(fitted, options, total),
    logLikelihood: fit.logLikelihood,
    effects: n,
    studies,
    asked: {
      interval: options.interval,
      robust: options.robust,
      predictionDegreesOfFreedom: options.predictionDegreesOfFreedom,
    },
    story: multilevelStory({
      fitted,
      options,
      weightsPercent,
      notes: [...robust.notes, ...(profiled?.notes ?? [])],
      predicted: predictionInterval !== null,
    }),
  };
};

/** Fewest studies with a range for a further one. */
const fewestForPrediction = 3;

/** 100 · M⁻¹X C x̄, C = (X'M⁻¹X)⁻¹: what each effect counts in the average. */
const weightsOf = ({ fit, design, weightedDesign }: FittedMultilevel): readonly number[] => {
  const { rows, columns, values } = weightedDesign;
  const image = multiplyVector(fit.covariance, designCentre(design.matrix));
  return Array.from({ length: rows }, (_, row) => {
    let weight = 0;
    for (let j = 0; j < columns; j++) weight += values[row * columns + j]! * image[j]!;
    return 100 * weight;
  });
};

/** s² = (n − p)/tr P with the sampling variances alone. */
const typicalVariance = (fitted: FittedMultilevel): number => {
  const problem = weightedProblem(
    fitted.rows.map((row) => row.estimate),
    Array.from(fitted.sampling.variances),
    fitted.design.matrix,
  );
  return (problem.rows - problem.columns) / traceOfP(fitAt(problem, 0));
};

const heterogeneityOf = (
  fitted: FittedMultilevel,
  total: number,
  typical: number,
): Heterogeneity => {
  const { blocks, levels, rows, design } = fitted;
  const bare = fitBlocks(blocks.blocks, {
    sharedIntercepts: blocks.sharedIntercepts,
    fixed: levels.fitted.map(() => 0),
  });
  let q = 0;
  bare.residuals.forEach((values, block) => {
    values.forEach((value, i) => (q += value * bare.weightedResiduals[block]![i]!));
  });
  const freedom = rows.length - design.matrix.columns;
  return {
    betweenVariance: total,
    betweenVarianceInterval: null,
    q,
    qDegreesOfFreedom: freedom,
    qP: chiSquaredProbability(Math.max(0, q), freedom, "upper"),
    iSquaredPercent: (100 * total) / (total + typical),
    iSquaredInterval: null,
    hSquared: (total + typical) / typical,
  };
};

const varianceIntervals = (
  fitted: FittedMultilevel,
  options: ResolvedMultilevelOptions,
): Readonly<{ intervals: Readonly<Record<string, Interval>>; notes: readonly Note[] }> => {
  const intervals: Record<string, Interval> = {};
  const notes: Note[] = [];
  fitted.levels.fitted.forEach((groups, part) => {
    try {
      intervals[groups.level] = profileLikelihoodInterval(
        fitted.blocks.blocks,
        fitted.fit,
        part,
        options.confidence,
        {
          likelihood: options.heterogeneity,
          sharedIntercepts: fitted.blocks.sharedIntercepts,
          maxIterations: options.maxIterations,
        },
      );
    } catch (error) {
      if (!(error instanceof CallError) || error.code !== "flat-likelihood") throw error;
      notes.push({
        code: "flat-likelihood",
        message: `the likelihood sets no upper limit to the variance at level ${groups.level}, so it has no interval`,
      });
    }
  });
  return { intervals, notes };
};

/** Share of the variance over all levels that the moderators take away; null when there is none. */
const explained = (
  fitted: FittedMultilevel,
  options: ResolvedMultilevelOptions,
  left: number,
): number | null => {
  const n = fitted.rows.length;
  const blocks = multilevelBlocks(
    Float64Array.from(fitted.rows, (row) => row.estimate),
    { rows: n, columns: 1, values: new Float64Array(n).fill(1) },
    fitted.sampling,
    fitted.levels.fitted,
  );
  const bare = fitBlocks(blocks.blocks, {
    likelihood: options.heterogeneity,
    sharedIntercepts: blocks.sharedIntercepts,
    maxIterations: options.maxIterations,
  });
  const total = bare.variances.reduce((sum, variance) => sum + variance, 0);
  return total > 0 ? Math.max(0, (total - left) / total) * 100 : null;
};
