/** Do small studies show larger effects? A regression of the effects on how small their studies are. */
import { CallError, type Note, type Refusal } from "../errors.js";
import { matrixOf, scale as scaledMatrix } from "../numeric/matrix.js";
import { checkConfidence, checkEffects, studyCount } from "../synthesis/check-effects.js";
import { fitMultilevel } from "../synthesis/fit-multilevel.js";
import { headlineAnswer } from "../synthesis/headline-answer.js";
import { modelInference } from "../synthesis/inference.js";
import { showsRobust } from "../synthesis/inference-choices.js";
import type { WorkingModelOptions } from "../synthesis/multilevel-options.js";
import type { SynthesisEffect } from "../synthesis/synthesis-input.js";
import type { Interval, Coefficient } from "../synthesis/synthesis-results.js";
import {
  fitAt,
  problemCoefficients,
  problemCovariance,
  weightedProblem,
} from "../synthesis/weighted-problem.js";

/** How the regression of small studies is asked. */
export type SmallStudyOptions = WorkingModelOptions &
  Readonly<{
    /**
     * People in each arm behind each effect: one number for an arm with itself before, two for a difference
     * between arms. Without it the effects' standard errors are the measure of smallness, which for
     * standardised differences and log ratios contain the effect itself.
     */
    participants?: readonly (readonly number[])[];
    /**
     * `multilevel`: random parts by study and effect, cluster-robust errors. `residual-dispersion`: effects
     * independent, weights one over smallness squared, residual mean square in place of a spread.
     */
    method?: "multilevel" | "residual-dispersion";
  }>;

/** Whether small studies show more: the slope, and what a study of unlimited size would show. */
export type SmallStudyRegression = Readonly<{
  kind: "told";
  /** √(1/effective size), or the standard error. */
  predictor: string;
  /** Change of the effect per unit of the predictor: zero where small and large studies agree. */
  slope: Coefficient;
  /** Where the line ends as studies grow without end. Not a corrected estimate. */
  unlimitedSize: Coefficient;
  /** Smallest and largest value of the predictor. */
  smallness: Interval;
  /** How errors and interval were made. */
  intervalMethod: string;
  effects: number;
  studies: number;
  notes: readonly Note[];
}>;

/** Fewest studies whose sizes are compared (Sterne et al. 2011). */
const fewestSizedStudies = 10;
/** What it means that there are fewer, as the reason ends. */
export const tooFewMeans =
  ", too few to tell whether small studies show larger effects; an average may be too high if small trials without an effect stayed unprinted";
/** Largest over smallest value of the predictor below which sizes count as alike. */
const alikeRatio = 1.5;
const where = "smallStudyRegression";

/**
 * Regression of effects on the smallness of their studies: asymmetry, of which unpublished small trials
 * are only one cause.
 *
 *   y = b₀ + b₁ x + Σ u + e,  x = √(1/ñ), 1/ñ = Σ_arms 1/n  (the standard error where sizes are not known)
 *   multilevel: as fitMultilevel, bias-reduced errors by study, Satterthwaite degrees of freedom
 *   residual-dispersion: weights 1/x²;  Cov = φ (X'WX)⁻¹ with φ = Σ w r²/(k − 2), not floored;  t on k − 2
 *
 * The second, on standard errors, is the classic test for independent effects. Where size has nothing to do with effects, p is
 * below 0.05 in 4.2 to 6.6% of invented files (10 and 20 studies of one to three effects, spread between studies 0 and 0.1,
 * each ± 0.8% or less), and in 3.4 to 5.1% by the second, of effects whose errors do not hold the effect.
 *
 * @param effects one or several per study
 * @param options people per arm, method, and the working model of fitMultilevel
 * @returns slope and end of the line; or why nothing is tested: under ten studies (or independent effects), sizes
 *   alike, or too few studies behind the slope
 * @throws {CallError} "bad-participants" and those of the model
 * @source Egger, Davey Smith, Schneider and Minder (1997) BMJ 315:629–634; Pustejovsky and Rodgers (2019) Research
 *   Synthesis Methods 10:57–71 (sizes for standard errors); Nakagawa et al. (2022) Methods in Ecology and Evolution
 *   (effective size, several levels); Sterne et al. (2011) BMJ 343:d4002 (ten studies)
 */
