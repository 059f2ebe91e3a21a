import type { ScaledEstimate } from "./arm-summary.js";
import { checkedGroup, demanded } from "./arm-summary.js";
import { smallSampleFactor } from "./small-sample-factor.js";

/** A group's mean change with the deviations it may be divided by. */
export type ChangeSummary = Readonly<{
  meanChange: number;
  /** Standard deviation of the people's changes. */
  changeDeviation: number;
  participants: number;
}>;

export type BaselineDenominatorOptions = Readonly<{
  /**
   * `unequal-deviations` (after Bonett 2008) lets the deviations differ and needs only that of the changes;
   * `large-sample` (Becker 1988) assumes equal deviations; `exact-moment` adds the finite-sample
   * moments of the same assumption and needs more than three participants.
   */
  varianceForm?: "unequal-deviations" | "large-sample" | "exact-moment";
}>;
export const baselineDenominatorDefaults = {
  varianceForm: "unequal-deviations",
} as const satisfies Required<BaselineDenominatorOptions>;

const positiveDeviation = (value: number, where: string, which: string): number =>
  demanded(value, { where, needs: `a standard deviation ${which} above 0`, holds: (v) => v > 0 });

/**
 * Mean change in units of the deviation at baseline, corrected for small samples, and its variance.
 *
 * The denominator is how different people were before training, so the scale is that of raw scores.
 * Never to be pooled with the change-deviation form.
 *
 *   g = J(n−1)·D/s₁
 *   unequal-deviations   V = s_c²/(s₁²·n) + g²/(2(n−1))
 *   large-sample         V = q/n + g²/(2n)                                  q = 2(1−r) = s_c²/s₁² with equal deviations
 *   exact-moment         V = J²·(q/n)·((n−1)/(n−3))·(1 + n·g²/q) − g²
 *   D = mean change;  s₁ = deviation before;  s_c = deviation of the changes;  r = pre–post correlation;  J = exact small-sample factor
 *
 * @param change  mean change, deviation of the changes, participants (at least 3), deviation at baseline above 0
 *   and, for the two forms that assume equal deviations, the correlation
 * @param options  form of the variance
 * @returns estimate in baseline deviations, positive for a rise, and its variance
 * @throws {CallError} "out-of-range" for too few people or a baseline deviation of 0
 * @source Becker BJ (1988) British Journal of Mathematical and Statistical Psychology 41:257–278;
 *   Bonett DG (2008) Psychological Methods 13:99–109
 */
export const standardisedMeanChangeByBaselineDeviation = (
  change: ChangeSummary & Readonly<{ baselineDeviation: number; correlation?: number }>,
  options: BaselineDenominatorOptions = {},
): ScaledEstimate => {
  const { varianceForm } = { ...baselineDenominatorDefaults, ...options };
  const where = "standardisedMeanChangeByBaselineDeviation";
  const n = change.participants;
  const least = varianceForm === "exact-moment" ? 4 : 3;
  checkedGroup(
    { mean: change.meanChange, deviation: change.changeDeviation, participants: n },
    { where, least },
  );
  const baseline = positiveDeviation(change.baselineDeviation, where, "at baseline");
  const factor = smallSampleFactor(n - 1);
  const estimate = (factor * change.meanChange) / baseline;
  const scale = "standardised-mean-change-baseline-deviation" as const;
  // Variance of a person's change in units of the baseline variance.
  const ownRatio = (change.changeDeviation / baseline) ** 2;
  if (varianceForm === "unequal-deviations") {
    return { scale, estimate, variance: ownRatio / n + estimate ** 2 / (2 * (n - 1)) };
  }
  const ratio = change.correlation === undefined ? ownRatio : 2 * (1 - change.correlation);
  if (varianceForm === "large-sample") {
    return { scale, estimate, variance: ratio / n + estimate ** 2 / (2 * n) };
  }
  const moments = factor ** 2 * ((n - 1) / (n - 3)) * (ratio / n + estimate ** 2);
  return { scale, estimate, variance: moments - estimate ** 2 };
};

/**
 * Mean change in units of the deviation of the changes, corrected for small samples, and its variance.
 *
 * The denominator is how differently people changed: a metric of its own, larger than the baseline form
 * whenever the correlation is above one half. Never to be pooled with the baseline-deviation form.
 *
 *   g = J(n−1)·D/s_c      V = 1/n + g²/(2n)
 *
 * @param change  mean change, deviation of the changes above 0, at least 3 participants
 * @returns estimate in deviations of the changes, positive for a rise, and its variance
 * @throws {CallError} "out-of-range" for too few people or a deviation of 0
 * @source Gibbons RD, Hedeker DR, Davis JM (1993) Journal of Educational Statistics 18:271–279
 */
export const standardisedMeanChangeByChangeDeviation = (change: ChangeSummary): ScaledEstimate => {
  const where = "standardisedMeanChangeByChangeDeviation";
  const n = change.participants;
  checkedGroup(
    { mean: change.meanChange, deviation: change.changeDeviation, participants: n },
    { where, least: 3 },
  );
  const deviation = positiveDeviation(change.changeDeviation, where, "of the changes");
  const estimate = (smallSampleFactor(n - 1) * change.meanChange) / deviation;
  return {
    scale: "standardised-mean-change-change-deviation",
    estimate,
    variance: 1 / n + estimate ** 2 / (2 * n),
  };
};
