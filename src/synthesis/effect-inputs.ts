import type { Effect, EffectSet } from "../effects/effect.js";
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