export const smallStudyRegression = (
  effects: readonly SynthesisEffect[],
  options: SmallStudyOptions = {},
): SmallStudyRegression | Refusal => {
  const { participants, method = "multilevel", ...model } = options;
  const { confidence = 0.95 } = options;
  checkEffects(effects, where);
  checkConfidence(confidence, where);
  const sizes =
    participants === undefined ? standardErrors(effects) : smallness(effects, participants);
  const predictor = participants === undefined ? "standard error" : "√(1/effective size)";
  const independent = method === "residual-dispersion";
  const studies = studyCount(effects);
  const [low, high] = [Math.min(...sizes), Math.max(...sizes)];
  const doubt = refusal(independent ? effects.length : studies, high / low);
  if (doubt !== undefined) return doubt;
  const line = independent
    ? dispersedLine(effects, sizes, confidence)
    : multilevelLine(effects, sizes, predictor, model);
  if ("kind" in line) return line;
  return {
    kind: "told",
    predictor,
    slope: { ...line.slope, term: `per unit of ${predictor}` },
    unlimitedSize: { ...line.end, term: "as studies grow without end" },
    smallness: { low, high },
    intervalMethod: line.intervalMethod,
    effects: effects.length,
    studies,
    notes: line.notes,
  };
};

type Line = Readonly<{
  slope: Coefficient;
  end: Coefficient;
  intervalMethod: string;
  notes: readonly Note[];
}>;

const standardErrors = (effects: readonly SynthesisEffect[]): readonly number[] =>
  effects.map(({ variance }) => Math.sqrt(variance));

const smallness = (
  effects: readonly SynthesisEffect[],
  participants: readonly (readonly number[])[],
): readonly number[] => {
  const bad = effects.findIndex((_, i) => {
    const arms = participants[i] ?? [];
    return arms.length === 0 || arms.some((people) => !(people >= 1 && Number.isFinite(people)));
  });
  if (bad >= 0 || participants.length !== effects.length) {
    throw new CallError({
      code: "bad-participants",
      where,
      needs: "people of at least one arm for every effect, one person or more in each",
      got:
        bad < 0
          ? `${participants.length} entries for ${effects.length} effects`
          : `${participants[bad]?.join(", ") ?? "none"} for effect ${effects[bad]!.effectId}`,
    });
  }
  return participants.map((arms) => Math.sqrt(arms.reduce((sum, people) => sum + 1 / people, 0)));
};

const refusal = (studies: number, ratio: number): Refusal | undefined =>
  studies < fewestSizedStudies
    ? {
        kind: "refusal",
        code: "too-few-for-asymmetry",
        reason: `${studies === 1 ? "1 study is" : `${studies} studies are`} fewer than ten${tooFewMeans}`,
      }
    : ratio < alikeRatio
      ? {
          kind: "refusal",
          code: "like-sizes",
          reason:
            "the studies are of much the same size, so small and large ones cannot be compared",
        }
      : undefined;

const multilevelLine = (
  effects: readonly SynthesisEffect[],
  sizes: readonly number[],
  predictor: string,
  model: WorkingModelOptions,
): Line | Refusal => {
  const rows = effects.map((effect, i) => ({ ...effect, moderators: { [predictor]: sizes[i]! } }));
  const result = headlineAnswer(fitMultilevel(rows, { ...model, moderators: [predictor] }));
  const { notes, intervalMethod } = result.story;
  const carried = result.robust !== null || !showsRobust(result.asked);
  const [slope, end] = [predictor, "intercept"].map((name) =>
    carried ? result.coefficients.find(({ term }) => term === name) : undefined,
  );
  if (slope !== undefined && end !== undefined) return { slope, end, intervalMethod, notes };
  const why = notes.find(
    ({ code }) => code === "rests-on-one-study" || code === "robust-unavailable",
  );
  return {
    kind: "refusal",
    code: why?.code === "rests-on-one-study" ? why.code : "robust-unavailable",
    reason: why?.message ?? "these studies cannot show how sure the line is",
  };
};

const dispersedLine = (
  effects: readonly SynthesisEffect[],
  sizes: readonly number[],
  confidence: number,
): Line => {
  const problem = weightedProblem(
    effects.map(({ estimate }) => estimate),
    sizes.map((size) => size * size),
    matrixOf(sizes.map((size) => [1, size])),
  );
  const fit = fitAt(problem, 0);
  const freedom = effects.length - 2;
  const line = modelInference(
    problemCoefficients(problem, fit),
    scaledMatrix(problemCovariance(problem, fit), fit.q / freedom),
    freedom,
    confidence,
  );
  const repeated = studyCount(effects) < effects.length;
  return {
    slope: line.of("slope", [0, 1]),
    end: line.of("end", [1, 0]),
    intervalMethod: "Student t with effects − 2 degrees of freedom, residual dispersion",
    notes: repeated
      ? [
          {
            code: "several-effects-per-study",
            message: "some studies give several effects, which are taken as independent here",
          },
        ]
      : [],
  };
};
