import { pairedReading, routeOf, type ArmChange, type ChangeContext } from "./arm-change.js";
import type { ArmReading } from "./arm-reading.js";
import { logCoefficientOfVariationRatioPaired } from "./log-coefficient-of-variation-ratio.js";
import { logVariabilityRatioPaired } from "./log-variability-ratio.js";
import type { Refusal } from "./refusal.js";

const bothSpreads = (reading: ArmReading): Refusal | undefined => {
  const { deviationBefore: before, deviationAfter: after } = reading;
  if (before !== undefined && after !== undefined && before > 0 && after > 0) return undefined;
  return { refused: "deviations above 0 at both times are needed to compare the spread" };
};

/**
 * Log ratio of the deviation after to the deviation before.
 *
 * @source none: as `logVariabilityRatioPaired`
 */
export const logVariabilityChange = (
  reading: ArmReading,
  context: ChangeContext,
): ArmChange | Refusal => {
  const lacking = bothSpreads(reading);
  if (lacking !== undefined) return lacking;
  const { deviationBefore = 0, deviationAfter = 0, participants, notes } = reading;
  const correlation = context.correlationOf(reading);
  const { estimate, variance } = logVariabilityRatioPaired({
    before: { mean: reading.meanBefore ?? 0, deviation: deviationBefore },
    after: { mean: reading.meanAfter ?? 0, deviation: deviationAfter },
    correlation: correlation.value,
    participants,
  });
  return {
    estimate,
    variance,
    loading: { mean: 0, spread: Math.sqrt(variance) },
    route: routeOf(reading.meansRoute, "paired log ratio of standard deviations"),
    notes,
    correlation,
  };
};

/**
 * Log ratio of the coefficient of variation after to that before.
 *
 * @source none: as `logCoefficientOfVariationRatioPaired`
 */
export const logCoefficientOfVariationChange = (
  reading: ArmReading,
  context: ChangeContext,
): ArmChange | Refusal => {
  const lacking = bothSpreads(reading);
  if (lacking !== undefined) return lacking;
  const correlation = context.correlationOf(reading);
  const paired = pairedReading(reading, correlation.value);
  if (paired === undefined) {
    return { refused: "means at both times are needed for coefficients of variation" };
  }
  if (!(paired.before.mean > 0 && paired.after.mean > 0)) {
    return { refused: "a coefficient of variation has no meaning unless both means are above 0" };
  }
  const { estimate, variance } = logCoefficientOfVariationRatioPaired(paired);
  const ofSpread = (1 - correlation.value ** 2) / (paired.participants - 1);
  return {
    estimate,
    variance,
    loading: { mean: -Math.sqrt(Math.max(0, variance - ofSpread)), spread: Math.sqrt(ofSpread) },
    route: routeOf(reading.meansRoute, "paired log ratio of coefficients of variation"),
    notes: reading.notes,
    correlation,
  };
};
