import { expect, test } from "vitest";

import { precisionFigure } from "../../src/figures/precision-figure.js";
import { normalProbability } from "../../src/numeric/normal.js";
import { expectSoundFigure, rowsOf } from "./figure-checks.js";

const effects = Array.from({ length: 24 }, (_, i) => ({
  study: `S${i % 12}`,
  label: "knee",
  estimate: (i % 7) / 20 - 0.05,
  standardError: 0.03 + (i % 5) / 40,
}));
const input = {
  effects,
  pooled: { estimate: 0.1, interval: { low: 0.05, high: 0.15 } },
  scale: "log-ratio-of-means" as const,
};

test("a point for each effect at its standard error and estimate; lines at no change and the average", () => {
  const figure = precisionFigure(input);
  expectSoundFigure(figure);
  expect(rowsOf(figure, "precision: effects").map(({ x, y }) => [x, y])).toEqual(
    effects.map(({ standardError, estimate }) => [standardError, estimate]),
  );
  expect(rowsOf(figure, "precision: no change").map(({ y, y2 }) => [y, y2])).toEqual([[0, 0]]);
  expect(rowsOf(figure, "precision: average")[0]?.y).toBe(0.1);
});

test("the grounds end where the two-sided p is what they say (normal distribution of the numeric room)", () => {
  const figure = precisionFigure(input);
  const ends = [
    ["precision: ground p over 0.10", 0.1],
    ["precision: ground 0.05 to 0.10", 0.05],
    ["precision: ground 0.01 to 0.05", 0.01],
  ] as const;
  for (const [name, p] of ends) {
    const edge = rowsOf(figure, name).find(({ x }) => x > 0);
    const distance = Math.abs((edge?.y ?? 0) / (edge?.x ?? 1));
    expect(2 * normalProbability(distance, "upper")).toBeCloseTo(p, 9);
  }
});

test("each effect is counted in the ground it lies in, by its own p", () => {
  const figure = precisionFigure(input);
  const bands = { "p over 0.10": 0, "0.05 to 0.10": 0, "0.01 to 0.05": 0, "p under 0.01": 0 };
  for (const { estimate, standardError } of effects) {
    const p = 2 * normalProbability(Math.abs(estimate) / standardError, "upper");
    if (p > 0.1) bands["p over 0.10"] += 1;
    else if (p > 0.05) bands["0.05 to 0.10"] += 1;
    else if (p > 0.01) bands["0.01 to 0.05"] += 1;
    else bands["p under 0.01"] += 1;
  }
  expect(rowsOf(figure, "key: key words").map(({ text }) => text)).toEqual(
    Object.entries(bands).map(([zone, count]) => `${zone}: ${count}`),
  );
});

test("under ten studies the words say that no test is given", () => {
  const few = precisionFigure({ ...input, effects: effects.slice(0, 6) });
  expect(few.caption).toContain("With 6 studies no test of unevenness is given");
  expect(precisionFigure(input).caption).not.toContain("no test of unevenness is given");
});

test("one effect, a plain scale, no pooled answer", () => {
  const figure = precisionFigure({
    effects: [{ study: "Only", label: "", estimate: 0, standardError: 1e-6 }],
    scale: "raw-mean-difference",
  });
  expectSoundFigure(figure);
});

test("refuses no effects, values that are no numbers, standard errors of nothing", () => {
  const one = { study: "A", label: "", estimate: 0.1, standardError: 0.1 };
  const drawn = (change: Partial<typeof one>) => () =>
    precisionFigure({ ...input, effects: [{ ...one, ...change }] });
  expect(() => precisionFigure({ ...input, effects: [] })).toThrow(/at least one effect/);
  expect(drawn({ estimate: Number.NaN })).toThrow(/finite estimate, got NaN/);
  expect(drawn({ standardError: 0 })).toThrow(/standard error above 0, got 0/);
});
