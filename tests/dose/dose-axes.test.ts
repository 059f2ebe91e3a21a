import { expect, test } from "vitest";
import {
  axisWords,
  doseAxes,
  doseAxisNames,
  doseAxisOf,
  doseOf,
  followsFrom,
  tabledAxes,
  type DoseAxisName,
} from "../../src/dose/dose-axes.js";
import { CallError } from "../../src/errors.js";
import type { OutcomeRow } from "../../src/records/outcome-row.js";

const row: OutcomeRow = {
  line: 2,
  notReported: [],
  study: "A",
  arm: "1",
  armKind: "isometric",
  outcome: "peak isometric torque",
  intensityPercent: 80,
  holdSeconds: 5,
  repetitions: 6,
  sets: 4,
  restBetweenRepetitionsSeconds: 15,
  restBetweenSetsSeconds: 120,
  sessionsPerWeek: 3,
  weeks: 10,
  weekMeasured: 8,
  trainingAngleDegrees: [40, 100],
  testAngleDegrees: 85,
  muscleLength: "long",
  effortIntent: "as fast as possible",
  action: "pushing against a fixed stop",
};

/** Hand arithmetic on the row above. */
const expected: Readonly<Record<string, number>> = {
  intensityPercent: 80,
  holdSeconds: 5,
  repetitions: 6,
  sets: 4,
  contractionsPerSession: 24, // 4 × 6
  contractionsPerWeek: 72, // 24 × 3
  tensionTimePerSetSeconds: 30, // 6 × 5
  tensionTimePerSessionSeconds: 120, // 4 × 30
  tensionTimePerWeekSeconds: 360, // 120 × 3
  tensionTimeProgrammeSeconds: 2880, // 360 × 8: measured before the programme's end
  torqueTimePerSession: 9600, // 120 × 80
  torqueTimePerWeek: 28800, // 9600 × 3
  torqueTimeProgramme: 230400, // 28800 × 8
  dutyCyclePercent: 25, // 5 of 20 seconds
  restBetweenRepetitionsSeconds: 15,
  restBetweenSetsSeconds: 120,
  sessionsPerWeek: 3,
  weeks: 8,
  trainingAngleDegrees: 70, // mean of 40 and 100
  muscleLength: 1,
  angleDistanceDegrees: 15, // 100 − 85
  effortIntent: 1,
  action: 0,
  continuity: 0, // 6 holds in a set
};

test.each(doseAxisNames)("%s: value of a row by hand", (name) => {
  expect(doseOf(row, name)?.value).toBeCloseTo(expected[name]!, 10);
});

test("a way of training that is neither of the two takes no side, nor does one that is not coded", () => {
  const placeOf = (other: object, name: DoseAxisName) => doseOf({ ...row, ...other }, name)?.value;
  expect(placeOf({ muscleLength: "short" }, "muscleLength")).toBe(0);
  expect(placeOf({ muscleLength: "middle" }, "muscleLength")).toBeUndefined();
  expect(placeOf({ effortIntent: "ramped and sustained" }, "effortIntent")).toBe(0);
  expect(placeOf({ effortIntent: "to failure" }, "effortIntent")).toBeUndefined();
  expect(placeOf({ action: "holding a load" }, "action")).toBe(1);
  expect(placeOf({ action: undefined }, "action")).toBeUndefined();
  expect(placeOf({ repetitions: 1 }, "continuity")).toBe(1);
  expect(placeOf({ repetitions: undefined }, "continuity")).toBeUndefined();
});

test("which doses follow from which, over any number of steps", () => {
  expect(followsFrom("torqueTimeProgramme", "holdSeconds")).toBe(true);
  expect(followsFrom("dutyCyclePercent", "restBetweenRepetitionsSeconds")).toBe(true);
  expect(followsFrom("holdSeconds", "dutyCyclePercent")).toBe(false);
  expect(followsFrom("contractionsPerSession", "holdSeconds")).toBe(false);
  // of nested totals the session's stands in the table
  expect(tabledAxes.filter((name) => /^(tension|torque|contractions)/.test(name))).toEqual([
    "contractionsPerSession",
    "tensionTimePerSessionSeconds",
    "torqueTimePerSession",
  ]);
});

test("every axis says what it is", () => {
  for (const name of doseAxisNames) {
    const { label, definition, step, stepWords } = doseAxisOf(name);
    expect(label.length * definition.length * stepWords.length).toBeGreaterThan(0);
    expect(step).toBeGreaterThan(0);
  }
  expect(new Set(doseAxisNames.map((name) => doseAxes[name].label)).size).toBe(
    doseAxisNames.length,
  );
});

test("a range stands as its midpoint and is flagged, in everything made from it", () => {
  const range = { ...row, intensityPercentHigh: 90, holdSecondsHigh: 10 };
  const flagged = doseAxisNames.filter((name) => doseOf(range, name)?.isMidpoint);
  expect(flagged).toEqual([
    "intensityPercent",
    "holdSeconds",
    "contractionsPerSession",
    "contractionsPerWeek",
    "tensionTimePerSetSeconds",
    "tensionTimePerSessionSeconds",
    "tensionTimePerWeekSeconds",
    "tensionTimeProgrammeSeconds",
    "torqueTimePerSession",
    "torqueTimePerWeek",
    "torqueTimeProgramme",
    "dutyCyclePercent",
    "trainingAngleDegrees",
  ]);
  expect(doseOf(range, "intensityPercent")?.value).toBe(85);
  expect(doseOf(range, "holdSeconds")?.value).toBe(7.5);
  // 4 × 6 × 7.5 s × 85 %
  expect(doseOf(range, "torqueTimePerSession")?.value).toBeCloseTo(15300, 8);
});

test("what a row does not say has no dose", () => {
  const { intensityPercent: _i, holdSeconds: _h, muscleLength: _m, ...rest } = row;
  for (const name of [
    "intensityPercent",
    "holdSeconds",
    "muscleLength",
    "tensionTimePerSessionSeconds",
    "torqueTimePerWeek",
  ] as const)
    expect(doseOf(rest, name)).toBeUndefined();
  expect(doseOf({ ...row, muscleLength: "middle" }, "muscleLength")).toBeUndefined();
  expect(doseOf({ ...row, muscleLength: "short" }, "muscleLength")?.value).toBe(0);
});

test("maximal effort is a hundred percent; only isometric arms have these doses", () => {
  const { intensityPercent: _, ...rest } = row;
  expect(doseOf({ ...rest, intensityBasis: "maximal effort" }, "intensityPercent")?.value).toBe(
    100,
  );
  expect(doseOf({ ...row, armKind: "dynamic" }, "holdSeconds")).toBeUndefined();
  expect(doseOf({ ...row, armKind: "no exercise" }, "weeks")).toBeUndefined();
});

test("an axis that is none is refused by name", () => {
  expect(() => doseAxisOf("speed")).toThrow(CallError);
  expect(() => doseAxisOf("speed")).toThrow(/holdSeconds.*got "speed"/);
});

test("what people typed before an axis had its name of today is still read", () => {
  expect(axisWords("restBetweenRepetitionsSeconds")).toContain("rest between repetitions");
  expect(axisWords("repetitions")).toContain("repetitions in a set");
});
