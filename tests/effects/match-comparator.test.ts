import { expect, test } from "vitest";
import { bestMatch, isControlFor, testMatch } from "../../src/effects/match-comparator.js";
import { rowOf } from "./outcome-row.js";

const row = rowOf({ line: 2, testAngleDegrees: 60, weekMeasured: 8, method: "dynamometer" });

test("the same test: equal fields agree, a blank fits anything, a difference does not match", () => {
  expect(testMatch(row, { ...row, line: 3 })).toBe(7);
  expect(testMatch(row, { ...row, outcome: " Peak  isometric TORQUE " })).toBe(7);
  const { weekMeasured: _, ...blankWeek } = row;
  expect(testMatch(row, blankWeek)).toBe(6);
  expect(testMatch(row, { ...row, testAngleDegrees: 90 })).toBeUndefined();
  expect(testMatch(row, { ...row, testMode: "lifting" })).toBeUndefined();
  expect(testMatch(row, { ...row, outcome: "muscle volume" })).toBeUndefined();
});

test("the side tested is not compared between limbs of the same people", () => {
  const trained = { ...row, testSide: "trained" as const };
  const other = { ...row, testSide: "untrained" as const };
  expect(testMatch(trained, other)).toBeUndefined();
  const limbs = { design: "within-person limbs" } as const;
  expect(testMatch({ ...trained, ...limbs }, { ...other, ...limbs })).toBe(6);
});

test("a control named for certain arms serves no other; an unnamed one serves all", () => {
  const control = rowOf({ line: 3, arm: "control", armKind: "no exercise" });
  expect(isControlFor(control, row)).toBe(true);
  expect(isControlFor({ ...control, comparatorOf: "other / Trained" }, row)).toBe(true);
  expect(isControlFor({ ...control, comparatorOf: "other" }, row)).toBe(false);
  expect(isControlFor({ ...control, armKind: "dynamic" }, row)).toBe(false);
});

test("the row with most fields alike is taken, and other arms that match are told", () => {
  const { weekMeasured: _, ...blankWeek } = { ...row, arm: "a", line: 3 };
  const exact = { ...row, arm: "b", line: 4 };
  const best = bestMatch(row, [blankWeek, exact], () => 0);
  expect([best?.row.line, best?.otherArms]).toEqual([4, ["a"]]);
  expect(bestMatch(row, [], () => 0)).toBeUndefined();
});
