import type { ChangeContext } from "./arm-change.js";
import type { ArmReading } from "./arm-reading.js";
import { changeDeviation } from "./arm-summary.js";
import type { ResolvedCorrelation } from "./pre-post-correlation.js";
import type { Refusal } from "./refusal.js";

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
    return { refused: missingSpread(reading) };
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
