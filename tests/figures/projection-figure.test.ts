/** Kinds of evidence: the published schema, and identities between the drawing and the projection. */
import { describe, expect, test } from "vitest";
import { projectionFigure } from "../../src/figures/projection-figure.js";
import { roomOf } from "../../src/figures/frame.js";
import { sessionTimeline } from "../../src/protocol/session-timeline.js";
import { parsePrescription } from "../../src/protocol/written-form.js";
import { longHolds, projected, readySize } from "../tables/sample-projection.js";
import { expectSoundFigure, rowsOf } from "./figure-checks.js";

const ready = readySize();
const timeline = sessionTimeline(parsePrescription(longHolds));
/** Without its muscle length, which the five trials do not code, so that weeks alone decide on extrapolation. */
const weeks = (count: number): string => longHolds.replace("12 weeks, long", `${count} weeks`);
const { low, high } = ready.weeksStudied;

describe.each([
  ["inside what was studied", 12, "page"],
  ["beyond what was studied", 22, "slide"],
  ["before anything was tested", 2, "column"],
  ["long, in a column", 20, "column"],
] as const)("%s", (_, count, size) => {
  const projection = projected(ready, weeks(count));
  const figure = projectionFigure({ projection, prepared: ready, timeline }, roomOf(size));

  test("is sound, with a row of numbers a point of the course", () => {
    expectSoundFigure(figure);
    expect(figure.data.map(({ weeks: week }) => week)).toEqual(
      projection.course.map(({ weeks: week }) => week),
    );
    expect(figure.data.at(-1)?.["averagePercent"]).toBe(projection.ranges.average.percent.estimate);
  });

  test("fills the ranges only where weeks were studied; edges alone elsewhere", () => {
    const filled = rowsOf(figure, "projection: the average, weeks with tests");
    const edges = rowsOf(figure, "projection: the average, weeks without tests");
    expect(filled.length > 0).toBe(count > low);
    expect(edges.length).toBeGreaterThan(0);
    for (const { x } of edges) expect(x <= low || x >= high).toBe(true);
    for (const { x } of filled) expect(x >= low && x <= high).toBe(true);
    const studied = rowsOf(figure, "projection: studied");
    if (count > low) expect(studied[0]?.x2).toBeCloseTo(Math.max(...filled.map(({ x }) => x)), 6);
  });

  test("the three ranges lie inside each other at every week", () => {
    const reaches = (name: string) => rowsOf(figure, `projection: ${name}, weeks with tests`);
    const [group, person] = [reaches("a new group"), reaches("a single person")];
    reaches("the average").forEach((inner, index) => {
      const [middle, outer] = [group[index]!, person[index]!];
      expect(middle.y).toBeGreaterThanOrEqual(inner.y);
      expect(outer.y).toBeGreaterThanOrEqual(middle.y);
      expect(outer.y2!).toBeLessThanOrEqual(middle.y2!);
      expect(middle.y2!).toBeLessThanOrEqual(inner.y2!);
    });
  });

  test("says extrapolation where it is one", () => {
    const words = rowsOf(figure, "numbers: pooled-strong").map(({ text }) => text);
    expect(words.some((text) => /^(?:Extrapolation:|An extrapolation$)/.test(text ?? ""))).toBe(
      projection.support.extrapolates,
    );
    expect(figure.title.endsWith("; an extrapolation.")).toBe(projection.support.extrapolates);
    expect(projection.support.extrapolates).toBe(count > high || count < low);
  });
});

test("a session that cannot be laid out is left out, and a long name is cut but kept in the description", () => {
  const name = "The hold that nobody stops talking about ".repeat(20).trim();
  const figure = projectionFigure({
    projection: projected(ready, "4 x 30 s at 60%, 3/week, 12 weeks, long, knee"),
    prepared: ready,
    name,
  });
  expectSoundFigure(figure);
  expect(figure.description).toContain(name);
  expect(JSON.stringify(figure.specification)).toContain("…");
  expect(figure.caption).not.toContain("Above");
});

test("a projection without its course cannot be drawn, and the message says so", () => {
  const projection = projected(ready, longHolds, { course: false });
  expect(() => projectionFigure({ projection, prepared: ready })).toThrow(/course over weeks/);
});
