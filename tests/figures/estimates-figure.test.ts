import { describe, expect, test } from "vitest";

import { CallError } from "../../src/errors.js";
import { estimatesFigure } from "../../src/figures/estimates-figure.js";
import type { EstimateRow, EstimatesInput } from "../../src/figures/estimates-input.js";
import { placedRows } from "./drawn.js";
import { expectSoundFigure, rowsOf, session } from "./figure-checks.js";

const row = (study: string, estimate: number, more: Partial<EstimateRow> = {}): EstimateRow => ({
  study,
  label: "knee",
  estimate,
  low: estimate - 0.1,
  high: estimate + 0.2,
  ...more,
});

const timeline = session({ sets: 2, repetitions: 3, hold: 10, rest: 10, setRest: 60, effort: 70 });

const input: EstimatesInput = {
  title: "Strength",
  scale: "log-ratio-of-means" as const,
  effects: [
    row("Ash", 0.1, { timeline }),
    row("Birch", 0.2, { note: "correlation borrowed" }),
    row("Ash", 0.15, { label: "elbow" }),
    row("Cedar", -0.05, { note: "correlation borrowed" }),
  ],
  pooled: {
    estimate: 0.1,
    interval: { low: 0.02, high: 0.18 },
    predictionInterval: { low: -0.1, high: 0.3 },
  },
};

test("every effect has its tick, its interval and its three numbers", () => {
  const figure = estimatesFigure(input);
  expectSoundFigure(figure);
  const names = ["effects: estimates", "effects: intervals", "numbers: low numbers"];
  for (const name of names) expect(rowsOf(figure, name)).toHaveLength(4);
  // By hand: 0% and 100·(e^0.3 − 1) = 34.98…% on the shown axis.
  const first = rowsOf(figure, "effects: intervals")[0] as unknown as Record<
    "low" | "high",
    number
  >;
  expect(first.low).toBeCloseTo(0, 10);
  expect(first.high).toBeCloseTo(34.98588, 4);
  // By hand: 100·(e^0.1 − 1) = 10.517…, 100·(e^0.3 − 1) = 34.98…
  expect(rowsOf(figure, "numbers: estimate numbers")[0]?.text).toBe("10.5");
  expect(rowsOf(figure, "numbers: high numbers")[0]?.text).toBe("35.0");
  expect(figure.data).toHaveLength(4);
  expect(figure.data[0]).toMatchObject({ study: "Ash", estimate: 0.1 });
});

test("a study's effects stand together on one band, in the order studies first appear", () => {
  const figure = estimatesFigure(input);
  expect(rowsOf(figure, "names: study names").map(({ text }) => text)).toEqual([
    "Ash",
    "Birch",
    "Cedar",
  ]);
  type Placed = readonly Readonly<{ place: number; study: string }>[];
  const places = rowsOf(figure, "effects: estimates") as unknown as Placed;
  expect(places.map(({ study }) => study)).toEqual(["Ash", "Ash", "Birch", "Cedar"]);
  expect(places.map(({ place }) => place - places[0]!.place)).toEqual([0, 1, 2, 3]);
  // Every second study has a ground: both rows of Ash, and Cedar.
  const grounds = rowsOf(figure, "effects: study bands") as unknown as Placed;
  expect(grounds.map(({ place }) => place - places[0]!.place)).toEqual([0, 1, 3]);
});

test("the line of no change stands at 0 and the axis reads in percent", () => {
  const figure = estimatesFigure(input);
  expect(rowsOf(figure, "effects: no change")).toEqual([{ value: 0 }]);
  expect(JSON.stringify(figure.specification)).toContain("Change, %");
});

test("confidence and prediction intervals are different marks with their own numbers", () => {
  const figure = estimatesFigure(input);
  // By hand: e^0.02 → 2.02%, e^0.18 → 19.7%, e^−0.1 → −9.52%, e^0.3 → 35.0%.
  const drawn = placedRows(figure, "effects");
  expect(drawn).toContain("confidence band [rect, pooled-band]: (2) 2.02 19.7");
  expect(drawn).toContain("prediction band [rect, prediction-band]: (3) -9.52 35");
  // By hand: e^0.02 → 2.0%, e^−0.1 → −9.5%, e^0.3 → 35.0%.
  expect(rowsOf(figure, "numbers: pooled low").map(({ text }) => text)).toEqual(["2.0", "−9.5"]);
  expect(rowsOf(figure, "numbers: pooled high").map(({ text }) => text)).toEqual(["19.7", "35.0"]);
  expect(figure.description).toContain("−9.5 and 35.0%");
});

