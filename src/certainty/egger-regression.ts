/** Do small studies show larger effects? A weighted regression of the effects on their standard errors. */
import { CallError, type Note } from "../errors.js";
import { matrixOf, scale as scaledMatrix } from "../numeric/matrix.js";
import { checkConfidence, checkEffects } from "../synthesis/check-effects.js";
import { coefficient } from "../synthesis/inference.js";
import type { SynthesisEffect } from "../synthesis/synthesis-input.js";
import type { Coefficient } from "../synthesis/synthesis-results.js";
import {
  fitAt,
  problemCoefficients,
  problemCovariance,
  weightedProblem,
} from "../synthesis/weighted-problem.js";

export type EggerOptions = Readonly<{
  /**
   * Measure of smallness by effect in place of its standard error, with weights one over its square. For
   * standardised differences √(1/n₁ + 1/n₂), since their standard error contains the effect itself.
   */
  smallness?: readonly number[];
  confidence?: number;
}>;

export const eggerDefaults = { confidence: 0.95 } as const;

export type EggerRegression = Readonly<{
  /** Slope on the standard error: zero when small and large studies agree. */
  bias: Coefficient;
  /** Intercept: the effect of a study without sampling error. Not a corrected estimate. */
  atZeroError: Coefficient;
  /** Residual mean square, Σ w r²/(k − 2). */
  dispersion: number;
  effects: number;
  /** True when there are ten effects of clearly different precision: below that no claim is made. */
  informative: boolean;
  notes: readonly Note[];
}>;

const fewestEffects = 10;
/** Largest over smallest standard error below which precisions count as alike. */
const alikeRatio = 1.5;
const where = "eggerRegression";

/**
 * Egger's regression: effects on their standard errors, weights one over variance, dispersion estimated.
 *
 *   y = b₀ + b₁ · SE, weights 1/SE²;  Cov = φ (X'WX)⁻¹ with φ = Σ w r²/(k − 2), not floored;  t on k − 2
 *
 * The slope equals the intercept of the regression of y/SE on 1/SE. A slope away from zero is asymmetry,
 * which publication bias is only one cause of.
 *
 * @param effects three or more, taken as independent
 * @param options measure of smallness, confidence
 * @returns slope, intercept, dispersion; `informative` false below ten effects or with like precisions
 * @throws {CallError} "too-few-effects", "equal-errors", "bad-smallness" and those of the effects
 * @source Egger, Davey Smith, Schneider and Minder (1997) BMJ 315:629–634; Pustejovsky and Rodgers (2019)
 *   Research Synthesis Methods 10:57–71 (smallness); Sterne et al. (2011) BMJ 343:d4002 (ten studies)
 */
export const eggerRegression = (
  effects: readonly SynthesisEffect[],
  options: EggerOptions = {},
): EggerRegression => {
  const resolved = { ...eggerDefaults, ...options };
  checkEffects(effects, where);
  checkConfidence(resolved.confidence, where);
  const k = effects.length;
  if (k < 3) {
    throw new CallError({
      code: "too-few-effects",
      where,
      needs: "at least three effects",
      got: String(k),
    });
  }
  const sizes = resolved.smallness ?? effects.map((effect) => Math.sqrt(effect.variance));
  if (sizes.length !== k || !sizes.every((size) => size > 0 && Number.isFinite(size))) {
    throw new CallError({
      code: "bad-smallness",
      where,
      needs: "one finite measure of smallness above zero per effect",
      got: `${sizes.length} for ${k} effects`,
    });
  }
  const problem = weightedProblem(
    effects.map((effect) => effect.estimate),
    sizes.map((size) => size * size),
    matrixOf(sizes.map((size) => [1, size])),
  );
  if (problem.design.aliased.length > 0) {
    throw new CallError({
      code: "equal-errors",
      where,
      needs: "standard errors that differ",
      got: `all equal to ${sizes[0]!}`,
    });
  }
  const fit = fitAt(problem, 0);
  const dispersion = fit.q / (k - 2);
  const estimates = problemCoefficients(problem, fit);
  const covariance = scaledMatrix(problemCovariance(problem, fit), dispersion);
  const row = (term: string, j: number) =>
    coefficient(
      term,
      estimates[j]!,
      Math.sqrt(Math.max(0, covariance.values[j * 3]!)),
      k - 2,
      resolved.confidence,
    );
  const notes: Note[] = [];
  if (k < fewestEffects) {
    notes.push({
      code: "too-few-for-asymmetry",
      message: `${k} effects are fewer than ten: the test has too little power for any claim about small-study effects`,
    });
  }
  const alike = Math.max(...sizes) < alikeRatio * Math.min(...sizes);
  if (alike) {
    notes.push({
      code: "like-precisions",
      message:
        "the studies are of much the same precision: large and small ones cannot be compared",
    });
  }
  if (new Set(effects.map((effect) => effect.study)).size < k) {
    notes.push({
      code: "several-effects-per-study",
      message: "some studies give several effects, which are taken as independent here",
    });
  }
  return {
    bias: row("bias", 1),
    atZeroError: row("effect at zero standard error", 0),
    dispersion,
    effects: k,
    informative: k >= fewestEffects && !alike,
    notes,
  };
};
