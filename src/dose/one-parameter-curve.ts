/**
 * A gain that starts from a definite place and follows one curved parameter: level × share(x; parameter).
 * Behind the carry-over between joint angles and the course over weeks.
 *
 * Longer than most: the model, its profile and its robust errors are one computation.
 */
import { CallError } from "../errors.js";
import { findRoot } from "../numeric/find-root.js";
import type { Matrix } from "../numeric/matrix.js";
import { minimiseScalar } from "../numeric/minimise-scalar.js";
import { studentTQuantile } from "../numeric/student-t.js";
import type { LikelihoodKind } from "../synthesis/block-likelihood.js";
import type { LikelihoodBlock } from "../synthesis/block-problem.js";
import { biasReducedClusterRobust, type ClusterRobust } from "../synthesis/cluster-robust.js";
import { fitBlocks, type BlockFit } from "../synthesis/fit-blocks.js";
import {
  groupsByText,
  sampledTogether,
  samplingCovariance,
  type LevelGroups,
} from "../synthesis/multilevel-blocks.js";
import type { KnownCovariance, SynthesisEffect } from "../synthesis/synthesis-input.js";
import type { Coefficient } from "../synthesis/synthesis-results.js";
import { robustCoefficient } from "./robust-coefficient.js";
import { column, rowsOf, square } from "./row-matrices.js";
import { studyClusters } from "./study-clusters.js";

/** How the share of the level depends on x; `slope` is its derivative by the parameter's logarithm. */
export type CurveForm = Readonly<{
  share: (x: number, parameter: number) => number;
  /** Absent for a form without a parameter. */
  slope?: (x: number, parameter: number) => number;
  /** Ends between which the parameter is looked for, above 0. */
  range?: Readonly<{ low: number; high: number }>;
}>;

export type CurveRows = Readonly<{
  effects: readonly SynthesisEffect[];
  covariances: readonly KnownCovariance[];
  x: ArrayLike<number>;
  /** What was measured, for each effect: rows of one arm and series share a level. */
  series: readonly string[];
}>;

/** Limits of a parameter; null where the data set none on that side. */
export type OpenInterval = Readonly<{ low: number | null; high: number | null }>;

export type CurveFit = Readonly<{
  /** Where the likelihood is highest; undefined for a form without a parameter. */
  parameter: number | undefined;
  /** The end of the range the parameter ran into. */
  edge: "low" | "high" | undefined;
  /** Limits by profile likelihood, stretched to the robust variance. */
  limits: OpenInterval;
  /** Of the parameter's logarithm; 0 where nothing stands behind it. */
  degreesOfFreedom: number;
  level: Coefficient | undefined;
  /** Gain at a place, with its interval; undefined where no honest one can be given. */
  at: (x: number) => Coefficient | undefined;
  /** Maximum likelihood. */
  logLikelihood: number;
  /** Level, parameter and variances. */
  parameters: number;
  varianceByLevel: Readonly<Record<string, number>>;
}>;

/** Fit of a linearised model, with its robust inference. */
export type ScaledFit = Readonly<{
  fit: BlockFit;
  robust: ClusterRobust | undefined;
}>;

export type ScaledModel = Readonly<{
  /** Names of the random parts, outermost first. */
  levels: readonly string[];
  studies: number;
  fit: (
    shares: ArrayLike<number>,
    design: Matrix,
    options: Readonly<{ likelihood: LikelihoodKind; start?: ArrayLike<number> }>,
  ) => BlockFit;
  robust: (shares: ArrayLike<number>, design: Matrix, fit: BlockFit) => ClusterRobust | undefined;
}>;

const where = "oneParameterCurve";
const gridSize = 28;

/**
 * Effects whose true gains deviate in proportion to the curve: each study, arm and series has its own
 * level, and the curve's shape is shared; what is left deviates by the same amount everywhere.
 *
 *   Var(y) = V + Σ_levels θ_level f f' within groups + θ_effect I,  f = share at each row
 *
 * @source none: preparation for fitBlocks
 */
