import fc from "fast-check";
import { describe, expect, test } from "vitest";

import { commonStripScale, holdStrip } from "../../src/figures/hold-strip.js";
import { sessionTimeline } from "../../src/protocol/session-timeline.js";
import { session } from "./figure-checks.js";

const place = { left: 10, top: 100, width: 200, height: 20 };

test("4 × 30 s at 70% with 15 s rests: widths as the seconds, height as the effort", () => {
  // By hand: 4·30 + 3·15 = 165 s over 200 units.
  const timeline = sessionTimeline({
    sets: 1,
    repetitions: 4,
    holdSeconds: 30,
    intensityPercent: 70,
    restBetweenRepetitionsSeconds: 15,
  });
  const strip = holdStrip(timeline, place);
  expect(strip.part).toBe("whole session");
  expect(strip.seconds).toBe(165);
  expect(strip.holds).toHaveLength(4);
  for (const hold of strip.holds) {
    expect(hold.x2 - hold.x).toBeCloseTo((200 * 30) / 165, 10);
    expect(hold.y2).toBe(120);
    expect(hold.y2 - hold.y).toBeCloseTo(0.7 * 20, 10);
  }
  expect(strip.holds[1]?.x).toBeCloseTo(10 + (200 * 45) / 165, 10);
  expect(strip.rests).toHaveLength(3);
});

test("a session too long to tell apart shows one set, and a set too long shows its beginning", () => {
  const oneSet = holdStrip(
    session({ sets: 40, repetitions: 5, hold: 1, rest: 1, setRest: 180, effort: 95 }),
    place,
  );
  expect(oneSet.part).toBe("one set");
  expect(oneSet.seconds).toBe(9);
  const beginning = holdStrip(
    session({ sets: 2, repetitions: 500, hold: 0.5, rest: 0.5, setRest: 180, effort: 95 }),
    place,
  );
  expect(beginning.part).toBe("beginning of one set");
  expect(beginning.holds.length).toBeGreaterThan(10);
  for (const hold of beginning.holds) expect(hold.x2).toBeLessThanOrEqual(210 + 1e-9);
});

test("effort that is not stated is drawn apart from effort that is", () => {
  const strip = holdStrip(
    session({ sets: 1, repetitions: 3, hold: 5, rest: 5, setRest: 0 }),
    place,
  );
  expect(strip.holds).toHaveLength(0);
  expect(strip.holdsWithoutEffort).toHaveLength(3);
});

test("sessions on a common scale can be compared: the longest fills the width", () => {
  const short = session({ sets: 1, repetitions: 4, hold: 10, rest: 10, setRest: 0, effort: 50 });
  const long = session({ sets: 2, repetitions: 4, hold: 10, rest: 10, setRest: 60, effort: 50 });
  expect(commonStripScale([short, long], 200)).toEqual({
    part: "whole session",
    secondsAcross: 200,
  });
});

test("whatever the session, shapes stay in their place and holds never overlap", () => {
  const plan = fc.record({
    sets: fc.integer({ min: 1, max: 8 }),
    repetitions: fc.integer({ min: 1, max: 40 }),
    hold: fc.integer({ min: 1, max: 120 }),
    rest: fc.integer({ min: 0, max: 120 }),
    setRest: fc.integer({ min: 0, max: 300 }),
    effort: fc.integer({ min: 1, max: 130 }),
  });
  fc.assert(
    fc.property(plan, (each) => {
      const { holds } = holdStrip(session(each), place);
      expect(holds.length).toBeGreaterThan(0);
      holds.forEach(({ x, x2, y, y2 }, index) => {
        expect(x).toBeGreaterThanOrEqual(10);
        expect(x2).toBeLessThanOrEqual(210 + 1e-9);
        expect(y).toBeGreaterThanOrEqual(100 - 1e-9);
        expect(y2).toBe(120);
        expect(x).toBeGreaterThanOrEqual((holds[index - 1]?.x2 ?? 0) - 1e-9);
      });
    }),
    { seed: 5, numRuns: 200 },
  );
});

describe("refuses", () => {
  test("an empty timeline", () => {
    expect(() => holdStrip([], place)).toThrow(/requires a timeline with at least one hold/);
  });
  test("times that are no numbers or run backwards", () => {
    const segment = { kind: "hold" as const, startSeconds: 5, endSeconds: 2, set: 1 };
    expect(() => holdStrip([segment], place)).toThrow(/got start 5, end 2/);
    expect(() => holdStrip([{ ...segment, endSeconds: Number.NaN }], place)).toThrow(/end NaN/);
  });
});
