/** Doses together on the last yard: bars of the finished drawing, read against its own axis. */
import { expect, test } from "vitest";
import { collinearity, type CollinearPair } from "../../src/dose/collinearity.js";
import { collinearityFigure } from "../../src/figures/collinearity-figure.js";
import { figureSizes, framed, roomOf } from "../../src/figures/frame.js";
import { drawSvg } from "../../src/host/draw-figure.js";
import { randomStream } from "../../src/numeric/random-stream.js";
import { doseTrials } from "../dose/dose-trials.js";
import { axis } from "../tables/made-up-doses.js";
import { expectSoundFigure, rowsOf } from "./figure-checks.js";
import { marksIn } from "./read-plot.js";

const [intensity, hold, sets] = [axis("intensityPercent"), axis("holdSeconds"), axis("sets")];
const pair = (
  first: typeof intensity,
  second: typeof intensity,
  within: number | undefined,
  between: number,
  toldApart: CollinearPair["toldApart"],
) =>
  ({
    first,
    second,
    within: within === undefined ? undefined : { r: within, studies: 7, arms: 16 },
    between: { r: between, studies: 13, arms: 30 },
    words: `words on ${first.label} and ${second.label}`,
    toldApart,
  }) as CollinearPair;
const pairs = [
  pair(intensity, sets, 0.65, -0.24, "hardly"),
  pair(intensity, hold, -0.86, 0.13, "no"),
  pair(hold, sets, undefined, 0.47, "yes"),
];

test.each(figureSizes)(
  "%s: a bar a pair from no relation to its correlation, closest first",
  async (size) => {
    const figure = framed(collinearityFigure({ family: "strength", pairs }, roomOf(size)), {
      size,
    });
    expectSoundFigure(figure);
    expect(rowsOf(figure, "ranges")).toMatchObject([
      {
        label: "Intensity and hold length",
        low: -0.86,
        high: 0,
        kind: "inside studies",
        word: "−0.86",
      },
      { label: "Intensity and sets", low: 0, high: 0.65, kind: "inside studies", word: "0.65" },
      // Only studies differ in both, so the bar is hollow.
      {
        label: "Hold length and sets",
        low: 0,
        high: 0.47,
        kind: "only between studies",
        word: "0.47",
      },
    ]);
    const svg = await drawSvg(figure);
    expect(svg).toContain("inside studies");
    if (size !== "slide")
      expect(marksIn(svg, "groups_marks").map(({ text }) => text)).toEqual([
        "Cannot be told apart",
        "Can hardly be told apart",
        "Not compared inside studies",
      ]);
  },
);

test("its words: the answer in the title, every pair for those who cannot see it", () => {
  const figure = collinearityFigure({ family: "strength", pairs });
  expect(figure.id).toBe("doses-together-strength");
  expect(figure.title).toBe("Strength: intensity and hold length cannot be told apart");
  expect(figure.description).toContain(
    "words on intensity and sets. words on intensity and hold length.",
  );
  expect(figure.data).toHaveLength(6);
  expect(figure.data[1]).toEqual({
    first: "intensity",
    second: "sets",
    comparison: "between studies",
    correlation: -0.24,
    studies: 13,
    toldApart: "hardly",
  });
});

test("nothing that moves together is said so; no pair is refused", () => {
  const { set } = doseTrials(randomStream(2), { studies: 12, arms: [2, 3] });
  const free = collinearityFigure({
    family: "a family with: odd / signs",
    pairs: collinearity(set, ["intensityPercent", "holdSeconds"]),
  });
  expectSoundFigure(free);
  expect(free.title).toMatch(
    /no two doses move together so closely inside studies that they cannot be told apart$/,
  );
  // A file whose studies compared none of them is not praised for it.
  const uncompared = collinearity(set, ["intensityPercent", "holdSeconds"]).map(
    ({ within: _within, ...pair }) => ({ ...pair, toldApart: "not studied" as const }),
  );
  expect(collinearityFigure({ family: "size", pairs: uncompared }).title).toBe(
    "Size: no two doses were compared inside three studies, so none can be told apart",
  );
  expect(() => collinearityFigure({ family: "size", pairs: [] })).toThrow(/at least one pair/);
});
