/**
 * One sustained hold in the fatigue model, in closed form: how long it lasts, and which fatigue rate
 * would make it last a given time.
 */
import type { FatigueParameters } from "./fatigue-parameters.js";

/** Share of MVC the model can hold for ever: recovery / (fatigue + recovery). */
export const holdForEverShare = (parameters: FatigueParameters): number =>
  parameters.recoveryPerSecond / (parameters.fatiguePerSecond + parameters.recoveryPerSecond);

/**
 * Time a fresh muscle holds a load in the fatigue model, s, were the load reached at once; Infinity
 * at or below the share it can hold for ever, 0 at MVC.
 *
 * With f the load as a share of MVC, F and R the rates, fatigued muscle obeys dM/dt = F·f − R·M from
 * 0, and fails when M = 1 − f:  t = −ln(1 − R(1 − f) / (F·f)) / R.
 *
 * @param demand share of MVC, above 0 and up to 1
 * @source Frey-Law, Looft & Heitsman (2012); the algebra is elementary
 */
export const sustainedHoldSeconds = (demand: number, parameters: FatigueParameters): number => {
  if (demand >= 1) return 0;
  if (demand <= holdForEverShare(parameters)) return Infinity;
  const { fatiguePerSecond, recoveryPerSecond } = parameters;
  const reached = (recoveryPerSecond * (1 - demand)) / (fatiguePerSecond * demand);
  return reached >= 1 ? Infinity : -Math.log1p(-reached) / recoveryPerSecond;
};

/**
 * The same parameters with the fatigue rate that makes a load last a given time:
 * F = R(1 − f) / (f·(1 − e^(−R·t))), the closed form turned round. Recovery is left alone, so a
 * person who tires more slowly is not also given faster recovery.
 *
 * @param demand share of MVC, above 0 and below 1
 * @param seconds time the load is to last; above 0; Infinity gives the rate at which it lasts for ever
 */
export const withSustainedHold = (
  demand: number,
  seconds: number,
  parameters: FatigueParameters,
): FatigueParameters => ({
  ...parameters,
  fatiguePerSecond:
    (parameters.recoveryPerSecond * (1 - demand)) /
    (demand * -Math.expm1(-parameters.recoveryPerSecond * seconds)),
});
