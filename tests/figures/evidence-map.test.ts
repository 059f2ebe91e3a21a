import { expect, test } from "vitest";

import { evidenceMapCells, type MappedArm } from "../../src/figures/evidence-map-cells.js";
import { evidenceMap, evidenceMapWords } from "../../src/figures/evidence-map.js";
import { roomOf } from "../../src/figures/frame.js";
import { drawSvg } from "../../src/host/draw-figure.js";
import { expectSoundFigure, rowsOf } from "./figure-checks.js";
import { marksIn } from "./read-plot.js";

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

test("every combination is counted, and the counts add up", () => {
  const map = evidenceMapCells(arms);
  expect(map.cells).toHaveLength(2 * 6 * 6);
  expect(map.cells.reduce((sum, { arms: count }) => sum + count, 0)).toBe(5);
  expect(evidenceMap({ map }).data).toHaveLength(72);
});

test("bands that nobody studied are counted and named, not drawn; a family of two combinations is told in words", () => {
  const more = [
    ...arms,
    arm("Dogwood", { intensityPercent: 70, holdSeconds: 60 }),
    arm("Elm", { intensityPercent: 70, holdSeconds: 4 }),
  ];
  const figure = evidenceMap({ map: evidenceMapCells(more) });
  expectSoundFigure(figure);
  type Cell = Readonly<{ effort: string; hold: string; text: string }>;
  const shown = (name: string) =>
    (rowsOf(figure, `family 1: ${name}`) as unknown as readonly Cell[]).map(
      ({ effort, hold, text }) => `${effort}, ${hold}: ${text}`,
    );
  expect(shown("studies")).toEqual([
    "60 to 80%, 3 to 6: 1",
    "60 to 80%, 60 +: 1",
    "95% and over, 3 to 6: 2",
    "not stated, 30 to 60: 1",
  ]);
  expect(shown("nobody")).toHaveLength(3 * 3 - 4);
  expect(JSON.stringify(figure.specification)).toContain("Nobody studied 3 of 5 intensities");
  expect(figure.description).toContain(
    "Strength: nobody studied 3 of 5 intensities (under 40%, 40 to 60%, 80 to 95%) and 3 of 6 hold lengths (under 3 s, 6 to 15 s, 15 to 30 s).",
  );
  expect(figure.caption).toContain("Size was studied only at 95% and over for 3 to 6 s (1 study).");
  expect(figure.title).toBe(
    "Strength: most studied at 95% and over for 3 to 6 s, by 2 of 5 studies; 27 of 30 combinations by none",
  );
});

test("a file whose families were all studied in one or two combinations is told in sentences", () => {
  const few = [
    arm("Ash"),
    arm("Birch", { holdSeconds: 60 }),
    arm("Cedar", { outcomeFamily: "size" }),
  ];
  expect(evidenceMapWords(evidenceMapCells(few))).toEqual([
    "Strength was studied only at 95% and over for 3 to 6 s (1 study) and at 95% and over for 60 s and over (1 study).",
    "Size was studied only at 95% and over for 3 to 6 s (1 study).",
  ]);
  expect(evidenceMapWords(evidenceMapCells([...few, arm("Elm", { holdSeconds: 10 })]))).toBe(
    undefined,
  );
});

test("a slide has the two families with the most studies, and says what it leaves out", () => {
  const families = ["tendon", "strength", "size"];
  const many = families.flatMap((outcomeFamily, family) =>
    [3, 10, 20].flatMap((holdSeconds) =>
      Array.from({ length: family + 1 }, (_, study) =>
        arm(`${outcomeFamily} ${holdSeconds} ${study}`, { outcomeFamily, holdSeconds }),
      ),
    ),
  );
  const slide = evidenceMap({ map: evidenceMapCells(many) }, roomOf("slide"));
  expectSoundFigure(slide);
  const drawn = JSON.stringify(slide.specification);
  expect(drawn.indexOf('"Size: 9 studies"')).toBeGreaterThan(0);
  expect(drawn.indexOf('"Strength: 6 studies"')).toBeGreaterThan(
    drawn.indexOf('"Size: 9 studies"'),
  );
  expect(drawn).not.toContain('Tendon: 3 studies"');
  expect(slide.caption).toContain("Not drawn: tendon, 3 studies, 3 arms, 30 people.");
});

test("a value on a boundary counts in the higher band", () => {
  const map = evidenceMapCells([arm("Ash", { intensityPercent: 80, holdSeconds: 6 })]);
  expect(map.cells.filter(({ studies }) => studies > 0)).toMatchObject([
    { effort: "80 to 95%", hold: "6 to 15" },
  ]);
});

test("arms that do not state effort stand in a band of their own, lowest on the map", async () => {
  const svg = await drawSvg(evidenceMap({ map: evidenceMapCells(arms.slice(0, 6)) }));
  const labels = marksIn(svg, "mark-text role-axis-label").filter(({ anchor }) => anchor === "end");
  // Of two families of too few combinations to draw beside others, strength stands first.
  expect(labels.slice(0, 2).map(({ text }) => text)).toEqual(["95% and over", "not stated"]);
  expect(labels[1]!.y).toBeGreaterThan(labels[0]!.y);
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
