/**
 * Holding a load against pushing a fixed stop: how much sooner the first fails, as one study saw it.
 */
import { studentTQuantile } from "../numeric/student-t.js";

/**
 * Times to failure at 80 % of MVC, elbow extensors, same ten people in both.
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
 * ln ratio ± t·√(s₁²/(n·m₁²) + s₂²/(n·m₂²)), t the 97.5 % point with n − 1 degrees of freedom. The two
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
