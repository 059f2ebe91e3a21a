import type { PairedSummary, ScaledEstimate } from "./arm-summary.js";
import { changeDeviation, checkedPaired, demanded, pooledDeviation } from "./arm-summary.js";
import { overDeviation } from "./over-deviation.js";

const meanChange = (arm: PairedSummary): number => arm.after.mean - arm.before.mean;

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
  checkedPaired(treated, { where });
  checkedPaired(control, { where });
  const first = treated.participants;
  const second = control.participants;
  const deviation = pooledDeviation(
    { deviation: treated.before.deviation, participants: first },
    { deviation: control.before.deviation, participants: second },
  );
  const correlation =
    (first * treated.correlation + second * control.correlation) / (first + second);
  const people = demanded(first + second, {
    where,
    needs: "at least 5 participants in the two arms together",
    holds: (value) => value >= 5,
  });
  const variance =
    scatter === "equal-deviations"
      ? 2 * (1 - correlation) * (1 / first + 1 / second) * deviation ** 2
      : changeDeviation(treated) ** 2 / first + changeDeviation(control) ** 2 / second;
  const difference = meanChange(treated) - meanChange(control);
  const parts = { difference, variance, deviation, degreesOfFreedom: people - 2 };
  return {
    scale: "standardised-mean-change-baseline-deviation",
    ...overDeviation(parts, smallSample),
  };
};