export const scaledModel = (rows: CurveRows): ScaledModel => {
  const { effects, covariances, series } = rows;
  const n = effects.length;
  const positions = effects.map((_, index) => index);
  const sampling = samplingCovariance(effects, covariances, positions, where);
  const studies = effects.map(({ study }) => study);
  const arms = effects.map(({ study, arm }) => arm ?? `unnamed arm of ${study}`);
  const levels = distinctLevels(
    [
      groupsByText("study", studies),
      groupsByText("arm", arms),
      groupsByText(
        "series",
        series.map((one, row) => `${arms[row]!}\u0000${one}`),
      ),
    ],
    n,
  );
  const clusters = studyClusters(studies, sampling.known);
  const names = [...levels.map(({ level }) => level), "effect_id"];
  const known = clusters.map((members) =>
    square(members, (a, b) => sampledTogether(sampling, a, b)),
  );
  const sum = (fit: BlockFit, shares: ArrayLike<number>, members: readonly number[]): Matrix =>
    square(members, (a, b) => {
      let total = sampledTogether(sampling, a, b);
      levels.forEach(({ groupOf }, part) => {
        if (groupOf[a] === groupOf[b]) total += fit.variances[part]! * shares[a]! * shares[b]!;
      });
      return a === b ? total + fit.variances[levels.length]! : total;
    });
  return {
    levels: names,
    studies: new Set(studies).size,
    fit: (shares, design, { likelihood, start }) => {
      const blocks = clusters.map((members, index): LikelihoodBlock => ({
        y: Float64Array.from(members, (row) => effects[row]!.estimate),
        design: rowsOf(design, members),
        covariance: known[index]!,
        components: [
          ...levels.map(({ groupOf }) =>
            square(members, (a, b) => (groupOf[a] === groupOf[b] ? shares[a]! * shares[b]! : 0)),
          ),
          square(members, (a, b) => (a === b ? 1 : 0)),
        ],
      }));
      return fitBlocks(blocks, {
        likelihood,
        ...(start === undefined ? {} : { starts: [Array.from(start)] }),
      });
    },
    robust: (shares, design, fit) => {
      if (clusters.length < 2) return undefined;
      const p = design.columns;
      const weighted = new Float64Array(n * p);
      const residuals = new Float64Array(n);
      clusters.forEach((members, block) => {
        const from = fit.weightedDesigns[block]!.values;
        members.forEach((row, i) => {
          weighted.set(from.subarray(i * p, (i + 1) * p), row * p);
          residuals[row] = fit.residuals[block]![i]!;
        });
      });
      return biasReducedClusterRobust({
        design,
        weightedDesign: { ...design, values: weighted },
        covariance: fit.covariance,
        residuals,
        clusters,
        covarianceOf: (members) => sum(fit, shares, members),
        crossing: [],
      });
    },
  };
};

/**
 * Level and parameter of a curve by maximum likelihood, with intervals that hold when the dependence inside
 * studies was guessed wrong.
 *
 *   y = A f(x; φ) + f u_study + f u_arm + f u_series + u_effect + e
 *   covariance of (A, ln φ): restricted likelihood at φ̂ on the columns f and A ∂f/∂ln φ, bias-reduced by study
 *   limits of φ: { φ : 2[ℓ(φ̂) − ℓ(φ)] ≤ t²(ν) · max(V_robust, V_restricted)/V_likelihood }
 *
 * with ν the Satterthwaite degrees of freedom of ln φ. The profile keeps the interval's lopsidedness, the
 * stretch gives it the robust width. Every φ of a lattice even on the logarithm is tried, then refined.
 *
 * @param rows  effects, two studies or more
 * @param form  see CurveForm
 * @param confidence coverage, between 0 and 1
 * @throws {ConvergenceError} when the variances do not settle
 * @source Kent (1982) Biometrika 69:19–27 (likelihood ratio under a wrong model); Bell and McCaffrey (2002)
 *   Survey Methodology 28:169–181 (bias-reduced robust errors)
 */
export const oneParameterCurve = (
  rows: CurveRows,
  form: CurveForm,
  confidence: number,
): CurveFit => {
  const model = scaledModel(rows);
  const { x } = rows;
  const n = rows.effects.length;
  const sharesAt = (parameter: number) =>
    Float64Array.from(x, (place) => form.share(place, parameter));
  const likelihood = "maximum-likelihood";
  let start: ArrayLike<number> | undefined;
  const fitAt = (parameter: number): BlockFit => {
    const shares = sharesAt(parameter);
    const fit = model.fit(shares, column(shares), {
      likelihood,
      ...(start === undefined ? {} : { start }),
    });
    start = fit.variances;
    return fit;
  };
  const found = form.range === undefined ? undefined : profiled(fitAt, form.range);
  const parameter = found?.parameter;
  start = undefined;
  const warm = found?.fit;
  const cold = model.fit(sharesAt(parameter ?? 1), column(sharesAt(parameter ?? 1)), {
    likelihood,
  });
  const top = warm !== undefined && warm.logLikelihood > cold.logLikelihood ? warm : cold;
  const level = top.coefficients[0]!;
  const shares = sharesAt(parameter ?? 1);
  const slopeAt = (place: number) =>
    form.slope === undefined || parameter === undefined ? 0 : level * form.slope(place, parameter);
  const withParameter = parameter !== undefined && form.slope !== undefined;
  const p = withParameter ? 2 : 1;
  const design: Matrix = {
    rows: n,
    columns: p,
    values: Float64Array.from({ length: n * p }, (_, at) => {
      const row = Math.floor(at / p);
      return at % p === 0 ? shares[row]! : slopeAt(x[row]!);
    }),
  };
  const inference = restricted(model, shares, design, top, likelihood);
  const gradientAt = (place: number): readonly number[] =>
    withParameter
      ? [form.share(place, parameter), slopeAt(place)]
      : [form.share(place, parameter ?? 1)];
  const at = (place: number): Coefficient | undefined =>
    inference === undefined
      ? undefined
      : robustCoefficient(
          inference.robust,
          gradientAt(place),
          level * form.share(place, parameter ?? 1),
          confidence,
        );
  const ownContrast = withParameter ? [0, 1] : undefined;
  const degreesOfFreedom =
    inference === undefined || ownContrast === undefined
      ? 0
      : inference.robust.degreesOfFreedom(ownContrast);
  const limits =
    found === undefined || inference === undefined || !(degreesOfFreedom >= 1)
      ? { low: null, high: null }
      : limitsOf(found, fitAt, top.logLikelihood, {
          limit: studentTQuantile((1 + confidence) / 2, degreesOfFreedom) ** 2 * inference.stretch,
          start: top.variances,
          reset: (variances) => (start = variances),
        });
  return {
    parameter,
    edge: found?.edge,
    limits,
    degreesOfFreedom,
    level:
      inference === undefined
        ? undefined
        : robustCoefficient(inference.robust, withParameter ? [1, 0] : [1], level, confidence),
    at,
    logLikelihood: top.logLikelihood,
    parameters: 1 + (withParameter ? 1 : 0) + model.levels.length,
    varianceByLevel: Object.fromEntries(
      model.levels.map((name, part) => [name, (inference?.fit ?? top).variances[part]!]),
    ),
  };
};

