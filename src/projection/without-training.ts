/** How often a gain is seen in people who do not train: the chance that every chance of a gain stands beside. */
import type { Effect } from "../effects/effect.js";
import { normalProbability } from "../numeric/normal.js";
import { grouped } from "../records/grouped.js";
import { poolEffects } from "../synthesis/pool-effects.js";
import type { ReadyProjection } from "./prepare-projection.js";
import type { ThreeRanges } from "./three-ranges.js";

export type WithoutTraining = Readonly<{
  arms: number;
  studies: number;
  /** Their pooled mean log change, its standard error, and the deviation between groups. */
  mean: number;
  standardError: number;
  groupDeviation: number;
  /** Chance of a gain: of the average of such arms, of a new one, of one person in it. */
  chances: Readonly<Record<keyof ThreeRanges, number>>;
}>;

/**
 * The chance of a gain without training, by a file's control arms: Φ(m/s) with m their pooled mean log change.
 *
 *   average: s = SE;  new group: s² = SE² + τ²;  single person: + the spread of people's changes without training
 *
 * @param controls changes of arms that did not train, tested as the trained ones; the first of each arm is used
 * @returns undefined without such an arm
 * @source none: normal theory on the random-effects average
 */
export const withoutTraining = (
  controls: readonly Effect[],
  { individual, measurement }: Pick<ReadyProjection, "individual" | "measurement">,
): WithoutTraining | undefined => {
  const arms = [...grouped(controls, ({ cohort, arm }) => `${cohort}\u0000${arm}`).values()].map(
    ([first]) => first!,
  );
  if (arms.length === 0) return undefined;
  const pooled = poolEffects(
    arms.map(({ cohort, arm, estimate, variance }) => ({
      effectId: `${cohort} ${arm}`,
      study: `${cohort} ${arm}`,
      estimate,
      variance,
    })),
  );
  const { estimate, standardError, heterogeneity } = pooled;
  const person = individual.controlDeviation ?? Math.SQRT2 * (measurement?.deviation ?? 0);
  const groupDeviation = Math.sqrt(heterogeneity.betweenVariance ?? 0);
  const group = Math.hypot(standardError, groupDeviation);
  const chance = (deviation: number): number => normalProbability(estimate / deviation);
  return {
    arms: arms.length,
    studies: new Set(arms.map(({ cohort }) => cohort)).size,
    mean: estimate,
    standardError,
    groupDeviation,
    chances: {
      average: chance(standardError),
      newGroup: chance(group),
      person: chance(Math.hypot(group, person)),
    },
  };
};