test("without a prediction interval none is drawn, and the words say why", () => {
  const figure = estimatesFigure({
    ...input,
    pooled: { estimate: 0.1, interval: { low: 0, high: 0.2 }, predictionInterval: null },
  });
  expectSoundFigure(figure);
  expect(JSON.stringify(figure.specification)).not.toContain("prediction edge");
  expect(figure.description).toContain("too few studies for the range of a further study");
});

test("the strip stands beside the effect whose session is known, and the caption names the part", () => {
  const figure = estimatesFigure(input);
  expect(rowsOf(figure, "hold strips: holds")).toHaveLength(6);
  expect(figure.caption).toContain("the whole session");
  const without = estimatesFigure({ ...input, effects: [row("Ash", 0.1)] });
  expect(JSON.stringify(without.specification)).not.toContain("hold strips");
});

test("equal notes share a letter, explained once in the caption", () => {
  const figure = estimatesFigure(input);
  expect(rowsOf(figure, "numbers: note marks").map(({ text }) => text)).toEqual(["a", "a"]);
  expect(figure.caption.match(/a: correlation borrowed\./g)).toHaveLength(1);
});

test("an interval past the edge is cut, marked and said to be; its numbers stay whole", () => {
  const far = row("Dogwood", 0.1, { low: -8, high: 8 });
  const figure = estimatesFigure({ ...input, effects: [...input.effects, far] });
  expectSoundFigure(figure);
  expect(rowsOf(figure, "effects: intervals cut at the left")).toHaveLength(1);
  expect(rowsOf(figure, "effects: intervals cut at the right")).toHaveLength(1);
  expect(figure.caption).toContain("1 interval runs past the edge");
  expect(rowsOf(figure, "numbers: high numbers").at(-1)?.text).toBe("297995.8");
});

describe("extreme inputs", () => {
  test("one study, one effect, no width at all", () => {
    const figure = estimatesFigure({
      title: "t",
      scale: "standardised-mean-difference",
      effects: [{ study: "Only", label: "", estimate: 0, low: 0, high: 0 }],
    });
    expectSoundFigure(figure);
  });

  test("three hundred effects of a hundred studies", () => {
    const effects = Array.from({ length: 300 }, (_, i) => row(`S${i % 100}`, (i % 17) / 50));
    const figure = estimatesFigure({ ...input, effects });
    expectSoundFigure(figure);
    expect(rowsOf(figure, "effects: estimates")).toHaveLength(300);
    expect(rowsOf(figure, "names: study bands")).toHaveLength(50);
  });

  test("names that look like markup, expressions or fields, or never end, stay data", () => {
    const names = [
      "<script>alert(1)</script>",
      'datum[\'x\'] + {"expr": "1"}',
      "__proto__",
      "constructor",
      "a.b[c]\\d'e\"f",
      "line\nbreak\u2028and\ttab",
      "超長い研究名".repeat(40),
      "x".repeat(3000),
    ];
    const figure = estimatesFigure({
      ...input,
      effects: names.map((name, i) => row(name, i / 40, { label: name, note: name })),
    });
    expectSoundFigure({ ...figure, caption: "c" });
    expect(figure.data.map(({ study }) => study)).toEqual(names);
    expect(new Set(rowsOf(figure, "names: study names").map(({ full }) => full)).size).toBe(8);
    const panel = JSON.stringify(figure.specification).match(/"name":"names","width":(\d+)/);
    expect(Number(panel?.[1])).toBeLessThanOrEqual(690);
  });
});

describe("refuses", () => {
  const codeOf = (change: Partial<EstimatesInput>): string => {
    try {
      estimatesFigure({ ...input, ...change });
    } catch (error) {
      if (error instanceof CallError) return error.code;
    }
    return "nothing thrown";
  };
  test("no effects", () => expect(codeOf({ effects: [] })).toBe("no-effects"));
  test("an estimate that is no number", () =>
    expect(codeOf({ effects: [row("A", Number.NaN)] })).toBe("not-finite"));
  test("a limit that is infinite", () =>
    expect(codeOf({ effects: [row("A", 0.1, { high: Infinity })] })).toBe("not-finite"));
  test("a pooled interval that is no number", () =>
    expect(
      codeOf({
        pooled: {
          estimate: 0,
          interval: { low: Number.NaN, high: 1 },
          predictionInterval: null,
        },
      }),
    ).toBe("not-finite"));
  test("an interval that misses its estimate", () =>
    expect(codeOf({ effects: [row("A", 0.1, { low: 0.2 })] })).toBe("interval-without-estimate"));
});
