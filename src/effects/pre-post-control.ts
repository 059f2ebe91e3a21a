import type { PairedSummary, ScaledEstimate } from "./arm-summary.js";
import { changeDeviation, checkedPaired, demanded, pooledDeviation } from "./arm-summary.js";
import type { LogRatioOptions } from "./log-ratio-of-means.js";
import { logRatioOfMeansPaired } from "./log-ratio-of-means.js";
import { rawMeanChange } from "./raw-mean-difference.js";
import type { BaselineDenominatorOptions } from "./standardised-mean-change.js";
import { standardisedMeanChangeByBaselineDeviation } from "./standardised-mean-change.js";
import { chosenSmallSampleFactor } from "./standardised-mean-difference.js";

const meanChange = (arm: PairedSummary): number => arm.after.mean - arm.before.mean;

const bothChecked = (treated: PairedSummary, control: PairedSummary, where: string): void => {
  checkedPaired(treated, { where });
  checkedPaired(control, { where });
};

const difference = (treated: ScaledEstimate, control: ScaledEstimate): ScaledEstimate => ({
  scale: treated.scale,
  estimate: treated.estimate - control.estimate,
  variance: treated.variance + control.variance,
});

export type PrePostControlOptions = Readonly<{
  /**
   * How far the two mean changes scatter: `own-deviations` from each arm's own deviation of changes;
   * `equal-deviations` is the printed form, one deviation and one correlation for all.
   */
  scatter?: "own-deviations" | "equal-deviations";
  /** `exact` gamma factor, or the printed `approximate` one. */
  smallSample?: "exact" | "approximate";
}>;
export const prePostControlDefaults = {
  scatter: "own-deviations",
  smallSample: "exact",
} as const satisfies Required<PrePostControlOptions>;

/**
 * Difference of two arms' mean changes in units of the deviation at baseline pooled over both arms, and
 * its variance.
 *
 *   g = J(N−2)·(D_T − D_C)/S      S = baseline deviation pooled over the arms      N = n_T + n_C
 *   V = J²·q·((N−2)/(N−4))·(1 + g²/q) − g²
 *   equal-deviations  q = 2(1−r)(1/n_T + 1/n_C), r averaged over the people
 *   own-deviations    q = (s_cT²/n_T + s_cC²/n_C)/S², the same when the deviations are equal
 *
 * @param treated  means and deviations before and after, correlation, participants
 * @param control  the same
 * @param options  how the scatter of the changes is taken
 * @returns estimate in baseline deviations, positive when the treated arm rose more, and its variance
 * @throws {CallError} "out-of-range" with fewer than 5 people in all or a baseline deviation of 0
 * @source Morris SB (2008) Organizational Research Methods 11:364–386
 */
export const prePostControlByPooledBaseline = (
  treated: PairedSummary,
  control: PairedSummary,
  options: PrePostControlOptions = {},
): ScaledEstimate => {
  const { scatter, smallSample } = { ...prePostControlDefaults, ...options };
  const where = "prePostControlByPooledBaseline";
  bothChecked(treated, control, where);
  const first = treated.participants;
  const second = control.participants;
  const deviation = pooledDeviation(
    { deviation: treated.before.deviation, participants: first },
    { deviation: control.before.deviation, participants: second },
  );
  const correlation =
    (first * treated.correlation + second * control.correlation) / (first + second);
  const numeratorVariance =
    scatter === "equal-deviations"
      ? 2 * (1 - correlation) * (1 / first + 1 / second)
      : (changeDeviation(treated) ** 2 / first + changeDeviation(control) ** 2 / second) /
        deviation ** 2;
  const parts = {
    meanDifference: meanChange(treated) - meanChange(control),
    baselineDeviation: deviation,
    numeratorVariance,
    participants: first + second,
  };
  return prePostControlFromParts(parts, { smallSample });
};

/**
 * The same effect from its parts: a difference of changes, the pooled baseline deviation, and the
 * variance of the difference in units of that deviation squared. Also the door for a difference
 * adjusted for baseline, whose own variance the source prints, and for another deviation than that at baseline,
 * with its degrees of freedom in place of N−2.
 *
 * @source Morris SB (2008) Organizational Research Methods 11:364–386
 */
export const prePostControlFromParts = (
  parts: Readonly<{
    meanDifference: number;
    baselineDeviation: number;
    numeratorVariance: number;
    participants: number;
    degreesOfFreedom?: number;
  }>,
  options: Readonly<{ smallSample?: "exact" | "approximate" }> = {},
): ScaledEstimate => {
  const where = "prePostControlByPooledBaseline";
  const people = demanded(parts.participants, {
    where,
    needs: "at least 5 participants in the two arms together",
    holds: (value) => value >= 5,
  });
  const deviation = demanded(parts.baselineDeviation, {
    where,
    needs: "a pooled baseline standard deviation above 0",
    holds: (value) => value > 0,
  });
  const freedom = parts.degreesOfFreedom ?? people - 2;
  const factor = chosenSmallSampleFactor(freedom, options.smallSample ?? "exact");
  const estimate = (factor * parts.meanDifference) / deviation;
  const moments =
    factor ** 2 * (freedom / (freedom - 2)) * (parts.numeratorVariance + estimate ** 2);
  return {
    scale: "standardised-mean-change-baseline-deviation",
    estimate,
    variance: moments - estimate ** 2,
  };
};

/**
 * Difference of two arms' standardised changes, each in units of its own baseline deviation; the
 * variances add. For arms whose baseline deviations differ materially.
 *
 * @source Becker BJ (1988) British Journal of Mathematical and Statistical Psychology 41:257–278
 */
export const prePostControlByOwnBaseline = (
  treated: PairedSummary,
  control: PairedSummary,
  options: BaselineDenominatorOptions = {},
): ScaledEstimate => {
  bothChecked(treated, control, "prePostControlByOwnBaseline");
  const change = (arm: PairedSummary): ScaledEstimate =>
    standardisedMeanChangeByBaselineDeviation(
      {
        meanChange: meanChange(arm),
        changeDeviation: changeDeviation(arm),
        participants: arm.participants,
        baselineDeviation: arm.before.deviation,
        correlation: arm.correlation,
      },
      options,
    );
  return difference(change(treated), change(control));
};

/**
 * Ratio of two arms' relative changes, on the log scale: each arm's log ratio of after to before, the
 * control's taken away; the variances add.
 *
 * @source none: difference of two independent log ratios (Lajeunesse 2015 for each)
 */
export const logRatioPrePostControl = (
  treated: PairedSummary,
  control: PairedSummary,
  options: LogRatioOptions = {},
): ScaledEstimate =>
  difference(logRatioOfMeansPaired(treated, options), logRatioOfMeansPaired(control, options));

/**
 * Difference of two arms' mean changes in the outcome's own unit; the variances add.
 *
 * @source none: difference of two independent mean changes
 */
export const rawPrePostControl = (treated: PairedSummary, control: PairedSummary): ScaledEstimate =>
  difference(rawMeanChange(treated), rawMeanChange(control));
