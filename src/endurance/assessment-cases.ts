/**
 * The three people a session is tried on: one as the model has it, one who tires sooner and one who
 * tires later, as far apart as published endurance times are.
 */
import { CallError } from "../errors.js";
import { enduranceTime, type EnduranceTime } from "./endurance-time.js";
import {
  alternativeFatigueParameters,
  checkFatigueParameters,
  fatigueParameters,
  type FatigueParameters,
} from "./fatigue-parameters.js";
import type { EnduranceRegion } from "./regions.js";

/** Which published set of rates the model runs on. */
export type ParameterSet = "default" | "alternative";

export type WhichCurve = "three-compartment model" | "endurance-time curve";

/** Above this effort a single hold is judged by the empirical curve, percent of MVC. */
export const preferCurveAbovePercent = 80;

export type AssessmentCases = Readonly<{
  low: FatigueParameters;
  central: FatigueParameters;
  high: FatigueParameters;
  whichCurve: WhichCurve;
  /** The empirical curve at this effort. */
  curve: EnduranceTime;
  /** The model's own time for one fresh hold at this effort, s; Infinity when it lasts for ever. */
  modelSeconds: number;
}>;

/** The rates of a region in a published set; the alternative set has none for some regions. */
export const parametersOf = (region: EnduranceRegion, set: ParameterSet): FatigueParameters => {
  if (set === "default") return checkFatigueParameters(fatigueParameters[region], "parametersOf");
  const parameters = alternativeFatigueParameters[region];
  if (parameters === undefined)
    throw new CallError({
      code: "no-alternative",
      where: "parametersOf",
      needs: `one of ${Object.keys(alternativeFatigueParameters).join(", ")} for the alternative set`,
      got: region,
      try: "use the default set",
    });
  return checkFatigueParameters(parameters, "parametersOf");
};

/**
 * The model's rates for the central, the sooner and the later case at one effort.
 *
 * Central: the published rates; for a single hold above 80% of MVC, where the model falls far short
 * of measured times, the fatigue rate that gives the empirical curve's time instead.
 *
 * Sooner and later: the published spread (29–47% about the empirical curve; the wide end unless
 * asked otherwise) is laid round the *empirical* time at this effort, and the fatigue rate is chosen
 * so that one fresh hold lasts as long as the edge of that band. The band is widened where needed to
 * hold a typical person. Recovery is the same in all three.
 *
 * A maximal effort has no load a hold could last at, so the fatigue rate is divided by 1 ∓ spread.
 *
 * @param intensityPercent percent of MVC, above 0 and up to 100
 * @param timeFactor multiplies every endurance time; 1 unless a modifier is tried out
 */
export const assessmentCases = (
  intensityPercent: number,
  single: boolean,
  region: EnduranceRegion,
  options: Readonly<{ spread: number; parameters: ParameterSet; timeFactor: number }>,
): AssessmentCases => {
  const { spread, timeFactor } = options;
  const published = parametersOf(region, options.parameters);
  const curve = enduranceTime(intensityPercent, region, { spread });
  const demand = intensityPercent / 100;
  const modelSeconds = sustainedHoldSeconds(demand, published);
  if (demand >= 1) {
    const scaled = (factor: number): FatigueParameters => ({
      ...published,
      fatiguePerSecond: published.fatiguePerSecond / (factor * timeFactor),
    });
    return {
      low: scaled(1 - spread),
      central: scaled(1),
      high: scaled(1 + spread),
      whichCurve: "three-compartment model",
      curve,
      modelSeconds,
    };
  }
  const byCurve = single && intensityPercent > preferCurveAbovePercent;
  const centralSeconds = byCurve ? curve.centralSeconds : modelSeconds;
  // A time of Infinity, or one unchanged, leaves the published rates as they are.
  const lasting = (seconds: number): FatigueParameters =>
    seconds === modelSeconds ? published : withSustainedHold(demand, seconds, published);
  return {
    low: lasting(Math.min(centralSeconds, curve.lowSeconds) * timeFactor),
    central: lasting(centralSeconds * timeFactor),
    high: lasting(Math.max(centralSeconds, curve.highSeconds) * timeFactor),
    whichCurve: byCurve ? "endurance-time curve" : "three-compartment model",
    curve,
    modelSeconds,
  };
};

/**
 * One sustained hold in the fatigue model, in closed form: how long it lasts, and which fatigue rate
 * would make it last a given time.
 */

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
