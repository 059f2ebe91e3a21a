/**
 * Published rates of the three-compartment fatigue model, by joint: the default set and the set used
 * to see how much an answer rests on that choice.
 */
import { CallError } from "../errors.js";
import { studentTQuantile } from "../numeric/student-t.js";
import type { EnduranceRegion } from "./regions.js";

/** Rates of the model. All per second; the multiplier has no unit. */
export type FatigueParameters = Readonly<{
  /** Rate at which active muscle becomes fatigued, 1/s. */
  fatiguePerSecond: number;
  /** Rate at which fatigued muscle recovers under load, 1/s. */
  recoveryPerSecond: number;
  /** How many times faster it recovers at rest. */
  restMultiplier: number;
}>;

/** Rate at which muscle is called up and let go, 1/s, as in public code of the model. */
export const drivePerSecond = 10;

/**
 * The default set.
 *
 * Fatigue and recovery: Frey-Law, Looft & Heitsman 2012, Table 1, where ankle has fatigue 0.00589 and
 * recovery 0.00058, shoulder 0.0182 and 0.00168; the abstract prints these four with their labels
 * crossed. Rest multiplier: Looft et al. 2018; 15 for ankle, knee and elbow, 30 for the hand; for
 * trunk and the general set nobody has fitted one, and 15 is assumed; for the shoulder 15 was the
 * better of 15 and 30 (Looft & Frey-Law 2020).
 *
 * @source Frey-Law LA, Looft JM, Heitsman J (2012) J Biomech 45:1803–1808, doi
 *   10.1016/j.jbiomech.2012.04.018 (table read in a public transcription)
 * @source Looft JM, Herkert N, Frey-Law L (2018) J Biomech 77:16–25, doi
 *   10.1016/j.jbiomech.2018.06.005 (abstract)
 * @source Looft JM, Frey-Law LA (2020) J Biomech 106:109762, doi 10.1016/j.jbiomech.2020.109762
 */
export const fatigueParameters: Readonly<Record<EnduranceRegion, FatigueParameters>> = {
  general: { fatiguePerSecond: 0.0097, recoveryPerSecond: 0.00091, restMultiplier: 15 },
  ankle: { fatiguePerSecond: 0.00589, recoveryPerSecond: 0.00058, restMultiplier: 15 },
  knee: { fatiguePerSecond: 0.015, recoveryPerSecond: 0.00149, restMultiplier: 15 },
  trunk: { fatiguePerSecond: 0.00755, recoveryPerSecond: 0.00075, restMultiplier: 15 },
  shoulder: { fatiguePerSecond: 0.0182, recoveryPerSecond: 0.00168, restMultiplier: 15 },
  elbow: { fatiguePerSecond: 0.00912, recoveryPerSecond: 0.00094, restMultiplier: 15 },
  hand: { fatiguePerSecond: 0.0098, recoveryPerSecond: 0.00064, restMultiplier: 30 },
};

/** Regions whose rest multiplier is assumed, not fitted. */
export const restMultiplierAssumed: readonly EnduranceRegion[] = ["general", "trunk"];

/**
 * The other published set, by joint, fitted to torque decline in sustained and intermittent tasks;
 * for a sensitivity run. Its endurance times stray from the empirical curves (ankle about half as
 * long at 30–70% of MVC, knee 40–80% longer at 20–70%).
 *
 * @source Rakshit R, Xiang Y, Yang J (2021) J Biomech 127:110695, doi
 *   10.1016/j.jbiomech.2021.110695, Table 2 (read in a public transcription)
 */
export const alternativeFatigueParameters: Readonly<
  Partial<Record<EnduranceRegion, FatigueParameters>>
> = {
  ankle: { fatiguePerSecond: 0.01485, recoveryPerSecond: 0.00333, restMultiplier: 9.31 },
  elbow: { fatiguePerSecond: 0.01086, recoveryPerSecond: 0.00225, restMultiplier: 4.93 },
  hand: { fatiguePerSecond: 0.01227, recoveryPerSecond: 0.00134, restMultiplier: 9.1 },
  knee: { fatiguePerSecond: 0.00825, recoveryPerSecond: 0.00076, restMultiplier: 14.85 },
};

/**
 * The same parameters, once they are known to make sense: positive rates, slower than the drive, and
 * fatigue faster than recovery. The last catches the crossed labels of the 2012 abstract.
 *
 * @throws {CallError} "outside-limits" or "crossed-labels"
 */
export const checkFatigueParameters = (
  parameters: FatigueParameters,
  where = "checkFatigueParameters",
): FatigueParameters => {
  const { fatiguePerSecond, recoveryPerSecond, restMultiplier } = parameters;
  const fast = 1;
  if (
    !(fatiguePerSecond > 0 && fatiguePerSecond < fast) ||
    !(recoveryPerSecond > 0 && recoveryPerSecond < fast) ||
    !(restMultiplier >= 1 && restMultiplier * recoveryPerSecond < fast)
  )
    throw new CallError({
      code: "outside-limits",
      where,
      needs: "rates above 0 and below 1 per second, and a rest multiplier of at least 1",
      got: `fatigue ${fatiguePerSecond}, recovery ${recoveryPerSecond}, multiplier ${restMultiplier}`,
      try: "check that the rates are per second, not per minute",
    });
  if (fatiguePerSecond < recoveryPerSecond)
    throw new CallError({
      code: "crossed-labels",
      where,
      needs: "fatigue faster than recovery",
      got: `fatigue ${fatiguePerSecond}, recovery ${recoveryPerSecond}`,
      try: "the 2012 abstract prints ankle and shoulder with their labels crossed; use its Table 1",
    });
  return parameters;
};

/**
 * Holding a load against pushing a fixed stop: how much sooner the first fails, as one study saw it.
 */

/**
 * Times to failure at 80% of MVC, elbow extensors, same ten people in both.
 *
 * @source Schaefer LV, Bittmann FN (2017), doi 10.1186/s13102-017-0075-z (abstract); the ± values
 *   are taken to be standard deviations
 */
export const holdingStudy = {
  participants: 10,
  intensityPercent: 80,
  holding: { meanSeconds: 19, standardDeviationSeconds: 8 },
  pushing: { meanSeconds: 41, standardDeviationSeconds: 24 },
} as const;

/** Ratio of times to failure, holding / pushing, with its 95 % interval. */
export type HoldingModifier = Readonly<{ ratio: number; low: number; high: number }>;

/**
 * How long a load is held as a share of how long the same force is pushed: 19/41, with an interval.
 *
 * ln ratio ± t·√(s₁²/(n·m₁²) + s₂²/(n·m₂²)), t the 97.5% point with n − 1 degrees of freedom. The two
 * times come from the same people, but how they go together is not printed; they are taken as
 * independent, which makes the interval wider than it would be were they alike.
 */
export const holdingModifier = (): HoldingModifier => {
  const { participants, holding, pushing } = holdingStudy;
  const relative = (arm: typeof holding | typeof pushing): number =>
    (arm.standardDeviationSeconds / arm.meanSeconds) ** 2 / participants;
  const ratio = holding.meanSeconds / pushing.meanSeconds;
  const reach = Math.exp(
    studentTQuantile(0.975, participants - 1) * Math.sqrt(relative(holding) + relative(pushing)),
  );
  return { ratio, low: ratio / reach, high: ratio * reach };
};
