import { expect, test } from "vitest";

import { evidenceMapCells, type MappedArm } from "../../src/figures/evidence-map-cells.js";
import { evidenceMap } from "../../src/figures/evidence-map.js";
import { expectSoundFigure, rowsOf } from "./figure-checks.js";

const arm = (study: string, more: Partial<MappedArm> = {}): MappedArm => ({
  study,
  arm: "a",
  outcomeFamily: "strength",
  intensityPercent: 100,
  holdSeconds: 3,
  participants: 10,
  ...more,
});

const arms = [
  arm("Ash"),
  arm("Ash"),
  arm("Ash", { arm: "b", participants: 12 }),
  arm("Birch"),
  arm("Birch", { outcomeFamily: "size", participants: undefined }),
  arm("Cedar", { intensityPercent: undefined, holdSeconds: 30 }),
];

test("an arm counts once in a cell however many rows it has, and people with it", () => {
  const map = evidenceMapCells(arms);
  const cell = map.cells.find(
    ({ outcomeFamily, effort, hold }) =>
      outcomeFamily === "strength" && effort === "95% and over" && hold === "3 to 6",
  );
  expect(cell).toMatchObject({ studies: 2, arms: 3, people: 32, armsWithoutPeople: 0 });
  expect(map.totals).toEqual([
    { outcomeFamily: "strength", studies: 3, arms: 4, people: 42, armsWithoutPeople: 0 },
    { outcomeFamily: "size", studies: 1, arms: 1, people: 0, armsWithoutPeople: 1 },
  ]);
});

test("every combination has a cell, empty ones included, and the counts add up", () => {
  const map = evidenceMapCells(arms);
  expect(map.cells).toHaveLength(2 * 6 * 6);
  expect(map.cells.reduce((sum, { arms: count }) => sum + count, 0)).toBe(5);
  const figure = evidenceMap({ map });
  expectSoundFigure(figure);
  const empty = map.cells.filter(
    ({ outcomeFamily, studies }) => outcomeFamily === "strength" && studies === 0,
  );
  expect(rowsOf(figure, "family 1: empty cells")).toHaveLength(empty.length);
  expect(figure.data).toHaveLength(72);
  expect(figure.description).toContain("1 study, 1 arm, ? people");
});

test("a value on a boundary counts in the higher band", () => {
  const map = evidenceMapCells([arm("Ash", { intensityPercent: 80, holdSeconds: 6 })]);
  expect(map.cells.filter(({ studies }) => studies > 0)).toMatchObject([
    { effort: "80 to 95%", hold: "6 to 15" },
  ]);
});

test("arms that do not state effort stand in a band of their own, lowest on the map", () => {
  const figure = evidenceMap({ map: evidenceMapCells(arms) });
  const bands = rowsOf(figure, "family 1: intensity bands");
  const lowest = [...bands].sort((a, b) => b.y - a.y)[0];
  expect(lowest?.text).toBe("not stated");
  const highest = [...bands].sort((a, b) => a.y - b.y)[0];
  expect(highest?.text).toBe("95% and over");
});

test("family names are data, whatever they hold", () => {
  const map = evidenceMapCells([arm("Ash", { outcomeFamily: "<b>datum.x</b> [0]" })]);
  expectSoundFigure(evidenceMap({ map }));
});

test("refuses values in no band and an empty map", () => {
  expect(() => evidenceMapCells([arm("Ash", { holdSeconds: Number.NaN })])).toThrow(
    /requires bands that hold every hold length, got NaN/,
  );
  expect(() => evidenceMapCells([arm("Ash", { intensityPercent: -5 })])).toThrow(/got -5/);
  expect(() => evidenceMap({ map: evidenceMapCells([]) })).toThrow(/at least one arm/);
});
