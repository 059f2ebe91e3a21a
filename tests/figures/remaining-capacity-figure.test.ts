/** Kinds of evidence: the published schema, and identities between the drawing and the assessment. */
import { describe, expect, test } from "vitest";
import { canBeHeld } from "../../src/endurance/can-be-held.js";
import { remainingCapacityFigure } from "../../src/figures/remaining-capacity-figure.js";
import { sessionTimeline } from "../../src/protocol/session-timeline.js";
import { parsePrescription } from "../../src/protocol/written-form.js";
import { expectSoundFigure, rowsOf } from "./figure-checks.js";

const made = (text: string) => {
  const p = parsePrescription(text);
  const timeline = sessionTimeline(p);
  const assessment = canBeHeld(p);
  return {
    assessment,
    timeline,
    figure: remainingCapacityFigure({ label: text, timeline, assessment }),
  };
};

describe.each([
  "4 x 20 s at 70%, rest 60 s, knee",
  "4 x (5 x 3 s), maximal, rests 15 s and 2 min, elbow",
  "1 x 60 s at 30%",
  "10 x (20 x 2 s) at 60%, rests 2 s and 60 s, hip",
])("%s", (text) => {
  const { figure, assessment, timeline } = made(text);

  test("is sound, holds every number, and draws every hold", () => {
    expectSoundFigure(figure);
    expect(figure.data).toHaveLength(assessment.capacity.length);
    expect(rowsOf(figure, "capacity: holds")).toHaveLength(
      timeline.filter(({ kind }) => kind === "hold").length,
    );
  });

  test("the line of a typical person lies inside the band everywhere, and lower is less", () => {
    const band = new Map(rowsOf(figure, "capacity: band").map(({ x, y, y2 }) => [x, { y, y2 }]));
    for (const { x, y } of rowsOf(figure, "capacity: typical")) {
      const there = band.get(x);
      expect(y).toBeLessThanOrEqual((there?.y ?? NaN) + 1e-6);
      expect(y).toBeGreaterThanOrEqual((there?.y2 ?? NaN) - 1e-6);
    }
  });

  test("the names at the end of the lines do not touch", () => {
    const heights = [
      ...rowsOf(figure, "capacity: outer names"),
      ...rowsOf(figure, "capacity: typical name"),
    ]
      .map(({ y }) => y)
      .toSorted((a, b) => a - b);
    heights.slice(1).forEach((y, index) => {
      // Percent along 230 drawing units.
      expect((y - (heights[index] ?? NaN)) * 2.3).toBeGreaterThanOrEqual(13 - 1e-9);
    });
  });
});

test("a point stands on the load, where the reserve runs out", () => {
  const { figure, assessment } = made("4 x 20 s at 70%, rest 60 s, knee");
  const points = rowsOf(figure, "capacity: runs out");
  expect(points).toHaveLength(
    [assessment.failsAt, assessment.failsAtLow, assessment.failsAtHigh].filter(
      (failure) => failure !== undefined,
    ).length,
  );
  const [top] = rowsOf(figure, "capacity: holds");
  for (const { y } of points) expect(y).toBeCloseTo(top?.y ?? NaN, 9);
});

test("nothing to draw is refused", () => {
  const { assessment } = made("1 x 60 s at 30%");
  expect(() => remainingCapacityFigure({ label: "x", timeline: [], assessment })).toThrow(
    /at least one hold/,
  );
});
