/** What the pooled result becomes when each effect, or each study, is left out. */
import { CallError } from "../errors.js";
import { chiSquaredProbability } from "../numeric/chi-squared.js";
import { fitMultilevel } from "../synthesis/fit-multilevel.js";
import type { MultilevelOptions } from "../synthesis/multilevel-options.js";
import { poolEffects, type PoolOptions } from "../synthesis/pool-effects.js";
import { covariancesWithout, effectsWithout } from "../synthesis/leave-out.js";
import type { SynthesisEffect } from "../synthesis/synthesis-input.js";
import type { Interval, PooledResult } from "../synthesis/synthesis-results.js";

export type InfluenceModel =
  | Readonly<{ kind: "pooled"; options: PoolOptions }>
  | Readonly<{ kind: "multilevel"; options: MultilevelOptions }>;

export type InfluenceOptions = Readonly<{
  /** The model the result came from. */
  model?: InfluenceModel;
  /** What is left out at a time. */
  leaveOut?: "effect" | "study";
}>;

export const influenceDefaults = {
  model: { kind: "pooled", options: {} },
  leaveOut: "study",
} as const satisfies Required<InfluenceOptions>;

/** Case diagnostics of one effect in an average without moderators. */
export type CaseDiagnostics = Readonly<{
  /** Share of the weight, w/Σw. */
  leverage: number;
  /** (y − estimate without it) over its standard error, between variance refitted. */
  studentisedResidual: number;
  /** Squared shift of the estimate over its variance. */
  cooksDistance: number;
  /** Shift of the estimate over √(leverage · (refitted between variance + sampling variance)). */
  standardisedShift: number;
  /** Variance of the estimate without the effect over that with it. */
  covarianceRatio: number;
  /** Which of the customary limits are passed; a flag is a reason to look, not to delete. */
  flags: readonly ("outlying" | "high leverage" | "shifts the estimate" | "far from the rest")[];
}>;

export type LeftOut = Readonly<{
  /** The effect or study left out. */
  name: string;
  effects: number;
  estimate: number;
  standardError: number;
  interval: Interval;
  betweenVariance: number | null;
  /** True when the interval excludes zero without it and not with it, or the reverse, or the sign turns. */
  changesConclusion: boolean;
  /** Present for single effects of an average without moderators. */
  diagnostics?: CaseDiagnostics;
}>;

export type Influence = Readonly<{
  leftOut: readonly LeftOut[];
  /** Smallest and largest estimate over all that were left out. */
  range: Interval;
}>;

const where = "influence";

/**
 * The result with each effect or study left out in turn; heterogeneity is estimated anew each time.
 *
 *   studentised residual (y_i − μ₍ᵢ₎)/√(v_i + τ²₍ᵢ₎ + SE₍ᵢ₎²);  Cook (μ − μ₍ᵢ₎)²/SE²;
 *   shift (μ − μ₍ᵢ₎)/√(h_i (τ²₍ᵢ₎ + v_i));  ratio SE₍ᵢ₎²/SE², SE the model's own
 *
 * Flags: |studentised| > 1.96; leverage > 3/k; |shift| > 3/√(k − 1); χ²₁ probability of Cook's distance ≥ 0.5.
 *
 * @param effects at least two effects (or studies) must be there to leave one out
 * @param options model and what to leave out
 * @returns one line per effect or study, in order of first appearance
 * @throws {CallError} "nothing-left" when only one would be there
 * @source Viechtbauer and Cheung (2010) Research Synthesis Methods 1:112–125
 */
export const influence = (
  effects: readonly SynthesisEffect[],
  options: InfluenceOptions = {},
): Influence => {
  const resolved: Required<InfluenceOptions> = { ...influenceDefaults, ...options };
  const { model, leaveOut } = resolved;
  const groups = new Map<string, number[]>();
  effects.forEach((effect, index) => {
    const key = leaveOut === "study" ? effect.study : `${index}`;
    groups.set(key, [...(groups.get(key) ?? []), index]);
  });
  if (groups.size < 2) {
    throw new CallError({
      code: "nothing-left",
      where,
      needs: leaveOut === "study" ? "at least two studies" : "at least two effects",
      got: String(groups.size),
    });
  }
  const whole = resultOf(effects, model, []);
  const plain = model.kind === "pooled" && (model.options.moderators ?? []).length === 0;
  const normal = plain ? poolEffects(effects, { ...model.options, interval: "normal" }) : undefined;
  const leftOut = [...groups].map(([key, rows]): LeftOut => {
    const one = resultOf(effects, model, rows);
    const single = rows.length === 1 ? effects[rows[0]!]! : undefined;
    return {
      name: leaveOut === "study" ? key : single!.effectId,
      effects: one.effects,
      estimate: one.estimate,
      standardError: one.standardError,
      interval: one.interval,
      betweenVariance: one.heterogeneity.betweenVariance,
      changesConclusion: conclusion(one) !== conclusion(whole),
      ...(normal !== undefined && single !== undefined && model.kind === "pooled"
        ? {
            diagnostics: diagnosticsOf(
              single,
              normal.weightsPercent[rows[0]!]! / 100,
              normal,
              poolEffects(effectsWithout(effects, rows), { ...model.options, interval: "normal" }),
              effects.length,
            ),
          }
        : {}),
    };
  });
  const estimates = leftOut.map((one) => one.estimate);
  return {
    leftOut,
    range: { low: Math.min(...estimates), high: Math.max(...estimates) },
  };
};

const resultOf = (
  effects: readonly SynthesisEffect[],
  model: InfluenceModel,
  rows: readonly number[],
) => {
  if (model.kind === "pooled") return poolEffects(effectsWithout(effects, rows), model.options);
  const knownCovariances = covariancesWithout(model.options.knownCovariances ?? [], rows);
  return fitMultilevel(effectsWithout(effects, rows), {
    ...model.options,
    knownCovariances,
    profileIntervals: false,
    robust: "none",
  });
};

/** Which side of zero the interval lies on: −1, 0 (holds zero) or 1, with the sign of the estimate. */
const conclusion = (result: Readonly<{ estimate: number; interval: Interval }>): string => {
  const side = result.interval.low > 0 ? 1 : result.interval.high < 0 ? -1 : 0;
  return `${side} ${Math.sign(result.estimate)}`;
};

const diagnosticsOf = (
  effect: SynthesisEffect,
  leverage: number,
  whole: PooledResult,
  without: PooledResult,
  k: number,
): CaseDiagnostics => {
  const between = without.heterogeneity.betweenVariance ?? 0;
  const shift = whole.estimate - without.estimate;
  const studentisedResidual =
    (effect.estimate - without.estimate) /
    Math.sqrt(effect.variance + between + without.standardError ** 2);
  const cooksDistance = (shift / whole.standardError) ** 2;
  const standardisedShift = shift / Math.sqrt(leverage * (between + effect.variance));
  const flags: CaseDiagnostics["flags"][number][] = [];
  if (Math.abs(studentisedResidual) > 1.96) flags.push("outlying");
  if (leverage > 3 / k) flags.push("high leverage");
  if (Math.abs(standardisedShift) > 3 / Math.sqrt(k - 1)) flags.push("shifts the estimate");
  if (chiSquaredProbability(cooksDistance, 1) >= 0.5) flags.push("far from the rest");
  return {
    leverage,
    studentisedResidual,
    cooksDistance,
    standardisedShift,
    covarianceRatio: (without.standardError / whole.standardError) ** 2,
    flags,
  };
};
