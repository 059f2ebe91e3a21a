import { expect, test } from "vitest";
import { prescriptionOf } from "../../src/records/prescription-of.js";
import { rowOf } from "./record-table.js";

const dose = { sets: 4, repetitions: 6, holdSeconds: 5 };

test("prescriptionOf: the row's prescription fields and nothing else", () => {
  const row = rowOf({
    ...dose,
    holdSecondsHigh: 10,
    intensityPercent: 70,
    intensityPercentHigh: 80,
    intensityBasis: "percent of MVC at the training angle",
    action: "holding a load",
    weeks: 8,
    trainingAngleDegrees: [60],
  });
  expect(prescriptionOf(row)).toEqual({
    ...dose,
    holdSecondsHigh: 10,
    intensityPercent: 70,
    intensityPercentHigh: 80,
    intensityBasis: "percent of MVC at the training angle",
    action: "holding",
    weeks: 8,
    trainingAngleDegrees: [60],
  });
});

test("prescriptionOf: a rating stands in percent in the codebook and out of ten in a prescription", () => {
  const intensityBasis = "effort rating 0–10" as const;
  expect(prescriptionOf(rowOf({ ...dose, intensityPercent: 70, intensityBasis }))).toEqual({
    ...dose,
    effortRating: 7,
    intensityBasis,
  });
  const range = { ...dose, intensityPercent: 60, intensityPercentHigh: 80, intensityBasis };
  expect(prescriptionOf(rowOf(range))?.effortRating).toBe(7);
  expect(prescriptionOf(rowOf({ ...dose, intensityBasis }))).toEqual(dose);
});

test("prescriptionOf: undefined where a prescription cannot be made", () => {
  expect(prescriptionOf(rowOf({}))).toBeUndefined();
  expect(prescriptionOf(rowOf({ sets: 4, repetitions: 6 }))).toBeUndefined();
  expect(prescriptionOf(rowOf({ ...dose, repetitions: 1.5 }))).toBeUndefined();
  const reversed = rowOf({ ...dose, intensityPercent: 80, intensityPercentHigh: 70 });
  expect(prescriptionOf(reversed)).toBeUndefined();
});
