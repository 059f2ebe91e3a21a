import { expect, test } from "vitest";

import { figureSizes, framed, roomOf } from "../../src/figures/frame.js";
import { precisionFigure } from "../../src/figures/precision-figure.js";
import { drawSvg } from "../../src/host/draw-figure.js";
import { normalProbability } from "../../src/numeric/normal.js";
import { expectSoundFigure, rowsOf } from "./figure-checks.js";
import { marksIn, pointsOf, readersOf } from "./read-plot.js";

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

test.each(figureSizes)(
  "%s: a point for each effect at its standard error and gain; the average across",
  async (size) => {
    const figure = framed(precisionFigure({ ...input, borrowed: [2] }, roomOf(size)), { size });
    expectSoundFigure(figure);
    const svg = await drawSvg(figure);
    const { x, y } = readersOf(svg);
    const points = marksIn(svg, "precision__arms_marks");
    expect(points).toHaveLength(24);
    points.forEach((one, place) => {
      expect(x(one.x)).toBeCloseTo(effects[place]!.standardError, 3);
      expect(Math.abs(y(one.y) - 100 * Math.expm1(effects[place]!.estimate))).toBeLessThan(0.8);
    });
    // By hand: 100·(e^0.1 − 1) = 10.5.
    const [thick] = marksIn(svg, "precision__lines_marks").filter(({ width }) => width === 2.4);
    const ends = pointsOf(thick!).map((one) => y(one.y));
    expect(Math.abs(ends[0]! - 10.5)).toBeLessThan(0.8);
    expect(ends[0]).toBeCloseTo(ends.at(-1)!, 9);
    expect(marksIn(svg, "precision__intervals_of_single_effects_marks")).toHaveLength(1);
  },
);

test("the lines stand where the two-sided p is what they say (normal distribution of the numeric room)", () => {
  const lines = rowsOf(precisionFigure(input), "precision: lines") as unknown as readonly Readonly<{
    line: string;
    series: string;
    x: number;
    gain: number;
  }>[];
  for (const [place, p] of [0.1, 0.05, 0.01].entries())
    for (const side of [0, 1]) {
      const end = lines.findLast(({ series }) => series === `shape ${2 * place + side}`)!;
      const distance = Math.log1p(end.gain / 100) / end.x;
      expect(Math.sign(distance)).toBe(side === 0 ? 1 : -1);
      expect(2 * normalProbability(Math.abs(distance), "upper")).toBeCloseTo(p, 9);
    }
});

test("effects are counted between the lines, by their own p", () => {
  const figure = precisionFigure({ ...input, family: "strength" });
  const counts = [0, 0, 0, 0];
  for (const { estimate, standardError } of effects) {
    const p = 2 * normalProbability(Math.abs(estimate) / standardError, "upper");
    counts[p > 0.1 ? 0 : p > 0.05 ? 1 : p > 0.01 ? 2 : 3]! += 1;
  }
  const [over, tenth, twentieth, hundredth] = counts;
  expect(figure.description).toContain(
    `over 0.10: ${over}; 0.05 to 0.10: ${tenth}; 0.01 to 0.05: ${twentieth}; under 0.01: ${hundredth}.`,
  );
  expect(figure.description).toContain(
    `${twentieth! + hundredth!} differ from no change by themselves`,
  );
});

test("the title sets the middle effect of the more precise half against that of the other half", () => {
  const made = [
    [0.01, 5],
    [0.02, 11],
    [0.03, 8],
    [0.04, 40],
    [0.05, 21],
    [0.06, 30],
    [0.07, 24],
  ].map(([standardError, percent]) => ({
    study: `Study ${percent}`,
    label: "",
    estimate: Math.log1p(percent! / 100),
    standardError: standardError!,
  }));
  // The fourth lies on the border: of 5, 8, 11 the middle is 8, of 21, 24, 30 it is 24.
  expect(precisionFigure({ ...input, family: "size", effects: made }).title).toBe(
    "Size: the more precise half of 7 effects has its middle at 8.0%, the other half at 24.0%",
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
