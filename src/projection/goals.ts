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
import { testModeOf } from "../records/test-mode.js";

/** What people train for, in words. */
export type ProjectionGoal = (typeof outcomeFamilies)[OutcomeFamily]["goals"][number]["name"];

type Goal = Readonly<{
  name: ProjectionGoal;
  family: OutcomeFamily;
  shortNames: readonly string[];
  usualGain: number;
  testError?: TestError;
}>;

const goals: readonly Goal[] = outcomeFamilyNames.flatMap((family) =>
  outcomeFamilies[family].goals.map((goal) => ({ ...goal, family })),
);

/** Every goal, in the order of the outcome families. */
export const projectionGoals: readonly ProjectionGoal[] = goals.map(({ name }) => name);

/** What is known of a goal: its outcome family, its short names, the error of a test of it. */
export const goalRecord = (name: ProjectionGoal): Goal => goals.find((goal) => goal.name === name)!;

/**
 * A test this close to a training angle counts as at it, degrees: what trials call the same angle.
 *
 * A gain reaches further than that: two steps of 5° (Kitai, Sale 1989) to 20° with nothing lost (Knapik 1983, both
 * abstracts).
 */
export const sameAngleWithinDegrees = 5;

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

/** Degrees between a row's test and the nearest angle trained; undefined where either is not coded. */
export const testDistanceDegrees = (row: OutcomeRow): number | undefined =>
  doseOf(row, "angleDistanceDegrees")?.value;

const speaksTo = (goal: ProjectionGoal, { row }: Effect): boolean => {
  const { family } = goalRecord(goal);
  if (row.outcomeFamily !== family || testModeOf(row) !== "isometric") return false;
  if (family !== "strength") return true;
  const distance = testDistanceDegrees(row);
  // A test at the trained angle is where the curve over angles begins, so it serves both goals.
  if (goal === "strength elsewhere") return distance !== undefined;
  return distance === undefined || distance <= sameAngleWithinDegrees;
};

/**
 * The effects that speak to a goal, with their covariances.
 *
 * Isometric tests alone (a blank test mode counts as isometric). Strength at the trained angle: tests within 5° of a
 * training angle, and those that do not code both angles. Strength elsewhere: every test whose distance is coded,
 * since the fall with distance is what is asked. The other goals: their outcome family.
 *
 * @source none: a choice of rows
 */
export const effectsForGoal = (set: EffectSet, goal: ProjectionGoal): EffectSet =>
  effectSubset(set, (effect) => speaksTo(goal, effect));
