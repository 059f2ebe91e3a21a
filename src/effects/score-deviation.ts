import type { ChangeContext } from "./arm-change.js";
import type { ArmReading } from "./arm-reading.js";
import type { EffectScale } from "./effect.js";
import type { Refusal } from "./refusal.js";

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
