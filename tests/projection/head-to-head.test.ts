import { expect, test } from "vitest";
import { samplingCovarianceOf } from "../../src/effects/sampling-covariance.js";
import { headToHead } from "../../src/projection/head-to-head.js";
import { evidenceArms, type DosePlace } from "../../src/projection/support.js";
import { handMadeSet, sessionOf, type WrittenEffect } from "../dose/hand-made-set.js";

const arm = (
  study: string,
  name: string,
  effort: number,
  estimate: number,
  fields: WrittenEffect["row"] = {},
): WrittenEffect => ({
  study,
  arm: name,
  estimate,
  variance: 0.004,
  row: { ...sessionOf(4, 5, 6, effort), ...fields },
});

const place = (effortPercent: number): DosePlace => ({
  effortPercent,
  holdSeconds: 6,
  tensionTimeSeconds: 120,
  sessionsPerWeek: 3,
  weeks: 8,
});
const places = [place(90), place(60)] as const;
const found = (
  written: readonly WrittenEffect[],
  covariances: Parameters<typeof handMadeSet>[1] = [],
) => {
  const set = handMadeSet(written, covariances);
  return headToHead(set, evidenceArms(set.effects), places);
};

test("one trial with independent arms, by hand", () => {
  // 0.25 − 0.15 = 0.10 with variance 0.004 + 0.004
  const { trials, pooled } = found([
    arm("Ash", "hard", 90, 0.25),
    arm("Ash", "easy", 60, 0.15),
    arm("Birch", "hard", 90, 0.3),
  ]);
  expect(trials).toHaveLength(1);
  const [trial] = trials;
  expect(trial).toMatchObject({
    study: "Ash",
    firstArm: "hard",
    secondArm: "easy",
    firstDistance: 0,
    secondDistance: 0,
    readings: 1,
    lines: [2, 3],
  });
  expect(trial!.estimate).toBeCloseTo(0.1, 12);
  expect(trial!.standardError).toBeCloseTo(Math.sqrt(0.008), 12);
  expect(trial!.interval.high).toBeCloseTo(0.1 + 1.959963984540054 * Math.sqrt(0.008), 9);
  expect(pooled!.estimate).toBe(trial!.estimate);
});

test("limbs of the same people: their covariance comes off twice", () => {
  // 0.004 + 0.004 − 2·0.003
  const { trials } = found(
    [arm("Ash", "hard", 90, 0.25), arm("Ash", "easy", 60, 0.15)],
    [{ indices: [0, 1], values: [0.004, 0.003, 0.003, 0.004] }],
  );
  expect(trials[0]!.standardError).toBeCloseTo(Math.sqrt(0.002), 12);
});

test("only readings that both arms have are compared, and are averaged", () => {
  // at 60° 0.10, at 90° 0.04: mean 0.07 with variance (0.008 + 0.008)/4
  const at = (degrees: number) => ({ testAngleDegrees: degrees });
  const { trials } = found([
    arm("Ash", "hard", 90, 0.25, at(60)),
    arm("Ash", "hard", 90, 0.2, at(90)),
    arm("Ash", "hard", 90, 0.9, at(30)),
    arm("Ash", "easy", 60, 0.15, at(60)),
    arm("Ash", "easy", 60, 0.16, at(90)),
  ]);
  expect(trials[0]!.readings).toBe(2);
  expect(trials[0]!.estimate).toBeCloseTo(0.07, 12);
  expect(trials[0]!.standardError).toBeCloseTo(Math.sqrt(0.016) / 2, 12);
});

test("of one study the nearest pair is used; arms nearer to the other protocol do not count", () => {
  const { trials } = found([
    arm("Ash", "hard", 90, 0.25),
    arm("Ash", "hardish", 80, 0.2),
    arm("Ash", "easy", 60, 0.15),
  ]);
  expect(trials).toHaveLength(1);
  expect(trials[0]!.firstArm).toBe("hard");
  expect(found([arm("Ash", "hard", 90, 0.25), arm("Ash", "hardish", 80, 0.2)]).trials).toEqual([]);
});

test("two arms of two studies are no trial", () => {
  expect(found([arm("Ash", "hard", 90, 0.25), arm("Birch", "easy", 60, 0.15)])).toEqual({
    trials: [],
  });
});

test("several trials are pooled; equal errors and no spread give their mean", () => {
  const { trials, pooled } = found([
    arm("Ash", "hard", 90, 0.25),
    arm("Ash", "easy", 60, 0.15),
    arm("Birch", "hard", 90, 0.22),
    arm("Birch", "easy", 60, 0.1),
    arm("Cedar", "hard", 85, 0.24),
    arm("Cedar", "easy", 60, 0.16),
  ]);
  // differences 0.10, 0.12, 0.08: mean 0.10; the nearest trials come first
  expect(trials.map(({ study }) => study)).toEqual(["Ash", "Birch", "Cedar"]);
  expect(pooled!.estimate).toBeCloseTo(0.1, 9);
  expect(pooled!.interval.low).toBeLessThan(0.1 - 1.96 * Math.sqrt(0.008 / 3) + 1e-6);
  expect(pooled!.method.length).toBeGreaterThan(10);
});

test("sampling covariances are read from blocks, and from variances outside them", () => {
  const set = handMadeSet(
    [arm("Ash", "a", 90, 0.1), arm("Ash", "b", 60, 0.1), arm("Birch", "a", 60, 0.1)],
    [{ indices: [0, 1], values: [0.004, 0.003, 0.003, 0.005] }],
  );
  const covariance = samplingCovarianceOf(set);
  expect([covariance(0, 1), covariance(1, 1), covariance(0, 2), covariance(2, 2)]).toEqual([
    0.003, 0.005, 0, 0.004,
  ]);
});
