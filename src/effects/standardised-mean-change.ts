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
   * `exact-moment` has the right moments in samples of any size above three; `large-sample` (Becker 1988)
   * assumes equal deviations; `unequal-deviations` (after Bonett 2008) lets them differ. The two
   * large-sample forms are some 15% too small at a dozen people.
   */
  varianceForm?: "exact-moment" | "large-sample" | "unequal-deviations";
}>;
export const baselineDenominatorDefaults = {
  varianceForm: "exact-moment",
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
 *   exact-moment         V = J²·((n−1)/(n−3))·(q/n + g²) − g²      q = s_c²/s₁²
 *   unequal-deviations   V = q/n + g²/(2(n−1))
 *   large-sample         V = 2(1−r)/n + g²/(2n)                  the same q when the deviations are equal
 *   D = mean change;  s₁ = deviation before;  s_c = deviation of the changes;  r = pre–post correlation;  J = exact small-sample factor
 *
 * @param change  mean change, deviation of the changes, participants (at least 4; 3 for the large-sample
 *   forms), deviation at baseline above 0 and, for the form that assumes equal deviations, the correlation
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
  if (varianceForm === "large-sample") {
    const ratio = change.correlation === undefined ? ownRatio : 2 * (1 - change.correlation);
    return { scale, estimate, variance: ratio / n + estimate ** 2 / (2 * n) };
  }
  const moments = factor ** 2 * ((n - 1) / (n - 3)) * (ownRatio / n + estimate ** 2);
  return { scale, estimate, variance: moments - estimate ** 2 };
};

export type ChangeDenominatorOptions = Readonly<{
  /** `exact-moment` has the right moments in samples of any size above three; `large-sample` is 1/n + g²/(2n). */
  varianceForm?: "exact-moment" | "large-sample";
}>;
export const changeDenominatorDefaults = {
  varianceForm: "exact-moment",
} as const satisfies Required<ChangeDenominatorOptions>;

/**
 * Mean change in units of the deviation of the changes, corrected for small samples, and its variance.
 *
 * The denominator is how differently people changed: a metric of its own, larger than the baseline form
 * whenever the correlation is above one half. Never to be pooled with the baseline-deviation form.
 *
 *   g = J(n−1)·D/s_c
 *   exact-moment   V = J²·((n−1)/(n−3))·(1/n + g²) − g²      large-sample   V = 1/n + g²/(2n)
 *
 * @param change  mean change, deviation of the changes above 0, at least 4 participants (3 for large-sample)
 * @param options  form of the variance
 * @returns estimate in deviations of the changes, positive for a rise, and its variance
 * @throws {CallError} "out-of-range" for too few people or a deviation of 0
 * @source Gibbons RD, Hedeker DR, Davis JM (1993) Journal of Educational Statistics 18:271–279
 */
export const standardisedMeanChangeByChangeDeviation = (
  change: ChangeSummary,
  options: ChangeDenominatorOptions = {},
): ScaledEstimate => {
  const { varianceForm } = { ...changeDenominatorDefaults, ...options };
  const where = "standardisedMeanChangeByChangeDeviation";
  const n = change.participants;
  checkedGroup(
    { mean: change.meanChange, deviation: change.changeDeviation, participants: n },
    { where, least: varianceForm === "exact-moment" ? 4 : 3 },
  );
  const deviation = positiveDeviation(change.changeDeviation, where, "of the changes");
  const factor = smallSampleFactor(n - 1);
  const estimate = (factor * change.meanChange) / deviation;
  const scale = "standardised-mean-change-change-deviation" as const;
  if (varianceForm === "large-sample") {
    return { scale, estimate, variance: 1 / n + estimate ** 2 / (2 * n) };
  }
  const moments = factor ** 2 * ((n - 1) / (n - 3)) * (1 / n + estimate ** 2);
  return { scale, estimate, variance: moments - estimate ** 2 };
};