type Profile = Readonly<{
  parameter: number;
  edge: "low" | "high" | undefined;
  fit: BlockFit;
  /** Places looked at, ascending, with their likelihoods. */
  places: readonly number[];
  heights: readonly number[];
}>;

const profiled = (
  fitAt: (parameter: number) => BlockFit,
  { low, high }: Readonly<{ low: number; high: number }>,
): Profile => {
  const places = Array.from(
    { length: gridSize },
    (_, i) => low * (high / low) ** (i / (gridSize - 1)),
  );
  const fits = places.map(fitAt);
  const heights = fits.map(({ logLikelihood }) => logLikelihood);
  let top = 0;
  heights.forEach((height, i) => {
    if (height > heights[top]!) top = i;
  });
  const refined = minimiseScalar(
    (logarithm) => -fitAt(Math.exp(logarithm)).logLikelihood,
    Math.log(places[Math.max(0, top - 1)]!),
    Math.log(places[Math.min(gridSize - 1, top + 1)]!),
    { tolerance: 1e-7 },
  );
  const better = -refined.value > heights[top]!;
  const parameter = better ? Math.exp(refined.x) : places[top]!;
  const near = (end: number) => Math.abs(Math.log(parameter / end)) < 1e-4;
  return {
    parameter,
    edge: near(low) ? "low" : near(high) ? "high" : undefined,
    fit: better ? fitAt(parameter) : fits[top]!,
    places,
    heights,
  };
};

const limitsOf = (
  { parameter, places, heights }: Profile,
  fitAt: (parameter: number) => BlockFit,
  highest: number,
  options: Readonly<{
    limit: number;
    start: ArrayLike<number>;
    reset: (variances: ArrayLike<number>) => void;
  }>,
): OpenInterval => {
  const { limit } = options;
  const fall = (height: number) => 2 * (highest - height) - limit;
  const side = (direction: 1 | -1): number | null => {
    const outward = places
      .map((place, i) => ({ place, fall: fall(heights[i]!) }))
      .filter(({ place }) => direction * (place - parameter) > 0);
    if (direction === -1) outward.reverse();
    const beyond = outward.findIndex((one) => one.fall > 0);
    if (beyond === -1) return null;
    const inner = beyond === 0 ? parameter : outward[beyond - 1]!.place;
    options.reset(options.start);
    const root = findRoot(
      (logarithm) => fall(fitAt(Math.exp(logarithm)).logLikelihood),
      Math.log(inner),
      Math.log(outward[beyond]!.place),
      { tolerance: 1e-5 },
    );
    return Math.exp(root);
  };
  return { low: side(-1), high: side(1) };
};

/** Restricted fit of the linearised curve with its robust inference; undefined where it cannot be had. */
const restricted = (
  model: ScaledModel,
  shares: Float64Array,
  design: Matrix,
  top: BlockFit,
  likelihood: LikelihoodKind,
) => {
  try {
    const fit = model.fit(shares, design, {
      likelihood: "restricted-maximum-likelihood",
      start: top.variances,
    });
    const robust = model.robust(shares, design, fit);
    if (robust === undefined) return undefined;
    if (design.columns === 1) return { fit, robust, stretch: 1 };
    const full = model.fit(shares, design, { likelihood, start: top.variances });
    const own = (matrix: Matrix) => matrix.values[3]!;
    const stretch = Math.max(own(robust.covariance), own(fit.covariance)) / own(full.covariance);
    return { fit, robust, stretch };
  } catch (error) {
    if (error instanceof CallError && ["aliased-columns", "too-few-rows"].includes(error.code)) {
      return undefined;
    }
    throw error;
  }
};

/** Levels that group the rows each in a way of its own, neither all together nor every row apart. */
const distinctLevels = (levels: readonly LevelGroups[], n: number): readonly LevelGroups[] => {
  const kept: LevelGroups[] = [];
  for (const level of levels) {
    if (level.groups < 2 || level.groups === n) continue;
    // Each level is nested in the one before it, so an equal count of groups is an equal grouping.
    if (kept.some(({ groups }) => groups === level.groups)) continue;
    kept.push(level);
  }
  return kept;
};
