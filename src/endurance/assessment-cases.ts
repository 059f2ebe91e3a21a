/**
 * The three people a session is tried on: one as the model has it, one who tires early and one who
 * tires late, as far apart as published endurance times are.
 */
import { CallError } from "../errors.js";
import { enduranceTime, type EnduranceTime } from "./endurance-time.js";
import {
  alternativeFatigueParameters,
  checkFatigueParameters,
  drivePerSecond,
  fatigueParameters,
  type FatigueParameters,
} from "./fatigue-parameters.js";
import type { EnduranceRegion } from "./regions.js";

/** Which published set of rates the model recovers by. */
export type ParameterSet = "default" | "alternative";

/** From here on an effort is maximal: the answer is the force that is left, not whether a load can be held. */
export const maximalFromPercent = 95;

export type AssessmentCases = Readonly<{
  low: FatigueParameters;
  central: FatigueParameters;
  high: FatigueParameters;
  /** Measured time of one fresh hold at this intensity, with its band; for a maximal effort at 100%. */
  curve: EnduranceTime;
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
 * Sixty maximal knee extensions, 3 s on and 2 s off: torque fell to 77.8 of 263.9 N·m.
 *
 * @source Burnley M (2009) J Appl Physiol 106:975–983 (abstract); n = 8 men
 */
export const maximalIntermittentStudy = {
  participants: 8,
  contractions: 60,
  holdSeconds: 3,
  restSeconds: 2,
  freshNewtonMetres: 263.9,
  endNewtonMetres: 77.8,
} as const;

/**
 * How much slower recovery at rest is after maximal efforts than the rest multiplier says: the share of it that
 * leaves the knee, in the balance of fatigue and recovery over one cycle, the force that was measured.
 *
 * With duty d, capacity c, rates F, R and multiplier m:  d·F·c = (1 − c)·R·(d + (1 − d)·m).
 */
const maximalRecoveryShare = (set: ParameterSet): number => {
  const s = maximalIntermittentStudy;
  const { fatiguePerSecond, recoveryPerSecond, restMultiplier } = parametersOf("knee", set);
  const duty = s.holdSeconds / (s.holdSeconds + s.restSeconds);
  const left = s.endNewtonMetres / s.freshNewtonMetres;
  const needed = (duty * fatiguePerSecond * left) / ((1 - left) * recoveryPerSecond);
  return Math.min(1, (needed - duty) / (1 - duty) / restMultiplier);
};

/** How long a hold is kept beside the measured curve: a factor for the typical case and for the ends of the band. */
export type TimeFactors = Readonly<{ low: number; central: number; high: number }>;
export const asMeasured: TimeFactors = { low: 1, central: 1, high: 1 };

/**
 * The model's rates for the central, the sooner and the later case at one intensity.
 *
 * The fatigue rate is chosen so that one fresh hold lasts as long as measured: the published endurance time for the
 * central case, the edges of its band for the other two. Recovery under load and at rest is as published, the same in
 * all three, so that repeated holds differ by what is fatigued and not by who recovers faster.
 *
 * A maximal effort has no load a hold could last at: the published fatigue rate stands, divided by 1 ∓ spread at the
 * edges, and recovery between maximal efforts is as slow as was measured (see `maximalIntermittentStudy`).
 *
 * @param intensityPercent percent of MVC, above 0 and up to 100
 * @param factors multiply endurance times; 1 unless a load is held
 * @source Frey Law & Avin (2010) for the times; Frey-Law, Looft & Heitsman (2012) and Looft, Herkert & Frey-Law (2018)
 *   for recovery; that fatigue follows the curve at every load is this project's
 */
export const assessmentCases = (
  intensityPercent: number,
  region: EnduranceRegion,
  options: Readonly<{ spread: number; parameters: ParameterSet; factors: TimeFactors }>,
): AssessmentCases => {
  const { spread, factors, parameters } = options;
  const published = parametersOf(region, parameters);
  if (intensityPercent >= maximalFromPercent) {
    const restMultiplier = Math.max(1, published.restMultiplier * maximalRecoveryShare(parameters));
    const scaled = (factor: number): FatigueParameters => ({
      ...published,
      restMultiplier,
      fatiguePerSecond: published.fatiguePerSecond / factor,
    });
    return {
      low: scaled((1 - spread) * factors.low),
      central: scaled(factors.central),
      high: scaled((1 + spread) * factors.high),
      curve: enduranceTime(100, region, { spread }),
    };
  }
  const curve = enduranceTime(intensityPercent, region, { spread });
  // The closed form has all of the load active; in the model a share F/(drive + F) less is.
  const lasting = (seconds: number): FatigueParameters => {
    const { fatiguePerSecond } = withSustainedHold(intensityPercent / 100, seconds, published);
    return {
      ...published,
      fatiguePerSecond: fatiguePerSecond / (1 - fatiguePerSecond / drivePerSecond),
    };
  };
  return {
    low: lasting(curve.lowSeconds * factors.low),
    central: lasting(curve.centralSeconds * factors.central),
    high: lasting(curve.highSeconds * factors.high),
    curve,
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
