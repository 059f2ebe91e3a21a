import type { EffectSet } from "../effects/effect.js";
import { ConvergenceError } from "../errors.js";
import { effectInputs } from "../synthesis/effect-inputs.js";
import { fitMultilevel } from "../synthesis/fit-multilevel.js";
import { headlineAnswer } from "../synthesis/headline-answer.js";
import { poolEffects } from "../synthesis/pool-effects.js";
import type { MultilevelResult, PooledResult } from "../synthesis/synthesis-results.js";

/** A pooled average, or the reason why there is none. */
export type PooledAnswer =
  | Readonly<{ kind: "multilevel"; result: MultilevelResult; model: MultilevelResult }>
  | Readonly<{ kind: "single"; result: PooledResult }>
  | Readonly<{ kind: "none"; reason: string }>;

/** The result to show, or undefined when there is none. */
export const shownResult = (answer: PooledAnswer): MultilevelResult | PooledResult | undefined =>
  answer.kind === "none" ? undefined : answer.result;

/**
 * The average of a set of effects as the report gives it.
 *
 * Two effects or more: multilevel model with random intercepts for study, arm and effect, the known
 * covariances, and cluster-robust intervals by study. One effect: that effect. None, or several of a
 * single study: the reason, since arms of one study differ by design and not by chance.
 *
 * @param set  effects of one scale, contrast and outcome family
 */
export const pooledAnswer = (
  set: EffectSet,
  options: Readonly<{ confidence: number }>,
): PooledAnswer => {
  if (set.effects.length === 0) return { kind: "none", reason: "no row reached this scale" };
  const { effects, covariances } = effectInputs(set);
  if (effects.length > 1 && new Set(effects.map(({ study }) => study)).size === 1) {
    return {
      kind: "none",
      reason: `all ${effects.length} effects are of one study; they are shown one by one, and there is nothing to average over studies`,
    };
  }
  if (effects.length === 1) {
    return { kind: "single", result: poolEffects(effects, { confidence: options.confidence }) };
  }
  try {
    const model = fitMultilevel(effects, {
      levels: ["study", "arm", "effect_id"],
      knownCovariances: covariances,
      confidence: options.confidence,
    });
    return { kind: "multilevel", result: headlineAnswer(model), model };
  } catch (error) {
    if (error instanceof ConvergenceError) return { kind: "none", reason: error.message };
    throw error;
  }
};
