import { describe, expect, test } from "vitest";
import { mostFinish } from "../../src/endurance/can-be-held.js";
import { CallError } from "../../src/errors.js";
import {
  exploreDefaults,
  exploreProtocols,
  type ExploreLimits,
} from "../../src/projection/explore-protocols.js";
import { prepareProjection } from "../../src/projection/prepare-projection.js";
import { handMadeRegister, quickOptions, registerPairs } from "./hand-made-register.js";

/** Sets, repetitions and hold of the studies in turn: 75 to 150 s of tension, holds of 5 and 10 s. */
const sessions = [
  [3, 5, 5],
  [5, 5, 5],
  [6, 5, 5],
  [1, 8, 10],
] as const;
const varied = registerPairs.map((one, i) => {
  const [sets, repetitions, holdSeconds] = sessions[Math.floor(i / 2) % 4]!;
  return { ...one, row: { ...one.row, sets, repetitions, holdSeconds } };
});
const prepared = prepareProjection(handMadeRegister(varied), quickOptions);
const limits: ExploreLimits = {
  minutesPerSession: 12,
  sessionsPerWeek: 3,
  effortCeilingPercent: 85,
  joint: "knee",
  weeks: 8,
};

describe("the frontier", () => {
  const found = exploreProtocols(prepared, limits);
  if (found.kind !== "frontier") throw new Error(found.reason);
  const { points, candidates, excluded, tried } = found;

  test("no supported candidate takes no more time and gives more by the step", () => {
    expect(points.length).toBeGreaterThan(0);
    const step = exploreDefaults.smallestStepPercent;
    const gainOf = new Map(candidates.map((one) => [one.written, one.expectedPercent]));
    for (const point of points) {
      const own = gainOf.get(point.written)!;
      for (const other of candidates)
        if (other.minutesPerWeek <= point.minutesPerWeek)
          expect(other.expectedPercent).toBeLessThan(own + step);
    }
  });

  test("every next point takes longer and is expected to give more", () => {
    points.slice(1).forEach((point, i) => {
      expect(point.minutesPerWeek).toBeGreaterThan(points[i]!.minutesPerWeek);
      expect(point.overPrevious!.difference.estimate).toBeGreaterThan(0);
      expect(point.overPrevious!.probabilityBetter).toBeGreaterThan(0.5);
    });
    expect(points[0]!.overPrevious).toBeUndefined();
  });

  test("all lie inside the limits, are finished by most, and are not extrapolated", () => {
    for (const { prescription, minutesPerSession, grade, projection } of points) {
      expect(minutesPerSession).toBeLessThanOrEqual(limits.minutesPerSession);
      // every arm trained three times a week, so fewer sessions are no bargain the file could know of
      expect(prescription.sessionsPerWeek).toBe(3);
      expect(prescription.intensityPercent).toBeLessThanOrEqual(limits.effortCeilingPercent);
      expect(mostFinish(grade)).toBe(true);
      expect(projection.support.extrapolates).toBe(false);
      expect(projection.support.nearArms).toBeGreaterThan(0);
    }
  });

  test("no rest is shorter than 15 s unless asked for", () => {
    const restsOf = (leastRestSeconds?: number) => {
      const one = exploreProtocols(prepared, {
        ...limits,
        ...(leastRestSeconds === undefined ? {} : { leastRestSeconds }),
      });
      if (one.kind !== "frontier") throw new Error(one.reason);
      return one.candidates.map(({ written }) => Number(/rest (\d+) s/.exec(written)![1]));
    };
    expect(Math.min(...restsOf())).toBe(15);
    expect(Math.min(...restsOf(2))).toBeLessThan(15);
    expect(Math.min(...restsOf(45))).toBe(45);
  });

  test("every candidate's fate is counted", () => {
    expect(
      excluded.tooLong + excluded.cannotBeHeld + excluded.notSupported + candidates.length,
    ).toBe(tried);
    expect(excluded.cannotBeHeld).toBeGreaterThan(0);
    expect(found.notes.map(({ code }) => code).slice(0, 2)).toEqual([
      "best-of-many",
      "shortest-rests",
    ]);
  });
});

test("a ceiling below all evidence leaves nothing, and says what fell out", () => {
  const found = exploreProtocols(prepared, { ...limits, effortCeilingPercent: 30 });
  if (found.kind !== "refusal") throw new Error("not refused");
  expect(found.reason).toMatch(/none of \d+ candidates/);
  expect(found.reason).toContain("outside what was studied");
});

test.each([
  { minutesPerSession: 0 },
  { sessionsPerWeek: 0 },
  { effortCeilingPercent: 10 },
  { effortCeilingPercent: 120 },
  { minutesPerSession: Number.NaN },
])("limits that make no sense are refused: %j", (wrong) => {
  expect(() => exploreProtocols(prepared, { ...limits, ...wrong })).toThrow(CallError);
});

test.each([
  [{ intensityPercent: 70 }, "this file cannot say what any intensity, hold or volume would give"],
  [{}, "only intensity is in the model, so gain cannot be set against time"],
] as const)("a model without what takes time is refused: %j", (row, why) => {
  // All arms train 4 × 5 × 6 s three times a week; only intensity differs, or nothing.
  const alike = prepareProjection(
    handMadeRegister(registerPairs.map((one) => ({ ...one, row: { ...one.row, ...row } }))),
    quickOptions,
  );
  const found = exploreProtocols(alike, limits);
  expect(found).toMatchObject({ kind: "refusal", code: "no-protocol-told" });
  expect((found as { reason: string }).reason).toContain(why);
});
