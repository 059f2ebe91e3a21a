import { CallError } from "../errors.js";
import type { EffectScale } from "./effect.js";

/** A mean with the standard deviation of the people around it, in the outcome's unit. */
export type MeanAndDeviation = Readonly<{ mean: number; deviation: number }>;

/** One group measured once. */
export type GroupSummary = MeanAndDeviation & Readonly<{ participants: number }>;

/** One group measured before and after, with the correlation of the two measurements. */
export type PairedSummary = Readonly<{
  before: MeanAndDeviation;
  after: MeanAndDeviation;
  /** Correlation of the people's two measurements, within −1 to 1. */
  correlation: number;
  participants: number;
}>;

/** What every formula of this room returns: never a bare pair of numbers. */
export type ScaledEstimate = Readonly<{ scale: EffectScale; estimate: number; variance: number }>;

/**
 * The number itself, refused unless it is a finite number for which `holds` is true.
 *
 * @param value  any number
 * @param demand  who asks (`where`), for what (`needs`), and the test that must pass
 * @returns the value unchanged
 * @throws {CallError} "out-of-range" naming the function, the need and the value
 * @source none: a guard of this project
 */
export const demanded = (
  value: number,
  demand: Readonly<{ where: string; needs: string; holds: (value: number) => boolean }>,
): number => {
  if (Number.isFinite(value) && demand.holds(value)) return value;
  throw new CallError({
    code: "out-of-range",
    where: demand.where,
    needs: demand.needs,
    got: String(value),
  });
};

const wholeFrom =
  (least: number) =>
  (value: number): boolean =>
    Number.isInteger(value) && value >= least;

/**
 * The group itself, refused when a number of it cannot be (people below `least`, negative deviation).
 *
 * @source none: a guard of this project
 */
export const checkedGroup = (
  group: GroupSummary,
  options: Readonly<{ where: string; least?: number; positiveMean?: boolean }>,
): GroupSummary => {
  const { where, least = 2, positiveMean = false } = options;
  const words = `at least ${least} participants, as a whole number`;
  demanded(group.participants, { where, needs: words, holds: wholeFrom(least) });
  demanded(group.mean, {
    where,
    needs: positiveMean ? "a mean above 0 (a ratio has no meaning otherwise)" : "a finite mean",
    holds: (mean) => !positiveMean || mean > 0,
  });
  demanded(group.deviation, {
    where,
    needs: "a standard deviation of 0 or more",
    holds: (deviation) => deviation >= 0,
  });
  return group;
};

/**
 * The paired summary itself, refused when a number of it cannot be.
 *
 * @source none: a guard of this project
 */
export const checkedPaired = (
  paired: PairedSummary,
  options: Readonly<{ where: string; least?: number; positiveMean?: boolean }>,
): PairedSummary => {
  checkedGroup({ ...paired.before, participants: paired.participants }, options);
  checkedGroup({ ...paired.after, participants: paired.participants }, options);
  demanded(paired.correlation, {
    where: options.where,
    needs: "a pre–post correlation within −1 to 1",
    holds: (correlation) => Math.abs(correlation) <= 1,
  });
  return paired;
};

/**
 * Standard deviation of the people's changes, from the deviations at both times and their correlation.
 *
 *   s_c = √(s₁² + s₂² − 2·r·s₁·s₂)      s₁, s₂ = deviations before, after;  r = pre–post correlation
 *
 * @param paired  both deviations and the correlation; the means are not used
 * @returns deviation of the changes, in the outcome's unit
 * @source none: variance of a difference of two correlated quantities
 * @example
 * changeDeviation({ before: { mean: 0, deviation: 3 }, after: { mean: 0, deviation: 4 }, correlation: 0, participants: 9 })
 * // => 5
 */
export const changeDeviation = (paired: PairedSummary): number => {
  const before = paired.before.deviation;
  const after = paired.after.deviation;
  // Equal to s₁² + s₂² − 2·r·s₁·s₂ but never below zero by rounding when r is 1.
  return Math.sqrt((before - after) ** 2 + 2 * (1 - paired.correlation) * before * after);
};

/**
 * Standard deviation pooled over two groups, weighted by their degrees of freedom.
 *
 *   s_p = √(((n₁−1)·s₁² + (n₂−1)·s₂²) / (n₁+n₂−2))
 *
 * @source none: the definition every textbook shares
 */
export const pooledDeviation = (
  first: Readonly<{ deviation: number; participants: number }>,
  second: Readonly<{ deviation: number; participants: number }>,
): number =>
  Math.sqrt(
    ((first.participants - 1) * first.deviation ** 2 +
      (second.participants - 1) * second.deviation ** 2) /
      (first.participants + second.participants - 2),
  );
