import { pairedReading, routeOf, type ArmChange, type ChangeContext } from "./arm-change.js";
import type { ArmReading } from "./arm-reading.js";
import { checkedPaired, demanded, type PairedSummary, type ScaledEstimate } from "./arm-summary.js";
import type { Refusal } from "./refusal.js";

const spreadAboveZero = (deviation: number, where: string): number =>
  demanded(deviation, { where, needs: "standard deviations above 0", holds: (v) => v > 0 });

/**
 * Log ratio of one group's deviation after to its deviation before, and its sampling variance.
 *
 *   L = ln(s₂/s₁)      V = (1 − r²)/(n − 1)      the two bias terms cancel
 *
 * @param paired  both deviations above 0, correlation, at least 2 participants
 * @returns estimate on the natural-log scale, positive when the spread grew, and its variance
 * @source none: first-order variance of two correlated log deviations under normality
 */
export const logVariabilityRatioPaired = (paired: PairedSummary): ScaledEstimate => {
  const where = "logVariabilityRatioPaired";
  checkedPaired(paired, { where });
  const after = spreadAboveZero(paired.after.deviation, where);
  const before = spreadAboveZero(paired.before.deviation, where);
  return {
    scale: "log-variability-ratio",
    estimate: Math.log(after / before),
    variance: (1 - paired.correlation ** 2) / (paired.participants - 1),
  };
};

/**
 * Log ratio of one group's coefficient of variation after to that before, and its sampling variance.
 *
 *   L = ln(CV₂/CV₁) + ½(CV₁²/n − CV₂²/n)
 *   V = CV₁²/n + CV₂²/n − 2·r·CV₁·CV₂/n + (1 − r²)/(n − 1)
 *
 * @param paired  means and deviations above 0, correlation, at least 2 participants
 * @returns estimate on the natural-log scale, positive when the relative spread grew, and its variance
 * @source none: first-order variance under normality, derived from the paired log ratio of means and the
 *   paired log variability ratio, which are independent for normal data
 */
export const logCoefficientOfVariationRatioPaired = (paired: PairedSummary): ScaledEstimate => {
  const where = "logCoefficientOfVariationRatioPaired";
  checkedPaired(paired, { where, positiveMean: true });
  const n = paired.participants;
  const before = spreadAboveZero(paired.before.deviation, where) / paired.before.mean;
  const after = spreadAboveZero(paired.after.deviation, where) / paired.after.mean;
  const means = ((before - after) ** 2 + 2 * (1 - paired.correlation) * before * after) / n;
  return {
    scale: "log-coefficient-of-variation-ratio",
    estimate: Math.log(after / before) + (before ** 2 - after ** 2) / (2 * n),
    variance: means + (1 - paired.correlation ** 2) / (n - 1),
  };
};

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
