import { type CallErrorCode, CallError } from "../errors.js";
import { outcomeFamilyNames } from "../records/outcome-families.js";
import { testSides } from "../records/outcome-fields.js";
import { armKinds } from "../records/people-fields.js";
import { contrasts, effectScales } from "./effect.js";

/** The values each option of choice may take; those of a list may be taken together. */
export const effectsChoices = {
  scale: effectScales,
  contrast: contrasts,
  armKinds,
  outcomeFamilies: outcomeFamilyNames,
  testSides,
  logRatioOrder: ["second-order", "first-order"],
  standardisedVarianceForm: ["corrected-estimate", "factor-squared", "exact-moment"],
  smallSampleFactor: ["exact", "approximate"],
  standardisedDifferenceOf: ["means-after-training", "changes"],
  baselineDenominator: ["pooled-over-both-arms", "each-arm-its-own"],
  armPairs: ["against-one-reference", "every-pair"],
  borrowedSpread: ["average", "10th percentile", "90th percentile", "none"],
} as const;

type Choice<Name extends keyof typeof effectsChoices> = (typeof effectsChoices)[Name][number];

/** Which effects are wanted, on which scale, and every number assumed on the way. */
export type EffectsOptions = Readonly<{
  /** The scale every effect stands on. */
  scale?: Choice<"scale">;
  /** What is compared. */
  contrast?: Choice<"contrast">;
  /** Replaces every pre–post correlation, whatever its source; undefined leaves each its own. */
  prePostCorrelation?: number | undefined;
  /** Used where no source states or implies a correlation and too few like studies can lend one. */
  defaultPrePostCorrelation?: number;
  /** The same for outcomes of the family symptoms, which wander more than what is measured by a machine. */
  defaultPrePostCorrelationOfSymptoms?: number;
  /** Studies of the same outcome family needed before a correlation is borrowed from them. */
  studiesNeededToBorrow?: number;
  /** The same number for trained arms and for controls, each by itself, before a row borrows from its own kind only. */
  studiesNeededToBorrowApart?: number;
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
  /**
   * Groups of fewer people than this have their variance widened where it rests on their own spread as if that were
   * known (see `fewPeopleFactor`); 2 or less widens none.
   */
  fewPeople?: number;
  /** Pooled standard deviations that an arm and its comparator may stand apart before training without a note. */
  baselineGapNoted?: number;
  /** Kinds of arm whose effects are wanted. A blank kind counts as isometric, with a note. */
  armKinds?: readonly Choice<"armKinds">[];
  /** Families wanted; undefined takes all. */
  outcomeFamilies?: readonly Choice<"outcomeFamilies">[] | undefined;
  /** Sides wanted. A blank side counts as trained. */
  testSides?: readonly Choice<"testSides">[];
  /** Expansion of the log ratio of means. */
  logRatioOrder?: Choice<"logRatioOrder">;
  /** Variance of the standardised mean difference. */
  standardisedVarianceForm?: Choice<"standardisedVarianceForm">;
  /** Small-sample factor of differences over a deviation pooled as of independent groups. */
  smallSampleFactor?: Choice<"smallSampleFactor">;
  /** What a standardised mean difference between arms is a difference of. */
  standardisedDifferenceOf?: Choice<"standardisedDifferenceOf">;
  /** Denominator of a standardised mean change (at baseline, after training, pooled over the two) of two arms. */
  baselineDenominator?: Choice<"baselineDenominator">;
  /** Which pairs of training arms are compared: each with one reference arm, or every pair. */
  armPairs?: Choice<"armPairs">;
  /** Spread lent to log ratios of rows that print none: the average of like studies, or one of its percentiles. */
  borrowedSpread?: Choice<"borrowedSpread">;
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
 * - `studiesNeededToBorrowApart` 3: controls repeat themselves more closely than people who train (0.98 and 0.91 where
 *   both are printed), but two chance values are a worse guess than all together.
 * - `fewPeople` 6: see `fewPeopleFactor`. `baselineGapNoted` 0.5: a medium difference by custom (no source).
 */
export const effectsDefaults = {
  scale: "log-ratio-of-means",
  contrast: "change-within-arm",
  prePostCorrelation: undefined,
  defaultPrePostCorrelation: 0.8,
  defaultPrePostCorrelationOfSymptoms: 0.5,
  studiesNeededToBorrow: 2,
  studiesNeededToBorrowApart: 3,
  outcomesCorrelation: 0.6,
  anglesCorrelation: 0.7,
  sitesCorrelation: 0.7,
  timesCorrelation: 0.6,
  limbsCorrelation: 0.5,
  periodsCorrelation: 0.5,
  limbsBaselineCorrelation: 0.8,
  fewPeople: 6,
  baselineGapNoted: 0.5,
  armKinds: ["isometric"],
  outcomeFamilies: undefined,
  testSides: ["trained"],
  logRatioOrder: "second-order",
  standardisedVarianceForm: "corrected-estimate",
  smallSampleFactor: "exact",
  standardisedDifferenceOf: "means-after-training",
  baselineDenominator: "pooled-over-both-arms",
  armPairs: "against-one-reference",
  borrowedSpread: "average",
} as const satisfies Required<EffectsOptions>;

export type ResolvedEffectsOptions = Readonly<Required<EffectsOptions>>;

const where = "effectsFromRows";

const refuse = (code: CallErrorCode, needs: string, got: string): never => {
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

const leastValues = [
  ["studiesNeededToBorrow", 1],
  ["studiesNeededToBorrowApart", 1],
  ["fewPeople", 0],
  ["baselineGapNoted", 0],
] as const;

/**
 * Options with every default in place, each checked.
 *
 * @throws {CallError} "unknown-choice", "out-of-range"
 * @source none: defaults are argued for in `effectsDefaults`
 */
export const resolvedEffectsOptions = (options: EffectsOptions): ResolvedEffectsOptions => {
  const given = Object.fromEntries(
    Object.entries(options).filter(([, value]) => value !== undefined),
  ) as EffectsOptions;
  const resolved: ResolvedEffectsOptions = { ...effectsDefaults, ...given };
  for (const [name, allowed] of Object.entries(effectsChoices)) {
    const chosen: unknown = resolved[name as keyof typeof effectsChoices];
    for (const one of Array.isArray(chosen) ? (chosen as readonly unknown[]) : [chosen]) {
      if (one === undefined || (allowed as readonly unknown[]).includes(one)) continue;
      refuse("unknown-choice", `${name} out of ${allowed.join(", ")}`, String(one));
    }
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
  for (const [name, least] of leastValues) {
    if (!(resolved[name] >= least)) {
      refuse("out-of-range", `${name} of ${least} or more`, String(resolved[name]));
    }
  }
  return resolved;
};
