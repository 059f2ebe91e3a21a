import { expect, test } from "vitest";
import { CallError } from "../../src/errors.js";
import {
  effectsForGoal,
  goalRecord,
  goalOf,
  projectionGoals,
  sameAngleWithinDegrees,
  type ProjectionGoal,
} from "../../src/projection/goals.js";
import { jointOfMuscle } from "../../src/projection/support.js";
import { handMadeSet } from "../dose/hand-made-set.js";

test.each([
  ["strength", "strength at the trained angle"],
  ["Size", "size"],
  [" rapid-force ", "rapid force"],
  ["elsewhere", "strength elsewhere"],
  ...projectionGoals.map((goal) => [goal, goal] as const),
] as const)("%s names the goal %s", (text, goal) => {
  expect(goalOf(text)).toBe(goal);
});

test("an unknown goal is refused with the list", () => {
  expect(() => goalOf("flexibility")).toThrow(CallError);
  expect(() => goalOf("flexibility")).toThrow(/rapid force/);
});

const effect = (row: Parameters<typeof handMadeSet>[0][number]["row"]) => ({
  study: "Ash",
  arm: "trained",
  estimate: 0.1,
  variance: 0.01,
  row: { ...row },
});

test("each goal gets the effects that speak to it", () => {
  const set = handMadeSet([
    effect({ trainingAngleDegrees: [60], testAngleDegrees: 60 }),
    effect({ trainingAngleDegrees: [60], testAngleDegrees: 60 + sameAngleWithinDegrees }),
    effect({ trainingAngleDegrees: [60], testAngleDegrees: 90 }),
    effect({}),
    effect({ testMode: "moving at fixed speed", trainingAngleDegrees: [60], testAngleDegrees: 60 }),
    // The mode says how a test was done, whatever the outcome is called.
    effect({ outcome: "isometric strength for lifting" }),
    effect({ testMode: "lifting" }),
    effect({ trainingAngleDegrees: [60], testAngleDegrees: 66 }),
    effect({ outcomeFamily: "size", outcome: "thickness" }),
    effect({ outcomeFamily: "tendon", outcome: "stiffness" }),
    effect({ outcomeFamily: "rapid force", outcome: "torque rise" }),
  ]);
  const chosen = (goal: ProjectionGoal): readonly number[] =>
    effectsForGoal(set, goal).effects.map(({ row }) => row.line - 2);
  expect(chosen("strength at the trained angle")).toEqual([0, 1, 3, 5]);
  expect(chosen("strength elsewhere")).toEqual([0, 1, 2, 7]);
  expect(chosen("size")).toEqual([8]);
  expect(chosen("tendon")).toEqual([9]);
  expect(chosen("rapid force")).toEqual([10]);
  expect(goalRecord("strength elsewhere").family).toBe("strength");
});

test("published typical errors, as read in the facts, each with where it comes from", () => {
  // Strength 5 % at 70–90° and 8 % at the ends (six-angle study), inside 3.1–7.4 % and above; thickness 2.4 %;
  // torque rise 16.4%. No error of a tendon's stiffness was read.
  const errors = projectionGoals.map((goal) => [goal, goalRecord(goal).testError] as const);
  expect(errors.map(([goal, error]) => [goal, error?.deviation])).toEqual([
    ["strength at the trained angle", 0.05],
    ["strength elsewhere", 0.08],
    ["size", 0.024],
    ["tendon", undefined],
    ["rapid force", 0.164],
  ]);
  for (const [, error] of errors)
    if (error !== undefined) expect(error.source.length).toBeGreaterThan(40);
});

test.each([
  ["knee extensors", "knee"],
  ["Plantarflexors", "ankle"],
  ["elbow flexors", "elbow"],
  ["first dorsal interosseus of the hand", "hand"],
  ["tongue", undefined],
  [undefined, undefined],
] as const)("%s moves the %s", (muscle, joint) => {
  expect(jointOfMuscle(muscle)).toBe(joint);
});
