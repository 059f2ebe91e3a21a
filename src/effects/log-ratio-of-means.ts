import type { GroupSummary, PairedSummary, ScaledEstimate } from "./arm-summary.js";
import { checkedGroup, checkedPaired, demanded } from "./arm-summary.js";

export type LogRatioOptions = Readonly<{
  /**
   * `second-order` (Lajeunesse 2015) takes out the bias of a logarithm of a mean and adds the matching
   * terms to the variance; `first-order` is the plain form (Hedges, Gurevitch, Curtis 1999).
   */
  order?: "second-order" | "first-order";
}>;
export const logRatioDefaults = {
  order: "second-order",
} as const satisfies Required<LogRatioOptions>;

const scale = "log-ratio-of-means" as const;

/** Variance of a mean relative to the mean squared: s²/(n·m²). */
const relativeVariance = (group: GroupSummary): number =>
  group.deviation ** 2 / (group.participants * group.mean ** 2);

/**
 * Log ratio of two independent groups' means and its sampling variance.
 *
 * Shown to people as a percent difference. Swapping the groups changes the sign only.
 *
 *   first order   L = ln(m₁/m₂)                       V = a₁ + a₂       aᵢ = sᵢ²/(nᵢ·mᵢ²)
 *   second order  L = ln(m₁/m₂) + ½(a₁ − a₂)           V = a₁ + a₂ + ½(a₁² + a₂²)
 *   m, s, n = mean, standard deviation, participants of each group
 *
 * @param treated  mean above 0, deviation, at least 2 participants
 * @param control  the same
 * @param options  order of the expansion
 * @returns estimate on the natural-log scale (no unit) and its variance
 * @throws {CallError} "out-of-range" when a mean is 0 or negative
 * @source Hedges LV, Gurevitch J, Curtis PS (1999) Ecology 80:1150–1156; Lajeunesse MJ (2015) Ecology 96:2056–2063
 * @example
 * logRatioOfMeans({ mean: 61.515, deviation: 19.475, participants: 10 }, { mean: 51.015, deviation: 19.475, participants: 10 }, { order: "first-order" })
 * // => { scale: "log-ratio-of-means", estimate: 0.18716, variance: 0.0246 }
 */
export const logRatioOfMeans = (
  treated: GroupSummary,
  control: GroupSummary,
  options: LogRatioOptions = {},
): ScaledEstimate => {
  const { order } = { ...logRatioDefaults, ...options };
  const where = "logRatioOfMeans";
  const first = relativeVariance(checkedGroup(treated, { where, positiveMean: true }));
  const second = relativeVariance(checkedGroup(control, { where, positiveMean: true }));
  const estimate = Math.log(treated.mean / control.mean);
  const variance = first + second;
  if (order === "first-order") return { scale, estimate, variance };
  return {
    scale,
    estimate: estimate + (first - second) / 2,
    variance: variance + (first ** 2 + second ** 2) / 2,
  };
};

/**
 * Log ratio of one group's mean after to its mean before, and its sampling variance.
 *
 *   first order   L = ln(m₂/m₁)                  V = a₁ + a₂ − 2c
 *   second order  L = ln(m₂/m₁) + ½(a₂ − a₁)      V = a₁ + a₂ − 2c + ½(a₁² + a₂² − 2c²)
 *   1, 2 = before, after;  aᵢ = sᵢ²/(n·mᵢ²);  c = r·s₁·s₂/(n·m₁·m₂);  r = pre–post correlation
 *
 * The second-order terms for a pair are derived here by the same expansion: the squares of the two
 * relative errors have variance 2aᵢ² and covariance 2c², and enter halved.
 *
 * @param paired  both means above 0, both deviations, correlation, at least 2 participants
 * @param options  order of the expansion
 * @returns estimate on the natural-log scale, positive for a rise, and its variance
 * @throws {CallError} "out-of-range" when a mean is 0 or negative
 * @source Lajeunesse MJ (2011) Ecology 92:2049–2055 (dependent groups); Lajeunesse MJ (2015) Ecology 96:2056–2063
 */
