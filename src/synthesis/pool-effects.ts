/** The pooled average of effects, or their regression on moderators, with independent rows. */
import { CallError, type Note } from "../errors.js";
import { scale as scaledMatrix, type Matrix } from "../numeric/matrix.js";
import { checkChoice, checkConfidence, checkEffects, studyCount } from "./check-effects.js";
import { moderatorDesign, refuseAliased, type ModeratorDesign } from "./design-matrix.js";
import { heterogeneityEstimators, type HeterogeneityName } from "./heterogeneity/estimators.js";
import { heterogeneitySummary, noHeterogeneity } from "./heterogeneity-summary.js";
import {
  contrastEstimate,
  designCentre,
  designInference,
  inferenceOf,
  modelInference,
  predictionRange,
  symmetricInterval,
} from "./inference.js";
import { predictionFreedoms, type PredictionFreedom } from "./inference-choices.js";
import { pooledStory } from "./story.js";
import type { ModeratorTerm, SynthesisEffect } from "./synthesis-input.js";
import type { HartungKnapp, Interval, PooledResult } from "./synthesis-results.js";
import {
  fitAt,
  problemCoefficients,
  problemCovariance,
  weightedProblem,
  type WeightedProblem,
} from "./weighted-problem.js";

export const pooledModels = ["random-effects", "common-effect"] as const;
export const pooledIntervals = [
  "hartung-knapp",
  "hartung-knapp-unguarded",
  "normal",
  "student-t",
] as const;

export type PoolOptions = Readonly<{
  /** One true effect for all studies, or a distribution of effects. */
  model?: (typeof pooledModels)[number];
  /** How the variance between studies is estimated. */
  heterogeneity?: HeterogeneityName;
  /**
   * `hartung-knapp`: residual scale, floored at one, and Student t; `hartung-knapp-unguarded`: the same
   * without the floor; `student-t`: model standard error and Student t; `normal`. The common-effect
   * model answers the first two with `normal`.
   */
  interval?: (typeof pooledIntervals)[number];
  /** Degrees of freedom of the range of a further study: effects − coefficients, or one fewer. */
  predictionDegreesOfFreedom?: PredictionFreedom;
  /** Coverage of every interval, between 0 and 1. */
  confidence?: number;
  moderators?: readonly ModeratorTerm[];
  /** Reference level by categorical moderator; the first in text order where not given. */
  references?: Readonly<Record<string, string>>;
}>;

export const poolDefaults = {
  model: "random-effects",
  heterogeneity: "restricted-maximum-likelihood",
  interval: "hartung-knapp",
  predictionDegreesOfFreedom: "full",
  confidence: 0.95,
  moderators: [],
  references: {},
} as const satisfies Required<PoolOptions>;

type ResolvedPoolOptions = Required<PoolOptions>;

const where = "poolEffects";

/**
 * Pooled average of the effects, each row a study of its own; with moderators, their regression.
 *
 *   y_i = x_i'β + u_i + e_i,  Var(u) = τ²,  Var(e_i) = v_i;  β̂ = (X'WX)⁻¹X'Wy,  w = 1/(v + τ²)
 *   Hartung–Knapp: Cov = q (X'WX)⁻¹ with q = Σ w r²/(k − p), floored at one unless unguarded; t on k − p
 *   range of a further study: estimate ± t √(τ² + SE²)
 *
 * With moderators `estimate` is the prediction at the mean of the design's rows. One effect gives its
 * own estimate with a normal interval and no heterogeneity; two give no prediction interval; three
 * and four an indicative one.
 *
 * @param effects at least one; rows are taken as independent of each other
 * @param options see PoolOptions
 * @returns estimate, intervals, heterogeneity, weights, coefficients, story
 * @throws {CallError} "no-effects", "not-finite", "not-positive", "unknown-choice", "not-a-confidence",
 *   "too-few-effects", and those of the moderators
 * @source Hartung and Knapp (2001) Statistics in Medicine 20:3875–3889; Knapp and Hartung (2003) 22:2693–2710;
 *   Röver, Knapp and Friede (2015) BMC Medical Research Methodology 15:99 (floor); Higgins, Thompson and
 *   Spiegelhalter (2009) Journal of the Royal Statistical Society A 172:137–159 (prediction)
 */
export const poolEffects = (
  effects: readonly SynthesisEffect[],
  options: PoolOptions = {},
): PooledResult => {
  const resolved = resolvePool(effects, options);
  const design = moderatorDesign(effects, resolved, where);
  const rows = design.used.map((index) => effects[index]!);
  const k = rows.length;
  const p = design.matrix.columns;
  if (p > 1 && k <= p) {
    throw new CallError({
      code: "too-few-effects",
      where,
      needs: "more effects than coefficients",
      got: `${k} effects and ${p} coefficients`,
      try: "use fewer moderators",
    });
  }
  const problem = problemOf(rows, design);
  refuseAliased(design, problem.design.aliased, where);
  return k === 1 ? single(rows[0]!, design, resolved) : several(rows, design, problem, resolved);
};

const resolvePool = (
  effects: readonly SynthesisEffect[],
  options: PoolOptions,
): ResolvedPoolOptions => {
  const resolved = { ...poolDefaults, ...options };
  checkEffects(effects, where);
  checkConfidence(resolved.confidence, where);
  checkChoice("model", resolved.model, pooledModels, where);
  checkChoice("interval", resolved.interval, pooledIntervals, where);
  checkChoice("heterogeneity", resolved.heterogeneity, Object.keys(heterogeneityEstimators), where);
  checkChoice(
    "predictionDegreesOfFreedom",
    resolved.predictionDegreesOfFreedom,
    predictionFreedoms,
    where,
  );
  const bare = resolved.interval.startsWith("hartung-knapp") && resolved.model === "common-effect";
  return bare ? { ...resolved, interval: "normal" } : resolved;
};

