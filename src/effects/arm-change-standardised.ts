import type { ArmChange, ChangeContext } from "./arm-change.js";
import { routeOf } from "./arm-change-of-means.js";
import type { ArmReading } from "./arm-reading.js";
import type { Refusal } from "./refusal.js";
import { isRefusal } from "./refusal.js";
import { spreadOfChanges } from "./spread-of-changes.js";
import {
  standardisedMeanChangeByAfterDeviation,
  standardisedMeanChangeByBaselineDeviation,
  standardisedMeanChangeByChangeDeviation,
  standardisedMeanChangeByPooledDeviation,
} from "./standardised-mean-change.js";
import { standardisedMeanDifferencePaired } from "./standardised-mean-difference.js";

const needsFour = (reading: ArmReading): Refusal | undefined =>
  reading.participants < 4
    ? { refused: "a standardised change needs at least four people" }
    : undefined;

const noMeanChange: Refusal = {
  refused: "the mean change is not printed in the outcome's unit, so it cannot be standardised",
};

/** Mean change over the deviation at one of the two times. */
const standardisedAt =
  (time: "at baseline" | "after training") =>
  (reading: ArmReading, context: ChangeContext): ArmChange | Refusal => {
    const few = needsFour(reading);
    if (few !== undefined) return few;
    const { meanChange, participants } = reading;
    if (meanChange === undefined) return noMeanChange;
    const divisor = time === "at baseline" ? reading.deviationBefore : reading.deviationAfter;
    if (divisor === undefined || !(divisor > 0)) {
      return { refused: `no deviation ${time} (above 0) is printed to standardise by` };
    }
    const spread = spreadOfChanges(reading, context);
    if (isRefusal(spread)) return spread;
    const change = { meanChange, changeDeviation: spread.deviation, participants };
    const { estimate, variance } =
      time === "at baseline"
        ? standardisedMeanChangeByBaselineDeviation({ ...change, baselineDeviation: divisor })
        : standardisedMeanChangeByAfterDeviation({ ...change, afterDeviation: divisor });
    return {
      estimate,
      variance,
      loading: {
        mean: spread.deviation / divisor / Math.sqrt(participants),
        spread: -estimate / Math.sqrt(2 * (participants - 1)),
      },
      route: routeOf(
        reading.meansRoute,
        spread.words,
        `mean change in standard deviations ${time}, exact small-sample factor and variance`,
      ),
      notes: reading.notes,
      ...(spread.correlation !== undefined && { correlation: spread.correlation }),
    };
  };

/**
 * Mean change in deviations at baseline.
 *
 * @source none: as `standardisedMeanChangeByBaselineDeviation`
 */
export const baselineStandardisedChange = standardisedAt("at baseline");

/**
 * Mean change in deviations after training.
 *
 * @source none: as `standardisedMeanChangeByAfterDeviation`
 */
export const afterStandardisedChange = standardisedAt("after training");

/**
 * Mean change in deviations pooled over before and after.
 *
 * @source none: as `standardisedMeanChangeByPooledDeviation`
 */
export const pooledStandardisedChange = (
  reading: ArmReading,
  context: ChangeContext,
): ArmChange | Refusal => {
  const few = needsFour(reading);
  if (few !== undefined) return few;
  const { meanChange, participants, deviationBefore: before, deviationAfter: after } = reading;
  if (meanChange === undefined) return noMeanChange;
  if (before === undefined || after === undefined || !(before + after > 0)) {
    return { refused: "deviations at both times (above 0) are needed to standardise by them" };
  }
  const spread = spreadOfChanges(reading, context);
  if (isRefusal(spread)) return spread;
  const correlation = spread.correlation ?? context.correlationOf(reading);
  const { estimate, variance } = standardisedMeanChangeByPooledDeviation({
    meanChange,
    changeDeviation: spread.deviation,
    before,
    after,
    correlation: correlation.value,
    participants,
  });
  return {
    estimate,
    variance,
    loading: {
      mean: spread.deviation / Math.sqrt(((before ** 2 + after ** 2) / 2) * participants),
      spread: -estimate * Math.sqrt((1 + correlation.value ** 2) / (4 * (participants - 1))),
    },
    route: routeOf(
      reading.meansRoute,
      spread.words,
      "mean change in standard deviations pooled over before and after, exact small-sample factor and variance",
    ),
    notes: reading.notes,
    correlation,
  };
};

/**
 * Mean change in deviations of the changes; a paired t and the people are enough.
 *
 * @source none: as `standardisedMeanChangeByChangeDeviation`
 */
export const changeStandardisedChange = (
  reading: ArmReading,
  context: ChangeContext,
): ArmChange | Refusal => {
  const few = needsFour(reading);
  if (few !== undefined) return few;
  const { participants, t } = reading;
  const spread = spreadOfChanges(reading, context);
  const fromTest = isRefusal(spread) || reading.meanChange === undefined;
  if (fromTest && t === undefined) return isRefusal(spread) ? spread : noMeanChange;
  const { estimate, variance } = standardisedMeanChangeByChangeDeviation(
    fromTest
      ? { meanChange: (t ?? 0) / Math.sqrt(participants), changeDeviation: 1, participants }
      : {
          meanChange: reading.meanChange ?? 0,
          changeDeviation: spread.deviation,
          participants,
        },
  );
  const words =
    "mean change in standard deviations of the changes, exact small-sample factor and variance";
  return {
    estimate,
    variance,
    loading: { mean: 1 / Math.sqrt(participants), spread: -estimate / Math.sqrt(2 * participants) },
    route: fromTest
      ? routeOf(reading.changeRoute, "divided by the square root of the people", words)
      : routeOf(reading.meansRoute, spread.words, words),
    notes: reading.notes,
    ...(!fromTest && spread.correlation !== undefined && { correlation: spread.correlation }),
  };
};

/**
 * Mean change in within-person deviations: two measurements of one group as a standardised difference.
 *
 * @source none: as `standardisedMeanDifferencePaired`
 */
export const withinStandardisedChange = (
  reading: ArmReading,
  context: ChangeContext,
): ArmChange | Refusal => {
  const few = needsFour(reading);
  if (few !== undefined) return few;
  const { meanChange, participants } = reading;
  if (meanChange === undefined) return noMeanChange;
  const spread = spreadOfChanges(reading, context);
  if (isRefusal(spread)) return spread;
  const correlation = spread.correlation ?? context.correlationOf(reading);
  const unexplained = 2 * (1 - correlation.value);
  const withinDeviation = spread.deviation / Math.sqrt(unexplained);
  const { estimate, variance } = standardisedMeanDifferencePaired({
    meanDifference: meanChange,
    withinDeviation,
    correlation: correlation.value,
    participants,
  });
  const share = estimate ** 2 / (2 * participants);
  return {
    estimate,
    variance,
    loading: {
      mean: Math.sqrt(unexplained / participants),
      spread: -Math.sign(estimate) * Math.sqrt(share * unexplained),
    },
    route: routeOf(
      reading.meansRoute,
      spread.words,
      "mean change in within-person standard deviations (deviation of the changes over √(2(1−r))), exact small-sample factor",
    ),
    notes: reading.notes,
    correlation,
  };
};