export const logRatioOfMeansPaired = (
  paired: PairedSummary,
  options: LogRatioOptions = {},
): ScaledEstimate => {
  const { order } = { ...logRatioDefaults, ...options };
  const where = "logRatioOfMeansPaired";
  const { before, after, correlation, participants } = checkedPaired(paired, {
    where,
    positiveMean: true,
  });
  const first = relativeVariance({ ...before, participants });
  const second = relativeVariance({ ...after, participants });
  const shared = correlation * Math.sqrt(first * second);
  const estimate = Math.log(after.mean / before.mean);
  // Equal to a₁ + a₂ − 2c but never below zero by rounding.
  const variance =
    (Math.sqrt(first) - Math.sqrt(second)) ** 2 + 2 * (1 - correlation) * Math.sqrt(first * second);
  if (order === "first-order") return { scale, estimate, variance };
  return {
    scale,
    estimate: estimate + (second - first) / 2,
    variance: variance + Math.max(0, first ** 2 + second ** 2 - 2 * shared ** 2) / 2,
  };
};

/**
 * Log ratio of after to before when only the deviation of the changes is known, not those at each time.
 *
 *   L = ln(m₂/m₁)      V = s_c² / (n·m₁·m₂)      s_c = standard deviation of the changes
 *
 * When the coefficient of variation is the same before and after, s_c² = CV²·((m₂−m₁)² + 2·m₁·m₂·(1−r)),
 * so V exceeds the paired first-order variance by exactly CV²·(m₂−m₁)²/(n·m₁·m₂): cautious, and close for
 * changes of ordinary size.
 *
 * @param change  both means above 0, deviation of the changes, at least 2 participants
 * @returns estimate on the natural-log scale, positive for a rise, and its variance
 * @throws {CallError} "out-of-range" when a mean is 0 or negative
 * @source none: derived here from the paired first-order variance under equal coefficients of variation
 */
export const logRatioOfMeansFromChange = (
  change: Readonly<{
    meanBefore: number;
    meanAfter: number;
    changeDeviation: number;
    participants: number;
  }>,
): ScaledEstimate => {
  const where = "logRatioOfMeansFromChange";
  const { meanBefore, meanAfter, participants } = change;
  const deviation = change.changeDeviation;
  checkedGroup({ mean: meanBefore, deviation, participants }, { where, positiveMean: true });
  checkedGroup({ mean: meanAfter, deviation, participants }, { where, positiveMean: true });
  return {
    scale,
    estimate: Math.log(meanAfter / meanBefore),
    variance: deviation ** 2 / (participants * meanBefore * meanAfter),
  };
};

/**
 * Log ratio from a mean of individual percent changes with its standard deviation.
 *
 *   L = ln(1 + c/100)      V = (s/100)² / (n·(1 + c/100)²)      c, s = mean and deviation of the percent changes
 *
 * The mean of individual percent changes is not the percent change of the means: whoever uses this
 * says so beside the number.
 *
 * @param change  mean percent change above −100, its deviation, at least 2 participants
 * @returns estimate on the natural-log scale, positive for a rise, and its variance (delta method)
 * @throws {CallError} "out-of-range" at −100% and below
 * @source none: first-order propagation of error
 */
export const logRatioFromPercentChange = (
  change: Readonly<{ percentMean: number; percentDeviation: number; participants: number }>,
): ScaledEstimate => {
  const where = "logRatioFromPercentChange";
  const ratio = 1 + change.percentMean / 100;
  demanded(change.percentMean, {
    where,
    needs: "a mean percent change above −100",
    holds: () => ratio > 0,
  });
  checkedGroup(
    { mean: ratio, deviation: change.percentDeviation, participants: change.participants },
    { where },
  );
  return {
    scale,
    estimate: Math.log(ratio),
    variance: (change.percentDeviation / 100) ** 2 / (change.participants * ratio ** 2),
  };
};

/**
 * How many standard errors a mean stands above zero, with a small-sample factor; below 3 a log ratio of
 * it is doubtful.
 *
 *   G = (m/s)·√n · 4n/(1 + 4n)
 *
 * @source Lajeunesse MJ (2015) Ecology 96:2056–2063, after Geary RC (1930)
 */
export const distanceFromZero = (group: GroupSummary): number => {
  const { mean, deviation, participants } = checkedGroup(group, { where: "distanceFromZero" });
  if (deviation === 0) return mean === 0 ? 0 : Math.sign(mean) * Infinity;
  const fourfold = 4 * participants;
  return (mean / deviation) * Math.sqrt(participants) * (fourfold / (1 + fourfold));
};
