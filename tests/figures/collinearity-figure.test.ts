import { expect, test } from "vitest";
import { collinearity } from "../../src/dose/collinearity.js";
import { collinearityFigure } from "../../src/figures/collinearity-figure.js";
import { randomStream } from "../../src/numeric/random-stream.js";
import { doseTrials } from "../dose/dose-trials.js";
import { expectSoundFigure, rowsOf } from "./figure-checks.js";

const { set } = doseTrials(randomStream(2), { studies: 12, arms: [2, 3] });
const tied = {
  ...set,
  effects: set.effects.map((effect) => ({
    ...effect,
    row: { ...effect.row, restBetweenRepetitionsSeconds: 2 * effect.row.holdSeconds! },
  })),
};
const names = ["intensityPercent", "holdSeconds", "restBetweenRepetitionsSeconds", "sets"] as const;
const figure = collinearityFigure({ family: "strength", pairs: collinearity(tied, names) });

test("sound; the words name what cannot be told apart", () => {
  expectSoundFigure(figure);
  expect(figure.id).toBe("doses-together-strength");
  expect(figure.caption).toMatch(/^Cannot be told apart: hold length and rest between holds\./);
  expect(figure.description).toMatch(/move together, r = 1\.00: their parts cannot be told apart/);
});

test("each dose has a row and a column of the same number", () => {
  expect(rowsOf(figure, "doses: rows").map(({ text }) => text)).toEqual([
    "intensity (1)",
    "hold length (2)",
    "rest between holds (3)",
    "sets (4)",
  ]);
  expect(rowsOf(figure, "doses: columns").map(({ text }) => text)).toEqual(["1", "2", "3", "4"]);
});

test("hold and rest stand at one on both sides of the diagonal; sets, held still, are empty", () => {
  const strongest = rowsOf(figure, "doses: correlations 5");
  expect(strongest.map(({ text }) => text)).toEqual(["1.00", "1.00"]);
  const [below, above] = strongest;
  const shift = Math.abs(below!.x - above!.x);
  // mirrored about the diagonal: as far along as up and down
  expect(Math.abs(below!.y - above!.y)).toBeCloseTo(shift, 9);
  expect(rowsOf(figure, "doses: not studied")).toHaveLength(6);
  expect(figure.data).toHaveLength(12);
});

test("nothing that moves together is said so; no pair is refused", () => {
  const free = collinearityFigure({
    family: "a family with: odd / signs",
    pairs: collinearity(set, ["intensityPercent", "holdSeconds"]),
  });
  expectSoundFigure(free);
  expect(free.caption).toMatch(/^No two of these doses move together so closely/);
  expect(() => collinearityFigure({ family: "size", pairs: [] })).toThrow(/at least one pair/);
});
