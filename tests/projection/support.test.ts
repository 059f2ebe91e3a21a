import { describe, expect, test } from "vitest";
import {
  armsByDistance,
  doseDistance,
  evidenceArms,
  outsideCoded,
  placeOfPrescription,
  supportLimits,
  type DosePlace,
} from "../../src/projection/support.js";
import { parsePrescription } from "../../src/protocol/written-form.js";
import { handMadeSet, sessionOf } from "../dose/hand-made-set.js";

const place: DosePlace = {
  effortPercent: 70,
  holdSeconds: 10,
  tensionTimeSeconds: 100,
  sessionsPerWeek: 3,
  weeks: 8,
  muscleLength: "middle",
  joint: "knee",
};

describe("distance in steps, by hand", () => {
  test.each([
    ["20 points of effort", { effortPercent: 90 }, 1],
    ["half the hold", { holdSeconds: 5 }, 1],
    ["four times the tension", { tensionTimeSeconds: 400 }, 2],
    ["two sessions more", { sessionsPerWeek: 5 }, 2],
    ["two weeks less", { weeks: 6 }, 0.5],
    ["the next length", { muscleLength: "long" }, 1],
    ["another joint", { joint: "elbow" }, 1],
    ["effort and hold together", { effortPercent: 50, holdSeconds: 20 }, Math.SQRT2],
    ["nothing", {}, 0],
  ] as const)("%s", (_, change, distance) => {
    const other = { ...place, ...change };
    expect(doseDistance(place, other)).toBeCloseTo(distance, 12);
    expect(doseDistance(other, place)).toBeCloseTo(distance, 12);
  });

  test("half a step where one does not say, nothing where neither does", () => {
    const { weeks: _, ...without } = place;
    expect(doseDistance(place, without)).toBeCloseTo(0.5, 12);
    expect(doseDistance(without, without)).toBe(0);
  });

  test.each(["effortPercent", "holdSeconds", "tensionTimeSeconds"] as const)(
    "without %s an arm is never near, whether or not the other side says it",
    (axis) => {
      const { [axis]: _, ...without } = place;
      expect(doseDistance(place, without)).toBeCloseTo(3, 12);
      expect(doseDistance(without, without)).toBeCloseTo(3, 12);
      expect(supportLimits.near).toBeLessThan(3);
    },
  );

  test("two of them unknown are too far for any projection: √(9 + 9) is 4.2 steps", () => {
    const { holdSeconds: _hold, effortPercent: _effort, ...without } = place;
    expect(doseDistance(place, without)).toBeCloseTo(Math.sqrt(18), 12);
    expect(doseDistance(place, without)).toBeGreaterThan(supportLimits.far);
  });
});

test("a prescription's place", () => {
  expect(
    placeOfPrescription(
      parsePrescription("4 x 5 x 6 s at 70-80%, 3/week, 12 weeks, long"),
      undefined,
      "knee",
    ),
  ).toEqual({
    effortPercent: 75,
    holdSeconds: 6,
    tensionTimeSeconds: 120,
    sessionsPerWeek: 3,
    weeks: 12,
    muscleLength: "long",
    joint: "knee",
  });
});

describe("the arms behind effects", () => {
  const at = (weekMeasured: number, arm = "trained", estimate = 0.1) => ({
    study: "Ash",
    arm,
    estimate,
    variance: 0.004,
    row: { ...sessionOf(4, 5, 6, 70), weeks: 12, weekMeasured, muscleGroup: "knee extensors" },
  });
  const arms = evidenceArms(handMadeSet([at(4), at(12, "trained", 0.3), at(8, "other")]).effects);

  test("an arm measured twice is one arm, standing at its latest time", () => {
    expect(arms).toHaveLength(2);
    expect(arms[0]).toMatchObject({
      arm: "trained",
      lines: [2, 3],
      effects: [0, 1],
      participants: 10,
      place: { weeks: 12, effortPercent: 70, tensionTimeSeconds: 120, joint: "knee" },
    });
    expect(arms[0]!.meanEffect).toBeCloseTo(0.2, 12);
  });

  test("are sorted by distance, ties in the file's order", () => {
    const sorted = armsByDistance(arms, { ...arms[1]!.place });
    expect(sorted.map(({ arm }) => arm.arm)).toEqual(["other", "trained"]);
    expect(sorted.map(({ distance }) => distance)).toEqual([0, 1]);
    const level = armsByDistance(arms, { ...arms[1]!.place, weeks: 10 });
    expect(level.map(({ arm }) => arm.arm)).toEqual(["trained", "other"]);
  });
});

test("a protocol is set against what arms code: outside it, and coded by none", () => {
  const { sessionsPerWeek: _, ...session } = sessionOf(4, 5, 6, 70);
  const coded = (holdSeconds: number) => ({
    study: "Ash",
    arm: `${holdSeconds}`,
    estimate: 0.1,
    variance: 0.004,
    row: { ...session, holdSeconds },
  });
  const { effects } = handMadeSet([coded(5), coded(10)]);
  const arms = evidenceArms(effects);
  expect(
    outsideCoded(arms, { ...place, holdSeconds: 12, tensionTimeSeconds: 250, weeks: 8 }).map(
      ({ message }) => message,
    ),
  ).toEqual([
    "hold length 12 s is outside what was studied (5 to 10)",
    "tension time in a session 250 s is outside what was studied (100 to 200)",
    "no arm codes sessions a week",
    "no arm codes muscle length",
  ]);
  // Two arms of one study are one study of a category.
  const knee = (study: string) => ({
    ...arms[0]!,
    cohort: study,
    place: { joint: "knee" } as const,
  });
  const rare = (...studies: string[]) =>
    outsideCoded(studies.map(knee), { joint: "knee", muscleLength: "long" }).map(
      ({ message }) => message,
    );
  expect(rare("Ash", "Ash")).toEqual([
    "no arm codes muscle length",
    "only one study of the file trained the knee",
  ]);
  expect(rare("Ash", "Birch")).toEqual(["no arm codes muscle length"]);
  const long = { ...knee("Cedar"), place: { muscleLength: "long" } as const };
  expect(outsideCoded([knee("Ash"), long], { muscleLength: "short" })[0]?.message).toBe(
    "no study of the file trained at short muscle length",
  );
  expect(outsideCoded([long], { muscleLength: "long" })[0]?.message).toBe(
    "only one study of the file trained at long muscle length",
  );
  // All arms have 70%: 75 is within a tenth of it, 80 is not.
  expect(outsideCoded(arms, { effortPercent: 75 })).toEqual([]);
  expect(outsideCoded(arms, { effortPercent: 80 })).toHaveLength(1);
});