/** The weighted problem of the rows a design uses. */
const problemOf = (rows: readonly SynthesisEffect[], design: ModeratorDesign): WeightedProblem =>
  weightedProblem(
    rows.map((row) => row.estimate),
    rows.map((row) => row.variance),
    design.matrix,
  );

const single = (
  effect: SynthesisEffect,
  design: ModeratorDesign,
  options: ResolvedPoolOptions,
): PooledResult => {
  const matrix: Matrix = { rows: 1, columns: 1, values: Float64Array.of(effect.variance) };
  const own = modelInference([effect.estimate], matrix, Infinity, options.confidence);
  return {
    ...inferenceOf(designInference(design, own), null),
    heterogeneity: noHeterogeneity,
    weightsPercent: [100],
    explainedPercent: null,
    effects: 1,
    studies: 1,
    story: pooledStory({ rows: [effect], design, options, notes: [], weightsPercent: [100] }),
  };
};

const several = (
  rows: readonly SynthesisEffect[],
  design: ModeratorDesign,
  problem: WeightedProblem,
  options: ResolvedPoolOptions,
): PooledResult => {
  const k = rows.length;
  const p = design.matrix.columns;
  const { confidence } = options;
  const random = options.model === "random-effects";
  const betweenVariance = random ? heterogeneityEstimators[options.heterogeneity](problem) : 0;
  const fit = fitAt(problem, betweenVariance);
  const estimates = problemCoefficients(problem, fit);
  const modelCovariance = problemCovariance(problem, fit);
  const freedom = k - p;
  const scale = fit.q / freedom;
  const residualScale = options.interval.startsWith("hartung-knapp");
  const used = !residualScale
    ? 1
    : options.interval === "hartung-knapp"
      ? Math.max(1, scale)
      : scale;
  const covariance = scaledMatrix(modelCovariance, used);
  const degreesOfFreedom = options.interval === "normal" ? Infinity : freedom;
  const own = designInference(
    design,
    modelInference(estimates, covariance, degreesOfFreedom, confidence),
  );
  const { estimate, standardError } = own.average;
  const modelError = contrastEstimate(
    designCentre(design.matrix),
    estimates,
    modelCovariance,
  ).standardError;
  const weightTotal = fit.weights.reduce((total, weight) => total + weight, 0);
  const weightsPercent = new Array<number>(k).fill(0);
  problem.order.forEach((place, sorted) => {
    weightsPercent[place] = (100 * fit.weights[sorted]!) / weightTotal;
  });
  const heterogeneity = heterogeneitySummary(
    problem,
    random ? betweenVariance : undefined,
    confidence,
  );
  const predictionInterval =
    random && k >= 3
      ? predictionRange(
          { estimate, standardError, degreesOfFreedom: freedom },
          betweenVariance,
          options.predictionDegreesOfFreedom,
          confidence,
        )
      : null;
  const hartungKnapp: HartungKnapp | undefined = residualScale
    ? {
        scale,
        floored: used > scale,
        unguardedStandardError: modelError * Math.sqrt(scale),
        unguardedInterval: symmetricInterval(
          estimate,
          modelError * Math.sqrt(scale),
          freedom,
          confidence,
        ),
      }
    : undefined;
  return {
    ...inferenceOf(own, predictionInterval),
    heterogeneity,
    weightsPercent,
    ...(hartungKnapp === undefined ? {} : { hartungKnapp }),
    explainedPercent: p === 1 || !random ? null : explained(rows, betweenVariance, options),
    effects: k,
    studies: studyCount(rows),
    story: pooledStory({
      rows,
      design,
      options,
      weightsPercent,
      notes: doubts({
        heterogeneity: heterogeneity.betweenVarianceInterval,
        random,
        hartungKnapp,
        normal: symmetricInterval(estimate, modelError, Infinity, confidence),
        k,
      }),
      predicted: predictionInterval !== null,
    }),
  };
};

/** Share of the between variance the moderators take away, per cent; null when there is none to take. */
const explained = (
  rows: readonly SynthesisEffect[],
  left: number,
  options: ResolvedPoolOptions,
): number | null => {
  const bare = moderatorDesign(rows, {}, where);
  const total = heterogeneityEstimators[options.heterogeneity](problemOf(rows, bare));
  return total > 0 ? Math.max(0, (total - left) / total) * 100 : null;
};

const doubts = (
  facts: Readonly<{
    heterogeneity: Interval | null;
    random: boolean;
    hartungKnapp: HartungKnapp | undefined;
    normal: Interval;
    k: number;
  }>,
): readonly Note[] => {
  const notes: Note[] = [];
  if (facts.hartungKnapp?.floored === true) {
    notes.push({
      code: "hartung-knapp-floored",
      message: `the residual scale is ${facts.hartungKnapp.scale.toPrecision(3)}, below one, so one was used; without the floor the interval would be ${written(facts.hartungKnapp.unguardedInterval)}`,
    });
  }
  if (facts.random && facts.k === 2) {
    notes.push({
      code: "two-effects",
      message: `with two effects the variance between studies is almost unidentified; a normal interval would be ${written(facts.normal)}`,
    });
  }
  if (facts.heterogeneity !== null && facts.heterogeneity.high === 0) {
    notes.push({
      code: "no-positive-variance-compatible",
      message:
        "the effects differ less than chance alone would make them: no positive variance between studies is compatible, which is not certainty that there is none",
    });
  }
  return notes;
};

const written = (interval: Interval): string =>
  `${interval.low.toPrecision(4)} to ${interval.high.toPrecision(4)}`;
