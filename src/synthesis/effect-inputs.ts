import { sum } from "simple-statistics";
import type { Effect, EffectSet } from "../effects/effect.js";
import { CallError } from "../errors.js";
import { cholesky, solveCholesky } from "../numeric/cholesky.js";
import { dot } from "../numeric/matrix.js";
import { levelId } from "./level-groups.js";
import { multilevelLevels } from "./multilevel-options.js";
import type { KnownCovariance, SynthesisEffect } from "./synthesis-input.js";

export type EffectInputsOptions = Readonly<{
  /** Values a model may use, by name; a blank value leaves the moderator out of that effect. */
  moderators?: Readonly<Record<string, (effect: Effect) => number | string | undefined>>;
}>;

export type EffectInputs = Readonly<{
  effects: readonly SynthesisEffect[];
  covariances: readonly KnownCovariance[];
}>;

/**
 * A set of effects as the models take it.
 *
 * The outermost level is the cohort, because two papers on the same people are not two studies; arm ids
 * are made unique by the cohort's name, because a register numbers its arms anew in each trial.
 *
 * @param set      effects and their covariance blocks
 * @param options  moderators to carry along
 * @returns effects in the same order, and the covariances among them
 * @source none: a change of form
 */
export const effectInputs = (set: EffectSet, options: EffectInputsOptions = {}): EffectInputs => ({
  effects: set.effects.map((effect) => {
    const moderators = Object.fromEntries(
      Object.entries(options.moderators ?? {}).flatMap(([name, valueOf]) => {
        const value = valueOf(effect);
        return value === undefined ? [] : [[name, value] as const];
      }),
    );
    return {
      effectId: effect.effectId,
      study: effect.cohort,
      arm: `${effect.cohort} / ${effect.arm}`,
      estimate: effect.estimate,
      variance: effect.variance,
      moderators,
    };
  }),
  covariances: set.blocks
    .filter(({ indices }) => indices.length > 1)
    .map(({ indices, values }) => ({ indices, values })),
});

/**
 * The effects that a condition keeps, with the covariances among those that stay at their new positions.
 *
 * @param inputs what a model takes; whatever else it carries stays
 * @param keep called with each effect
 * @source none: a selection
 */
export const inputSubset = <Inputs extends EffectInputs>(
  inputs: Inputs,
  keep: (effect: SynthesisEffect) => boolean,
): Inputs => {
  const position = new Map<number, number>();
  const effects = inputs.effects.filter((effect, index) => {
    const kept = keep(effect);
    if (kept) position.set(index, position.size);
    return kept;
  });
  const covariances = inputs.covariances.flatMap(({ indices, values }) => {
    const places = indices.flatMap((index, place) => (position.has(index) ? [place] : []));
    if (places.length === 0) return [];
    return [
      {
        indices: places.map((place) => position.get(indices[place]!)!),
        values: places.flatMap((row) =>
          places.map((column) => values[row * indices.length + column]!),
        ),
      },
    ];
  });
  return { ...inputs, effects, covariances };
};

/**
 * A study's own average under a model's variances, and how far it may lie from the model's.
 *
 *   ȳ = 1'M⁻¹y / 1'M⁻¹1, variance 1 / 1'M⁻¹1,  M = V + Σ_levels θ_level for effects that share its id
 *
 * @param inputs the effects of the study and the covariances among them
 * @param varianceByLevel θ of a fit, often of one without the study
 * @returns the average and its variance: sampling and spread between true effects together
 * @source none: generalised least squares
 */
export const studyAverage = (
  inputs: EffectInputs,
  varianceByLevel: Readonly<Record<string, number>>,
): Readonly<{ estimate: number; variance: number }> => {
  const { effects, covariances } = inputs;
  const n = effects.length;
  const values = new Float64Array(n * n);
  effects.forEach(({ variance }, i) => (values[i * n + i] = variance));
  for (const { indices, values: known } of covariances) {
    indices.forEach((a, i) => {
      indices.forEach((b, j) => (values[a * n + b] = known[i * indices.length + j]!));
    });
  }
  for (const level of multilevelLevels) {
    const ids = effects.map((effect) => levelId(effect, level));
    ids.forEach((a, i) => {
      ids.forEach((b, j) => {
        if (a === b) values[i * n + j]! += varianceByLevel[level] ?? 0;
      });
    });
  }
  const factor = cholesky({ rows: n, columns: n, values });
  if (factor === undefined || n === 0) {
    throw new CallError({
      code: "bad-covariance",
      where: "studyAverage",
      needs: "effects of one study whose covariances are positive definite",
      got: n === 0 ? "no effect" : "others",
    });
  }
  const weights = solveCholesky(factor, new Float64Array(n).fill(1));
  const total = sum([...weights]);
  return {
    estimate:
      dot(
        weights,
        effects.map(({ estimate }) => estimate),
      ) / total,
    variance: 1 / total,
  };
};
