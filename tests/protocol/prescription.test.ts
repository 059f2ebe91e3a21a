/** Kind of evidence: one refusal per rule, each against the smallest sound prescription. */
import { describe, expect, test } from "vitest";
import { CallError } from "../../src/errors.js";
import {
  canonicalPrescription,
  checkPrescription,
  prescriptionIssues,
} from "../../src/protocol/prescription.js";
import type { Prescription } from "../../src/protocol/prescription.js";

const sound: Prescription = { sets: 1, repetitions: 4, holdSeconds: 30, intensityPercent: 70 };

test("a sound prescription passes and comes back unchanged", () => {
  expect(prescriptionIssues(sound)).toEqual([]);
  expect(checkPrescription(sound)).toBe(sound);
});

test("a rating names its basis, a basis with nothing on it is dropped, nothing else changes", () => {
  const rated: Prescription = { sets: 1, repetitions: 4, holdSeconds: 30, effortRating: 7 };
  expect(canonicalPrescription(rated)).toEqual({ ...rated, intensityBasis: "effort rating 0–10" });
  const bare: Prescription = { sets: 1, repetitions: 1, holdSeconds: 5 };
  expect(
    canonicalPrescription({ ...bare, intensityBasis: "percent of MVC at the training angle" }),
  ).toEqual(bare);
  expect(canonicalPrescription(sound)).toEqual(sound);
});

describe("refuses", () => {
  const changes: readonly (readonly [string, string, Partial<Prescription>])[] = [
    ["sets", "not-a-count", { sets: 0 }],
    ["sets", "not-a-count", { sets: 1.5 }],
    ["repetitions", "not-a-count", { repetitions: NaN }],
    ["repetitions", "too-many", { sets: 200, repetitions: 200 }],
    ["holdSeconds", "outside-limits", { holdSeconds: -3 }],
    ["holdSeconds", "outside-limits", { holdSeconds: Infinity }],
    ["holdSecondsHigh", "range-reversed", { holdSecondsHigh: 20 }],
    ["intensityPercent", "outside-limits", { intensityPercent: 0 }],
    ["intensityPercent", "outside-limits", { intensityPercent: 101 }],
    ["intensityPercentHigh", "range-reversed", { intensityPercentHigh: 70 }],
    ["effortRating", "two-efforts", { effortRating: 7, intensityBasis: "effort rating 0–10" }],
    ["intensityBasis", "basis-without-rating", { intensityBasis: "effort rating 0–10" }],
    ["restBetweenRepetitionsSeconds", "outside-limits", { restBetweenRepetitionsSeconds: -1 }],
    ["restBetweenSetsSeconds", "outside-limits", { restBetweenSetsSeconds: NaN }],
    ["sessionsPerWeek", "outside-limits", { sessionsPerWeek: 0 }],
    ["weeks", "outside-limits", { weeks: 5000 }],
    ["trainingAngleDegrees", "outside-limits", { trainingAngleDegrees: [] }],
    ["trainingAngleDegrees", "outside-limits", { trainingAngleDegrees: [90, NaN] }],
    ["effortIntent", "unreadable", { effortIntent: 'say "go"' }],
  ];
  test.each(changes)("%s (%s)", (column, code, change) => {
    const issues = prescriptionIssues({ ...sound, ...change });
    expect(issues.map((issue) => [issue.column, issue.code])).toContainEqual([column, code]);
    expect(() => checkPrescription({ ...sound, ...change }, "assess")).toThrow(CallError);
    expect(() => checkPrescription({ ...sound, ...change }, "assess")).toThrow(/^assess requires/u);
  });
  test("a percentage above 100 stands on another basis only", () => {
    const over = { ...sound, intensityPercent: 120 };
    expect(prescriptionIssues(over)).toHaveLength(1);
    expect(
      prescriptionIssues({ ...over, intensityBasis: "percent of MVC at another angle" }),
    ).toEqual([]);
  });
});
