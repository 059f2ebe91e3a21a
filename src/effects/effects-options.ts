import { CallError } from "../errors.js";
import type { OutcomeRow } from "../records/outcome-row.js";
import type { Contrast, EffectScale } from "./effect.js";
import { contrasts, effectScales } from "./effect.js";
import type { StandardisedVarianceForm } from "./standardised-mean-difference.js";

type ArmKind = NonNullable<OutcomeRow["armKind"]>;
type OutcomeFamily = NonNullable<OutcomeRow["outcomeFamily"]>;
type TestSide = NonNullable<OutcomeRow["testSide"]>;

export type EffectsOptions = Readonly<{
  /** The scale every effect stands on. */
  scale?: EffectScale;
  /** What is compared. */
  contrast?: Contrast;
  /** Replaces every pre–post correlation, whatever its source; undefined leaves each its own. */
  prePostCorrelation?: number | undefined;
  /** Used where no source states or implies a correlation and too few like studies can lend one. */
  defaultPrePostCorrelation?: number;
  /** The same for outcomes of the family symptoms, which wander more than what is measured by a machine. */
  defaultPrePostCorrelationOfSymptoms?: number;
  /** Studies of the same outcome family needed before a correlation is borrowed from them. */
  studiesNeededToBorrow?: number;
  /** Correlation between the changes of two outcomes of the same people. */
  outcomesCorrelation?: number;
  /** Between the changes at two test angles. */
  anglesCorrelation?: number;
  /** Between the changes at two measurement sites. */
  sitesCorrelation?: number;
  /** Between the changes at two times, which share the baseline. */
  timesCorrelation?: number;
  /** Between the changes of the two limbs of the same people. */
  limbsCorrelation?: number;
  /** Between the changes of the same people in two periods of a crossover. */
  periodsCorrelation?: number;
  /** Between the two limbs' scores before training (standardised contrasts within a person). */
  limbsBaselineCorrelation?: number;
  /** Kinds of arm whose effects are wanted. A blank kind counts as isometric, with a note. */
  armKinds?: readonly ArmKind[];
  /** Families wanted; undefined takes all. */
  outcomeFamilies?: readonly OutcomeFamily[] | undefined;
  /** Sides wanted. A blank side counts as trained. */
  testSides?: readonly TestSide[];
  /** Expansion of the log ratio of means. */
  logRatioOrder?: "second-order" | "first-order";
  /** Variance of the standardised mean difference. */
  standardisedVarianceForm?: StandardisedVarianceForm;
  /** Small-sample factor of differences over a deviation pooled as of independent groups. */
  smallSampleFactor?: "exact" | "approximate";
  /** What a standardised mean difference between arms is a difference of. */
  standardisedDifferenceOf?: "means-after-training" | "changes";
  /** Denominator of the standardised mean change of two arms in baseline deviations. */
  baselineDenominator?: "pooled-over-both-arms" | "each-arm-its-own";
  /** Which pairs of training arms are compared: each with one reference arm, or every pair. */
  armPairs?: "against-one-reference" | "every-pair";
}>;

/**
 * Where each assumed number comes from; every one is listed with the results and is meant to be swept.
 *
 * - `defaultPrePostCorrelation` 0.8: just under the lowest test–retest coefficient printed for
 *   strength (0.85 to 0.99; size 0.93 to 0.99), which is an upper guide because people respond
 *   differently, and within the usual imputations of 0.5 to 0.9.
 * - `defaultPrePostCorrelationOfSymptoms` 0.5: the lowest of those usual imputations, because pain and
 *   function scores of a person wander between visits by themselves (common practice, no source).
 * - `outcomesCorrelation` 0.6: the customary working value for correlated effects (Pustejovsky,
 *   Tipton 2022), swept from 0.2 to 0.9.
 * - `anglesCorrelation`, `sitesCorrelation` 0.7: the same muscle at a neighbouring angle or site
 *   goes together more closely than two outcomes do.
 * - `timesCorrelation` 0.6: two changes from one baseline correlate 0.5 by that alone when all
 *   times correlate equally; neighbouring times do so more.
 * - `limbsCorrelation`, `periodsCorrelation` 0.5: seldom printed, swept from 0 to 0.8.
 * - `limbsBaselineCorrelation` 0.8: two limbs of a person are alike before training.
 */
export const effectsDefaults = {
  scale: "log-ratio-of-means",
  contrast: "change-within-arm",
  prePostCorrelation: undefined,
  defaultPrePostCorrelation: 0.8,
  defaultPrePostCorrelationOfSymptoms: 0.5,
  studiesNeededToBorrow: 2,
  outcomesCorrelation: 0.6,
  anglesCorrelation: 0.7,
  sitesCorrelation: 0.7,
  timesCorrelation: 0.6,
  limbsCorrelation: 0.5,
  periodsCorrelation: 0.5,
  limbsBaselineCorrelation: 0.8,
  armKinds: ["isometric"],
  outcomeFamilies: undefined,
  testSides: ["trained"],
  logRatioOrder: "second-order",
  standardisedVarianceForm: "corrected-estimate",
  smallSampleFactor: "exact",
  standardisedDifferenceOf: "means-after-training",
  baselineDenominator: "pooled-over-both-arms",
  armPairs: "against-one-reference",
} as const satisfies Required<EffectsOptions>;

export type ResolvedEffectsOptions = Readonly<Required<EffectsOptions>>;

const where = "effectsFromRows";

const refuse = (code: string, needs: string, got: string): never => {
  throw new CallError({ code, where, needs, got });
};

const prePost = [
  "prePostCorrelation",
  "defaultPrePostCorrelation",
  "defaultPrePostCorrelationOfSymptoms",
] as const;

const betweenPeople = [
  "outcomesCorrelation",
  "anglesCorrelation",
  "sitesCorrelation",
  "timesCorrelation",
  "limbsCorrelation",
  "periodsCorrelation",
  "limbsBaselineCorrelation",
] as const;

/**
 * Options with every default in place, each checked.
 *
 * @throws {CallError} "unknown-scale", "unknown-contrast", "out-of-range"
 * @source none: defaults are argued for in `effectsDefaults`
 */
export const resolvedEffectsOptions = (options: EffectsOptions): ResolvedEffectsOptions => {
  const given = Object.fromEntries(
    Object.entries(options).filter(([, value]) => value !== undefined),
  ) as EffectsOptions;
  const resolved: ResolvedEffectsOptions = { ...effectsDefaults, ...given };
  if (!effectScales.includes(resolved.scale)) {
    refuse("unknown-scale", `a scale out of ${effectScales.join(", ")}`, String(resolved.scale));
  }
  if (!contrasts.includes(resolved.contrast)) {
    refuse(
      "unknown-contrast",
      `a contrast out of ${contrasts.join(", ")}`,
      String(resolved.contrast),
    );
  }
  for (const name of prePost) {
    const value = resolved[name];
    if (value !== undefined && !(value > -1 && value < 1)) {
      refuse("out-of-range", `${name} above −1 and below 1`, String(value));
    }
  }
  for (const name of betweenPeople) {
    const value = resolved[name];
    if (!(value >= 0 && value < 1)) {
      refuse("out-of-range", `${name} of 0 or more and below 1`, String(value));
    }
  }
  if (!(resolved.studiesNeededToBorrow >= 1)) {
    refuse(
      "out-of-range",
      "studiesNeededToBorrow of 1 or more",
      String(resolved.studiesNeededToBorrow),
    );
  }
  return resolved;
};
