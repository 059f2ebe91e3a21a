import {
  isOverScores,
  routeOf,
  scoreDeviation,
  scoreWords,
  spreadOfChanges,
  type ArmChange,
  type ChangeContext,
} from "./arm-change.js";
import type { ArmReading } from "./arm-reading.js";
import { overDeviation } from "./over-deviation.js";
import type { Refusal } from "./refusal.js";
import { isRefusal } from "./refusal.js";
import { standardisedMeanChangeByChangeDeviation } from "./standardised-mean-change.js";
import { standardisedMeanDifferencePaired } from "./standardised-mean-difference.js";

const needsFour = (reading: ArmReading): Refusal | undefined =>
  reading.participants < 4
    ? { refused: "a standardised change needs at least four people" }
    : undefined;

const noMeanChange: Refusal = {
  refused: "the mean change is not printed in the outcome's unit, so it cannot be standardised",
};

/**
 * Mean change in deviations of the scores: at baseline, after training, or pooled over the two, as the scale says.
 *
 * @source none: as `overDeviation`
 */
export const scoreStandardisedChange = (
  reading: ArmReading,
  context: ChangeContext,
): ArmChange | Refusal => {
  const few = needsFour(reading);
  if (few !== undefined) return few;
  const { meanChange, participants } = reading;
  const { scale } = context.options;
  if (meanChange === undefined || !isOverScores(scale)) return noMeanChange;
  const divisor = scoreDeviation(reading, scale, context);
  if (isRefusal(divisor)) return divisor;
  if (!(divisor.deviation > 0)) return { refused: `the ${scoreWords[scale]} is 0` };
  const spread = spreadOfChanges(reading, context);
  if (isRefusal(spread)) return spread;
  const variance = spread.deviation ** 2 / participants;
  const scaled = overDeviation({
    difference: meanChange,
    variance,
    deviation: divisor.deviation,
    degreesOfFreedom: divisor.freedom,
  });
  const isPooled = scale === "standardised-mean-change-pooled-deviation";
  const correlation = spread.correlation ?? (isPooled ? context.correlationOf(reading) : undefined);
  return {
    ...scaled,
    loading: {
      mean: Math.sqrt(variance) / divisor.deviation,
      spread: -scaled.estimate / Math.sqrt(2 * divisor.freedom),
    },
    route: routeOf(
      reading.meansRoute,
      spread.words,
      `mean change over the ${scoreWords[scale]}, exact small-sample factor and variance`,
    ),
    notes: reading.notes,
    ...(correlation !== undefined && { correlation }),
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
