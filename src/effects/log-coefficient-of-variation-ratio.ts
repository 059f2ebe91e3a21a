import type { GroupSummary, PairedSummary, ScaledEstimate } from "./arm-summary.js";
import { checkedGroup, checkedPaired, demanded } from "./arm-summary.js";
import { logDeviationVariance } from "./log-variability-ratio.js";

const scale = "log-coefficient-of-variation-ratio" as const;

const relativeSpread = (mean: number, deviation: number, where: string): number =>
  demanded(deviation, { where, needs: "standard deviations above 0", holds: (v) => v > 0 }) / mean;

/**
 * Log ratio of two independent groups' coefficients of variation and its sampling variance.
 *
 * Positive means more spread, relative to the mean, in the treated group; no direction of improvement.
 *
 *   L = ln(CV₁/CV₂) + ½(1/(n₁−1) − 1/(n₂−1)) + ½(CV₂²/n₂ − CV₁²/n₁)
 *   V = Σ over groups of  CV²/n + CV⁴/(2n²) + n/(2(n−1)²)          CV = s/m
 *
 * @param treated  mean above 0, deviation above 0, at least 2 participants
 * @param control  the same
 * @returns estimate on the natural-log scale and its variance
 * @source Senior AM, Viechtbauer W, Nakagawa S (2020) Research Synthesis Methods 11:553–567, in the form
 *   re-derived from E ln(mean) ≈ ln μ − σ²/(2nμ²)
 */
export const logCoefficientOfVariationRatio = (
  treated: GroupSummary,
  control: GroupSummary,
): ScaledEstimate => {
  const where = "logCoefficientOfVariationRatio";
  const part = (group: GroupSummary) => {
    checkedGroup(group, { where, positiveMean: true });
    const n = group.participants;
    const spread = relativeSpread(group.mean, group.deviation, where);
    const meanPart = spread ** 2 / n;
    return {
      log: Math.log(spread) + 1 / (2 * (n - 1)) - meanPart / 2,
      variance: meanPart + meanPart ** 2 / 2 + logDeviationVariance(n, "second-order"),
    };
  };
  const first = part(treated);
  const second = part(control);
  return { scale, estimate: first.log - second.log, variance: first.variance + second.variance };
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
  const before = relativeSpread(paired.before.mean, paired.before.deviation, where);
  const after = relativeSpread(paired.after.mean, paired.after.deviation, where);
  const means = ((before - after) ** 2 + 2 * (1 - paired.correlation) * before * after) / n;
  return {
    scale,
    estimate: Math.log(after / before) + (before ** 2 - after ** 2) / (2 * n),
    variance: means + (1 - paired.correlation ** 2) / (n - 1),
  };
};
