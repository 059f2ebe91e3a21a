/**
 * A gain that starts from a definite place and follows one curved parameter: level × share(x; parameter).
 * Behind the carry-over between joint angles and the course over weeks.
 */
import { CallError } from "../errors.js";
import type { Matrix } from "../numeric/matrix.js";
import { studentTQuantile } from "../numeric/student-t.js";
import type { LikelihoodKind } from "../synthesis/block-likelihood.js";
import type { BlockFit } from "../synthesis/fit-blocks.js";
import type { Interval, Coefficient } from "../synthesis/synthesis-results.js";
import { curveProfile, profileLimits, type OpenInterval } from "./curve-profile.js";
import { robustCoefficient } from "./robust-coefficient.js";
import { column } from "./row-matrices.js";
import { scaledModel, type CurveRows, type ScaledModel } from "./scaled-model.js";

/** How the share of the level depends on x; `slope` is its derivative by the parameter's logarithm. */
export type CurveForm = Readonly<{
  share: (x: number, parameter: number) => number;
  /** Absent for a form without a parameter. */
  slope?: (x: number, parameter: number) => number;
  /** Ends between which the parameter is looked for, above 0. */
  range?: Interval;
}>;

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
  const found = form.range === undefined ? undefined : curveProfile(fitAt, form.range);
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
      : profileLimits(found, fitAt, top.logLikelihood, {
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
