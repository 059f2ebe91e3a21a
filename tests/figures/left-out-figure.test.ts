import { expect, test } from "vitest";
import { leftOutFigure } from "../../src/figures/left-out-figure.js";
import type { LeftOutTrial } from "../../src/projection/left-out-in-turn.js";
import { expectSoundFigure, rowsOf } from "./figure-checks.js";

const trial = (
  study: string,
  [low, estimate, high, found]: readonly [number, number, number, number],
): LeftOutTrial => ({
  ...{ study, low, estimate, high, found, inside: low <= found && found <= high, arms: [] },
});
// ln 1.05 and so on: percentages that can be read off
const percent = (value: number): number => Math.log1p(value / 100);
const at = (...values: readonly number[]) =>
  values.map(percent) as unknown as readonly [number, number, number, number];
const leftOut = {
  trials: [
    trial("Ash 2001", at(5, 15, 26, 11)),
    trial("Birch: 2002 / odd", at(-3, 8, 21, 34)),
    trial("Cedar 2003", at(9, 22, 37, 29)),
  ],
  ...{ inside: 2, expected: 2.85, usual: { low: 2, high: 3 }, fewestComponents: 77 },
  notPredicted: [],
};
const figure = leftOutFigure({
  id: "left-out-size",
  prepared: { goal: "size", contrast: "change-within-arm", leftOut },
});

test("a row for each trial, the highest expectation first, its range and what it found", () => {
  expectSoundFigure(figure);
  expect(rowsOf(figure, "labels").map(({ text }) => text)).toEqual([
    "Cedar 2003",
    "Ash 2001",
    "Birch: 2002 / odd",
  ]);
  type Drawn = Readonly<{ from: number; to: number; dot?: number }>;
  const ranges = rowsOf(figure, "ranges") as unknown as readonly Drawn[];
  const dots = rowsOf(figure, "dots") as unknown as readonly Drawn[];
  const rounded = (value: number): number => Math.round(value * 1e6) / 1e6;
  expect(ranges.map(({ from, to }) => [rounded(from), rounded(to)])).toEqual([
    [9, 37],
    [5, 26],
    [-3, 21],
  ]);
  expect(dots.map(({ dot }) => rounded(dot!))).toEqual([29, 11, 34]);
  expect(rowsOf(figure, "words").map(({ text }) => text)).toEqual([
    "29.0% in 9.0% to 37.0%",
    "11.0% in 5.0% to 26.0%",
  ]);
  // What came out outside stands out.
  expect(rowsOf(figure, "words that stand out").map(({ text }) => text)).toEqual([
    "34.0%, outside of −3.0% to 21.0%",
  ]);
});

test("caption, words for those who cannot see it, and numbers to take away", () => {
  expect(figure.description).toContain(
    "Left out in turn, 2 of 3 trials fell inside their range; 2.9 expected.",
  );
  expect(figure.caption).toContain("the other 2 trials give");
  expect(figure.description).toContain(
    "Birch: 2002 / odd found 34.0% and −3.0% to 21.0% was expected.",
  );
  expect(figure.data[2]).toMatchObject({ study: "Birch: 2002 / odd", inside: "no" });
  expect(figure.data[0]!.foundPercent).toBeCloseTo(29, 9);
  expect(figure.data[0]!.lowPercent).toBeCloseTo(9, 9);
});

test("fewer inside than chance explains is said", () => {
  const few = leftOutFigure({
    id: "left-out-size",
    prepared: {
      goal: "size",
      contrast: "change-within-arm",
      leftOut: { ...leftOut, inside: 1 },
    },
  });
  expect(few.description).toContain(
    "1 of 3 trials fell inside their range; 2.9 expected, at least 2 where ranges are right: ranges here are too narrow.",
  );
  expect(() =>
    leftOutFigure({
      id: "none",
      prepared: {
        goal: "size",
        contrast: "change-within-arm",
        leftOut: { ...leftOut, trials: [] },
      },
    }),
  ).toThrow(/at least one trial/);
});
