import type { GroupSummary, PairedSummary, ScaledEstimate } from "./arm-summary.js";
import { checkedGroup, checkedPaired, demanded } from "./arm-summary.js";

const scale = "log-variability-ratio" as const;

export type VariabilityOptions = Readonly<{
  /** `first-order` 1/(2(n−1)) a group (Nakagawa 2015); `second-order` n/(2(n−1)²) (Senior 2020). */
  order?: "first-order" | "second-order";
}>;
export const variabilityDefaults = {
  order: "first-order",
} as const satisfies Required<VariabilityOptions>;

const spreadAboveZero = (deviation: number, where: string): number =>
  demanded(deviation, { where, needs: "standard deviations above 0", holds: (v) => v > 0 });

/**
 * Variance of the logarithm of a sample deviation, for normal data.
 *
 * @source Nakagawa S et al. (2015) Methods in Ecology and Evolution 6:143–152
 */
export const logDeviationVariance = (
  participants: number,
  order: "first-order" | "second-order",
): number =>
  order === "first-order"
    ? 1 / (2 * (participants - 1))
    : participants / (2 * (participants - 1) ** 2);

/**
 * Log ratio of two independent groups' deviations and its sampling variance.
 *
 * Positive means more spread in the treated group; it has no direction of improvement, and more spread
 * is no proof that people respond differently.
 *
 *   L = ln(s₁/s₂) + 1/(2(n₁−1)) − 1/(2(n₂−1))
 *   first-order V = 1/(2(n₁−1)) + 1/(2(n₂−1))      second-order V = n₁/(2(n₁−1)²) + n₂/(2(n₂−1)²)
 *
 * @param treated  deviation above 0, at least 2 participants
 * @param control  the same
 * @param options  order of the variance
 * @returns estimate on the natural-log scale and its variance
 * @source Nakagawa S et al. (2015) Methods in Ecology and Evolution 6:143–152; Senior AM, Viechtbauer W,
 *   Nakagawa S (2020) Research Synthesis Methods 11:553–567
 */
export const logVariabilityRatio = (
  treated: GroupSummary,
  control: GroupSummary,
  options: VariabilityOptions = {},
): ScaledEstimate => {
  const { order } = { ...variabilityDefaults, ...options };
  const where = "logVariabilityRatio";
  checkedGroup(treated, { where });
  checkedGroup(control, { where });
  const ratio =
    spreadAboveZero(treated.deviation, where) / spreadAboveZero(control.deviation, where);
  return {
    scale,
    estimate:
      Math.log(ratio) + 1 / (2 * (treated.participants - 1)) - 1 / (2 * (control.participants - 1)),
    variance:
      logDeviationVariance(treated.participants, order) +
      logDeviationVariance(control.participants, order),
  };
};

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
    scale,
    estimate: Math.log(after / before),
    variance: (1 - paired.correlation ** 2) / (paired.participants - 1),
  };
};
