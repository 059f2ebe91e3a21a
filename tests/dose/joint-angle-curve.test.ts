/**
 * Kinds of evidence: identities of the bell curve, effects laid on a known curve, and refusals by the
 * stated rules.
 */
import { describe, expect, test } from "vitest";
import { shareLeft } from "../../src/dose/carry-over-width.js";
import { jointAngleCurve } from "../../src/dose/joint-angle-curve.js";
import { handMadeSet, type WrittenEffect } from "./hand-made-set.js";

const trained = 60;

/** Effects of some studies on a curve of their own level; a small wave of known size stands for error. */
const onCurve = (
  gainAt: (distance: number, study: number) => number,
  {
    studies = 6,
    distances = [0, 10, 20, 35, 50],
    wave = 0.002,
    variance = 0.0004,
  }: Readonly<{
    studies?: number;
    distances?: readonly number[];
    wave?: number;
    variance?: number;
  }> = {},
) =>
  handMadeSet(
    Array.from({ length: studies }, (_, study) =>
      distances.map((distance, place): WrittenEffect => ({
        study: `S${study}`,
        arm: "short",
        estimate: gainAt(distance, study) + wave * Math.cos(2.4 * study + 1.7 * place),
        variance,
        row: {
          muscleLength: "short",
          trainingAngleDegrees: [trained],
          testAngleDegrees: trained + distance,
        },
      })),
    ).flat(),
  );

const curveOf = (set: ReturnType<typeof handMadeSet>) =>
  jointAngleCurve(set, "short", { confidence: 0.95, degrees: [10, 20] }).result;

const missing = (answer: Readonly<{ kind: string; reason?: string }>): string =>
  answer.reason ?? "";

test("half is left at the half width, a sixteenth at twice that, all of it at the trained angle", () => {
  expect(shareLeft(0, 23)).toBe(1);
  expect(shareLeft(23, 23)).toBeCloseTo(0.5, 14);
  expect(shareLeft(46, 23)).toBeCloseTo(1 / 16, 14);
});

describe("effects that lie on a known curve", () => {
  const levels = [0.2, 0.22, 0.18, 0.24, 0.16, 0.2];
  const curve = curveOf(onCurve((distance, study) => levels[study]! * shareLeft(distance, 25)));

  test("give its width and its level back", () => {
    expect(curve.halfWidth.kind === "told" && curve.halfWidth.degrees).toBeCloseTo(25, -0.3);
    expect(curve.level.kind === "told" && curve.level.estimate).toBeCloseTo(0.2, 2);
    expect(curve.distances).toEqual({ low: 0, high: 50, distinct: 5 });
    expect([curve.effects, curve.studies, curve.people]).toEqual([30, 6, 60]);
  });

  test("the average over the angles tested is the mean of what was left at each", () => {
    // Every angle is tested equally often and equally well, so nothing is weighed.
    const mean = [0, 10, 20, 35, 50].reduce((sum, d) => sum + shareLeft(d, 25), 0) / 5;
    expect(curve.average.kind === "told" && curve.average.estimate).toBeCloseTo(0.2 * mean, 2);
  });

  test("the interval holds the width and is not much wider than the data", () => {
    if (curve.halfWidth.kind === "refusal") throw new Error("a width");
    const { low, high } = curve.halfWidth.interval;
    expect(low!).toBeLessThan(25);
    expect(high!).toBeGreaterThan(25);
    expect(high! - low!).toBeLessThan(10);
  });

  test("shares are read off the width, ends from ends, and the curve goes through level and half", () => {
    if (curve.halfWidth.kind === "refusal" || curve.level.kind === "refusal")
      throw new Error("a width");
    const { degrees, interval } = curve.halfWidth;
    expect(curve.left.map((one) => one.degrees)).toEqual([10, 20]);
    for (const { degrees: distance, share, interval: ends } of curve.left) {
      expect(share).toBeCloseTo(shareLeft(distance, degrees), 12);
      expect(ends.low).toBeCloseTo(shareLeft(distance, interval.low!), 12);
      expect(ends.high).toBeCloseTo(shareLeft(distance, interval.high!), 12);
    }
    const [first] = curve.curve;
    expect(first).toMatchObject({ distance: 0 });
    expect(first!.estimate).toBeCloseTo(curve.level.estimate, 12);
    expect(curve.curve.at(-1)!.estimate).toBeCloseTo(
      curve.level.estimate * shareLeft(50, degrees),
      12,
    );
    for (const { estimate, interval: band } of curve.curve) {
      expect(band.low).toBeLessThan(estimate);
      expect(band.high).toBeGreaterThan(estimate);
    }
  });
});

test("with several training angles the nearest one counts", () => {
  const set = handMadeSet(
    [0, 1, 2].flatMap((study) =>
      [30, 45, 60, 75].map((testAngleDegrees, place): WrittenEffect => ({
        study: `S${study}`,
        arm: "two angles",
        estimate: 0.2 - 0.003 * place,
        variance: 0.001,
        row: { muscleLength: "short", trainingAngleDegrees: [30, 60], testAngleDegrees },
      })),
    ),
  );
  expect(
    curveOf(set)
      .points.map(({ distance }) => distance)
      .slice(0, 4),
  ).toEqual([0, 15, 0, 15]);
});

describe("what cannot be told is refused with what is missing", () => {
  const falling = (distance: number): number => 0.2 * shareLeft(distance, 25);

  test("no angle coded", () => {
    const set = handMadeSet([
      { study: "A", arm: "a", estimate: 0.1, variance: 0.01, row: { muscleLength: "short" } },
    ]);
    const curve = curveOf(set);
    expect(missing(curve.halfWidth)).toContain("both a test angle and a training angle");
    expect(missing(curve.level)).toBe(missing(curve.halfWidth));
    expect(curve.distances).toBeUndefined();
    expect(curve.curve).toEqual([]);
  });

  test("two studies, or two distances, are too few; three of each are not", () => {
    expect(missing(curveOf(onCurve(falling, { studies: 2 })).halfWidth)).toBe(
      "2 studies with training at short muscle length tested at two or more distances from the trained angle; at least 3 are needed",
    );
    expect(missing(curveOf(onCurve(falling, { distances: [0, 20] })).halfWidth)).toBe(
      "2 distances between test and training angle with training at short muscle length; at least 3 are needed",
    );
    expect(
      curveOf(onCurve(falling, { studies: 3, distances: [0, 15, 30] })).halfWidth.kind === "told",
    ).toBe(true);
  });

  test("a gain that does not fall off has a least width and no more", () => {
    const { halfWidth, level } = curveOf(onCurve((_, study) => 0.2 + 0.01 * study));
    if (halfWidth.kind === "told") throw new Error("a width");
    expect(halfWidth.reason).toContain("hardly falls off up to 50°");
    expect(halfWidth.atLeast).toBeGreaterThan(50);
    expect(level.kind === "told").toBe(true);
  });

  test("a gain at the trained angle alone has a greatest width and no more", () => {
    const { halfWidth } = curveOf(onCurve((distance) => (distance === 0 ? 0.2 : 0)));
    if (halfWidth.kind === "told") throw new Error("a width");
    expect(halfWidth.reason).toContain("nearest other angle tested (10° away)");
    expect(halfWidth.atMost).toBeLessThan(10);
  });

  test("no clear gain has no carry-over", () => {
    const { halfWidth } = curveOf(
      onCurve((distance, study) => (study % 2 === 0 ? 0.05 : -0.05) * shareLeft(distance, 25), {
        variance: 0.01,
      }),
    );
    expect(missing(halfWidth)).toContain("no clear gain at the trained angle");
  });
});
