/** Kinds of evidence: the published schema, and identities between the drawing and the search. */
import { describe, expect, test } from "vitest";
import { frontierFigure } from "../../src/figures/frontier-figure.js";
import { roomOf } from "../../src/figures/frame.js";
import { exploreProtocols, type Frontier } from "../../src/projection/explore-protocols.js";
import { readySize } from "../tables/sample-projection.js";
import { expectSoundFigure, rowsOf } from "./figure-checks.js";

const ready = readySize();
const found = exploreProtocols(ready, {
  minutesPerSession: 10,
  sessionsPerWeek: 3,
  effortCeilingPercent: 80,
  joint: "knee",
});
if (found.kind === "refusal") throw new Error(found.reason);

/** Many points, some at the very same place, so that numbers have to give way. */
const crowded: Frontier = {
  ...found,
  points: Array.from({ length: 14 }, (_, index) => found.points[index % found.points.length]!),
};

describe.each([
  ["as found", found, "page"],
  ["as found, column", found, "column"],
  ["one point", { ...found, points: found.points.slice(0, 1) }, "page"],
  ["crowded, slide", crowded, "slide"],
  ["crowded, column", crowded, "column"],
] as const)("%s", (_, frontier, size) => {
  const figure = frontierFigure({ frontier, prepared: ready }, roomOf(size));

  test("is sound, with a row and a number a point", () => {
    expectSoundFigure(figure);
    expect(figure.data).toHaveLength(frontier.points.length);
    expect(rowsOf(figure, "frontier: points")).toHaveLength(frontier.points.length);
    expect(rowsOf(figure, "frontier: numbers").map(({ text }) => text)).toEqual(
      frontier.points.map((_point, index) => String(index + 1)),
    );
  });

  test("every point stands inside its own bar", () => {
    const bars = rowsOf(figure, "frontier: ranges");
    rowsOf(figure, "frontier: points").forEach(({ y }, index) => {
      expect(y).toBeGreaterThan(bars[index]?.y ?? Infinity);
      expect(y).toBeLessThan(bars[index]?.y2 ?? -Infinity);
    });
  });
});

test("candidates are drawn faint, one for each, and counted in the caption", () => {
  const figure = frontierFigure({ frontier: found, prepared: ready });
  const faint = rowsOf(figure, "frontier: candidates");
  expect(faint).toHaveLength(found.candidates.length);
  expect(figure.caption).toContain(String(found.candidates.length));
});

test("a frontier without points is refused", () => {
  expect(() => frontierFigure({ frontier: { ...found, points: [] }, prepared: ready })).toThrow(
    /at least one protocol/,
  );
});
