import { expect, test } from "vitest";

import { estimatesFigures } from "../../src/figures/estimates-figure.js";
import { expectSoundFigure, rowsOf } from "./figure-checks.js";

const effects = Array.from({ length: 97 }, (_, i) => ({
  study: `S${Math.floor(i / 3)}`,
  label: String(i),
  estimate: i / 100,
  low: i / 100 - 0.1,
  high: i / 100 + 0.1,
}));
const input = { title: "Many", scale: "log-ratio-of-means" as const, effects };

test("pages hold every effect once, whole studies, and one axis", () => {
  const pages = estimatesFigures(input, { rowsPerFigure: 40 });
  pages.forEach(expectSoundFigure);
  expect(pages.flatMap(({ data }) => data.map(({ label }) => label))).toEqual(
    effects.map(({ label }) => label),
  );
  for (const { data } of pages) expect(data.length).toBeLessThanOrEqual(40);
  const studies = pages.map(({ data }) => new Set(data.map(({ study }) => study)));
  expect(studies.reduce((sum, each) => sum + each.size, 0)).toBe(33);
  const axes = pages.map((page) =>
    JSON.stringify(rowsOf(page, "effects: head").map((head) => ({ ...head, place: 0 }))[0]),
  );
  expect(new Set(axes).size).toBe(1);
  expect(new Set(pages.map(({ id }) => id)).size).toBe(pages.length);
  expect(pages[0]?.description).toContain("of 97 effects");
});

test("few effects make one figure, without a page in its title", () => {
  const pages = estimatesFigures({ ...input, effects: effects.slice(0, 5) });
  expect(pages.map(({ id, title }) => [id, title])).toEqual([["estimates", "Many"]]);
});

test("a study longer than a page is parted", () => {
  const one = effects.map((effect) => ({ ...effect, study: "One" }));
  const pages = estimatesFigures({ ...input, effects: one }, { rowsPerFigure: 40 });
  expect(pages.map(({ data }) => data.length)).toEqual([40, 40, 17]);
});
