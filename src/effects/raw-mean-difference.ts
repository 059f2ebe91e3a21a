import type { GroupSummary, PairedSummary, ScaledEstimate } from "./arm-summary.js";
import { changeDeviation, checkedGroup, checkedPaired, pooledDeviation } from "./arm-summary.js";

const scale = "raw-mean-difference" as const;

export type RawDifferenceOptions = Readonly<{
  /** `own-deviations` keeps each group's own; `pooled-deviation` assumes the two are equal. */
  deviations?: "own-deviations" | "pooled-deviation";
}>;
export const rawDifferenceDefaults = {
  deviations: "own-deviations",
} as const satisfies Required<RawDifferenceOptions>;

/**
 * Difference of two independent groups' means, in the outcome's own unit, and its sampling variance.
 *
 *   D = m₁ − m₂      V = s₁²/n₁ + s₂²/n₂   or, pooled,   V = s_p²·(1/n₁ + 1/n₂)
 *
 * @param treated  mean, deviation, at least 2 participants
 * @param control  the same
 * @param options  whether the deviations are pooled
 * @returns estimate in the outcome's unit and its variance in the unit squared
 * @source none: variance of a difference of two independent means
 */
export const rawMeanDifference = (
  treated: GroupSummary,
  control: GroupSummary,
  options: RawDifferenceOptions = {},
): ScaledEstimate => {
  const { deviations } = { ...rawDifferenceDefaults, ...options };
  const where = "rawMeanDifference";
  checkedGroup(treated, { where });
  checkedGroup(control, { where });
  const variance =
    deviations === "own-deviations"
      ? treated.deviation ** 2 / treated.participants +
        control.deviation ** 2 / control.participants
      : pooledDeviation(treated, control) ** 2 *
        (1 / treated.participants + 1 / control.participants);
  return { scale, estimate: treated.mean - control.mean, variance };
};

/**
 * Mean change of one group, in the outcome's own unit, and its sampling variance.
 *
 *   D = m₂ − m₁      V = s_c²/n      s_c = deviation of the changes
 *
 * @param paired  means and deviations before and after, correlation, at least 2 participants
 * @returns estimate in the outcome's unit, positive for a rise, and its variance
 * @source none: variance of the mean of paired differences
 */
export const rawMeanChange = (paired: PairedSummary): ScaledEstimate => {
  checkedPaired(paired, { where: "rawMeanChange" });
  return {
    scale,
    estimate: paired.after.mean - paired.before.mean,
    variance: changeDeviation(paired) ** 2 / paired.participants,
  };
};
