/** What people train for, and which effects of a file speak to it. */
import { CallError } from "../errors.js";
import type { Effect, EffectSet } from "../effects/effect.js";
import { effectSubset } from "../effects/effect-subset.js";
import { doseOf } from "../dose/dose-axes.js";
import {
  outcomeFamilies,
  outcomeFamilyNames,
  type OutcomeFamily,
  type TestError,
} from "../records/outcome-families.js";
import type { OutcomeRow } from "../records/outcome-row.js";

export type ProjectionGoal = (typeof outcomeFamilies)[OutcomeFamily]["goals"][number]["name"];

type Goal = Readonly<{
  name: ProjectionGoal;
  family: OutcomeFamily;
  shortNames: readonly string[];
  testError?: TestError;
}>;

const goals: readonly Goal[] = outcomeFamilyNames.flatMap((family) =>
  outcomeFamilies[family].goals.map((goal) => ({ ...goal, family })),
);

export const projectionGoals: readonly ProjectionGoal[] = goals.map(({ name }) => name);

/** What is known of a goal: its outcome family, its short names, the error of a test of it. */
export const goalRecord = (name: ProjectionGoal): Goal => goals.find((goal) => goal.name === name)!;

/**
 * A test this close to a training angle counts as at it, degrees.
 *
 * Trials disagree on how far a gain reaches: two steps of 5° (Kitai, Sale 1989) to 20° with nothing lost
 * (Knapik 1983, both abstracts); 10° is inside both.
 */
export const sameAngleWithinDegrees = 10;

/**
 * The goal a text names.
 *
 * @throws {CallError} "unknown-goal"
 * @source none: a reading
 * @example
 * goalOf("strength") // => "strength at the trained angle"
 */
export const goalOf = (text: string): ProjectionGoal => {
  const plain = text.trim().toLowerCase().replaceAll(/[-_]/g, " ");
  const found = goals.find(({ name, shortNames }) => name === plain || shortNames.includes(plain));
  if (found === undefined) {
    throw new CallError({
      code: "unknown-goal",
      where: "goal",
      needs: `one of ${projectionGoals.join(", ")}`,
      got: `"${text}"`,
    });
  }
  return found.name;
};

/** Tests that move, or whose angle is not one angle: they belong to neither strength goal. */
const movingTest = /isokinetic|one-repetition|1 ?RM|concentric|eccentric|dynamic|jump|lift/iu;

/** Degrees between a row's test and the nearest angle trained; undefined where either is not coded. */
export const testDistanceDegrees = (row: OutcomeRow): number | undefined =>
  doseOf(row, "angleDistanceDegrees")?.value;

const speaksTo = (goal: ProjectionGoal, { row }: Effect): boolean => {
  const { family } = goalRecord(goal);
  if (row.outcomeFamily !== family) return false;
  if (family !== "strength") return true;
  if (movingTest.test(row.outcome)) return false;
  const distance = testDistanceDegrees(row);
  // A test at the trained angle is where the curve over angles begins, so it serves both goals.
  if (goal === "strength elsewhere") return distance !== undefined;
  return distance === undefined || distance <= sameAngleWithinDegrees;
};

/**
 * The effects that speak to a goal, with their covariances.
 *
 * Strength at the trained angle: isometric tests within 10° of a training angle, and those that do not code both
 * angles. Strength elsewhere: every isometric test whose distance is coded, since the fall with distance
 * is what is asked. The other goals: their outcome family.
 *
 * @source none: a choice of rows; for 10°, Kitai TA, Sale DG (1989) and Knapik JJ and others (1983), abstracts
 */
export const effectsForGoal = (set: EffectSet, goal: ProjectionGoal): EffectSet =>
  effectSubset(set, (effect) => speaksTo(goal, effect));
