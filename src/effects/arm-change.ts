import type { Note } from "../errors.js";
import type { ArmReading } from "./arm-reading.js";
import { changeDeviation, type PairedSummary } from "./arm-summary.js";
import type { LentSpread } from "./lent-spread.js";
import type { EffectScale } from "./effect.js";
import type { ResolvedEffectsOptions } from "./effects-options.js";
import type { ResolvedCorrelation } from "./pre-post-correlation.js";
import type { Refusal } from "./refusal.js";

/**
 * How far an effect follows one arm's chance: signed square roots of the part of its variance that comes
 * from the arm's means, and of the part that comes from its deviations. The two are independent.
 */
export type Loading = Readonly<{ mean: number; spread: number }>;

/** One arm's change on one scale, in the outcome's own direction (a rise is positive). */
export type ArmChange = Readonly<{
  estimate: number;
  variance: number;
  loading: Loading;
  /** Absent when the formula needed none. */
  correlation?: ResolvedCorrelation;
  /** Where the spread is borrowed. */
  lent?: LentSpread;
  route: string;
  notes: readonly Note[];
}>;

export type ChangeContext = Readonly<{
  options: ResolvedEffectsOptions;
  correlationOf: (reading: ArmReading) => ResolvedCorrelation;
  /** The spread lent to a reading that has none, or why none is. */
  lentTo: (reading: ArmReading) => LentSpread | Refusal;
}>;

/**
 * Route in words: the parts that say something, in order.
 *
 * @source none: wording of this project
 */
export const routeOf = (...parts: readonly string[]): string =>
  parts.filter((part) => part !== "").join("; ");

/**
 * The paired summary when both means and both deviations are there.
 *
 * @source none: bookkeeping
 */
export const pairedReading = (
  reading: ArmReading,
  correlation: number,
): PairedSummary | undefined => {
  const { meanBefore, meanAfter, deviationBefore, deviationAfter, participants } = reading;
  if (meanBefore === undefined || meanAfter === undefined) return undefined;
  if (deviationBefore === undefined || deviationAfter === undefined) return undefined;
  return {
    before: { mean: meanBefore, deviation: deviationBefore },
    after: { mean: meanAfter, deviation: deviationAfter },
    correlation,
    participants,
  };
};

/**
 * Spread of the changes: the printed one, else from both deviations and the correlation.
 *
 * @source none: variance of a difference of two correlated quantities
 */
export const spreadOfChanges = (
  reading: ArmReading,
  context: ChangeContext,
): Readonly<{ deviation: number; correlation?: ResolvedCorrelation; words: string }> | Refusal => {
  if (reading.changeDeviation !== undefined) {
    if (!(reading.changeDeviation > 0)) return { refused: "the spread of the changes is 0" };
    return { deviation: reading.changeDeviation, words: reading.changeRoute };
  }
  const { deviationBefore, deviationAfter } = reading;
  if (deviationBefore === undefined || deviationAfter === undefined) {
    const why = context.options.scale.startsWith("standardised")
      ? "a standardised change divides by the very spread that is missing"
      : "only ratios of means borrow one";
    return { refused: `${missingSpread(reading)}; none is borrowed, as ${why}` };
  }
  const correlation = context.correlationOf(reading);
  const deviation = changeDeviation({
    before: { mean: 0, deviation: deviationBefore },
    after: { mean: 0, deviation: deviationAfter },
    correlation: correlation.value,
    participants: reading.participants,
  });
  if (!(deviation > 0)) return { refused: "the spread before and after is 0" };
  const words = "spread of the changes from both deviations and the pre–post correlation";
  return { deviation, correlation, words };
};

/**
 * What a row without enough spread lacks, in words.
 *
 * @source none: wording of this project
 */
export const missingSpread = (reading: ArmReading): string => {
  const { deviationBefore, deviationAfter, changeRoute } = reading;
  if (changeRoute !== "" && reading.changeDeviation === undefined) {
    return `the ${changeRoute} gives no spread of the changes (no mean change, or a value of 0), and deviations at both times are not printed`;
  }
  if (deviationBefore === undefined && deviationAfter === undefined) {
    return "no usable spread is printed: neither deviations at both times nor the spread, interval or test of the change";
  }
  return `a spread is printed only ${deviationBefore === undefined ? "after" : "before"} training, and none of the change`;
};

/** Scales of changes over a deviation of the scores themselves, with that deviation in words. */
export const scoreWords = {
  "standardised-mean-change-baseline-deviation": "baseline deviation",
  "standardised-mean-change-after-deviation": "deviation after training",
  "standardised-mean-change-pooled-deviation": "deviation of before and after",
} as const satisfies Partial<Record<EffectScale, string>>;

/**
 * Whether a scale divides a change by a deviation of the scores: before, after, or pooled over the two.
 *
 * @source none: convention of this project
 */
export const isOverScores = (scale: EffectScale): scale is keyof typeof scoreWords =>
  scale in scoreWords;

/**
 * One arm's deviation that such a scale divides by, with its degrees of freedom.
 *
 * @returns deviation (0 or more) and degrees of freedom, or what the row lacks
 * @source none: as `overDeviation`
 */
export const scoreDeviation = (
  reading: ArmReading,
  scale: keyof typeof scoreWords,
  context: ChangeContext,
): Readonly<{ deviation: number; freedom: number }> | Refusal => {
  const { deviationBefore: before, deviationAfter: after, participants } = reading;
  if (scale === "standardised-mean-change-pooled-deviation") {
    if (before === undefined || after === undefined) {
      return { refused: "deviations at both times are needed to standardise by them" };
    }
    return {
      deviation: Math.sqrt((before ** 2 + after ** 2) / 2),
      freedom: (2 * (participants - 1)) / (1 + context.correlationOf(reading).value ** 2),
    };
  }
  const deviation = scale === "standardised-mean-change-baseline-deviation" ? before : after;
  return deviation === undefined
    ? { refused: `no ${scoreWords[scale]} is printed to standardise by` }
    : { deviation, freedom: participants - 1 };
};
