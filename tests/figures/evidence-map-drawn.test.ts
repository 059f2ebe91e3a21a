/**
 * Kind of evidence: made-up inputs in which no two numbers agree. What is drawn is read off the figure's own axes and
 * traced to the input by hand; places beside a plot are in drawing units, in brackets.
 */
import { describe, expect, test } from "vitest";
import { evidenceMap } from "../../src/figures/evidence-map.js";
import { evidenceMapCells } from "../../src/figures/evidence-map-cells.js";
import { drawSvg } from "../../src/host/draw-figure.js";
import { toldBy } from "./drawn.js";
import { expectSoundFigure } from "./figure-checks.js";
import { marksIn, type Mark } from "./read-plot.js";

describe("what has been studied", () => {
  const arm = (
    study: string,
    name: string,
    outcomeFamily: string,
    intensityPercent: number | undefined,
    holdSeconds: number | undefined,
    participants?: number,
  ) => ({
    study,
    arm: name,
    outcomeFamily,
    intensityPercent,
    holdSeconds,
    participants,
  });

  test("every arm in its cell", async () => {
    const map = evidenceMapCells([
      arm("Ash", "a", "strength", 100, 3, 11),
      arm("Ash", "b", "strength", 100, 4, 12),
      arm("Birch", "c", "strength", 97, 5, 23),
      arm("Cedar", "d", "strength", 39, 59, undefined),
      arm("Dogwood", "e", "strength", undefined, 60, 34),
      arm("Elm", "f", "size", 60, 2.9, 7),
    ]);
    const figure = evidenceMap({ map });
    expectSoundFigure(figure);
    const title =
      "Strength: most studied at 95% and over for 3 to 6 s, by 2 of 4 studies; 28 of 30 combinations by none";
    expect(toldBy(figure)).toEqual([
      `${title} [evidence-map]`,
      `drawn as [["${title}"],null]`,
      "Large number: studies; below it arms · people. Size was studied only at 60 to 80% for under 3 s (1 study). A cell without a number was studied by nobody; the stronger its colour, the more studies (1, 2, 3 to 4, 5 to 9, 10 and more). A value on the boundary of two bands counts in the higher one; a range counts at its midpoint. An arm measured in several outcomes counts once in each family. A plus sign or question mark says that some arms do not state their people.",
      `${title}. Strength: 4 studies, 5 arms, 80+ people. Size: 1 study, 1 arm, 7 people. Strength: nobody studied 3 of 5 intensities (40 to 60%, 60 to 80%, 80 to 95%) and 3 of 6 hold lengths (under 3 s, 6 to 15 s, 15 to 30 s). Size was studied only at 60 to 80% for under 3 s (1 study).`,
      "outcomeFamily | effort | hold | studies | arms | people | armsWithoutPeople",
      "strength | under 40% | under 3 | 0 | 0 | 0 | 0",
      "strength | under 40% | 3 to 6 | 0 | 0 | 0 | 0",
      "strength | under 40% | 6 to 15 | 0 | 0 | 0 | 0",
      "strength | under 40% | 15 to 30 | 0 | 0 | 0 | 0",
      "strength | under 40% | 30 to 60 | 1 | 1 | 0 | 1",
      "strength | under 40% | 60 + | 0 | 0 | 0 | 0",
      "strength | 40 to 60% | under 3 | 0 | 0 | 0 | 0",
      "strength | 40 to 60% | 3 to 6 | 0 | 0 | 0 | 0",
      "strength | 40 to 60% | 6 to 15 | 0 | 0 | 0 | 0",
      "strength | 40 to 60% | 15 to 30 | 0 | 0 | 0 | 0",
      "strength | 40 to 60% | 30 to 60 | 0 | 0 | 0 | 0",
      "strength | 40 to 60% | 60 + | 0 | 0 | 0 | 0",
      "strength | 60 to 80% | under 3 | 0 | 0 | 0 | 0",
      "strength | 60 to 80% | 3 to 6 | 0 | 0 | 0 | 0",
      "strength | 60 to 80% | 6 to 15 | 0 | 0 | 0 | 0",
      "strength | 60 to 80% | 15 to 30 | 0 | 0 | 0 | 0",
      "strength | 60 to 80% | 30 to 60 | 0 | 0 | 0 | 0",
      "strength | 60 to 80% | 60 + | 0 | 0 | 0 | 0",
      "strength | 80 to 95% | under 3 | 0 | 0 | 0 | 0",
      "strength | 80 to 95% | 3 to 6 | 0 | 0 | 0 | 0",
      "strength | 80 to 95% | 6 to 15 | 0 | 0 | 0 | 0",
      "strength | 80 to 95% | 15 to 30 | 0 | 0 | 0 | 0",
      "strength | 80 to 95% | 30 to 60 | 0 | 0 | 0 | 0",
      "strength | 80 to 95% | 60 + | 0 | 0 | 0 | 0",
      "strength | 95% and over | under 3 | 0 | 0 | 0 | 0",
      "strength | 95% and over | 3 to 6 | 2 | 3 | 46 | 0",
      "strength | 95% and over | 6 to 15 | 0 | 0 | 0 | 0",
      "strength | 95% and over | 15 to 30 | 0 | 0 | 0 | 0",
      "strength | 95% and over | 30 to 60 | 0 | 0 | 0 | 0",
      "strength | 95% and over | 60 + | 0 | 0 | 0 | 0",
      "strength | not stated | under 3 | 0 | 0 | 0 | 0",
      "strength | not stated | 3 to 6 | 0 | 0 | 0 | 0",
      "strength | not stated | 6 to 15 | 0 | 0 | 0 | 0",
      "strength | not stated | 15 to 30 | 0 | 0 | 0 | 0",
      "strength | not stated | 30 to 60 | 0 | 0 | 0 | 0",
      "strength | not stated | 60 + | 1 | 1 | 34 | 0",
      "size | under 40% | under 3 | 0 | 0 | 0 | 0",
      "size | under 40% | 3 to 6 | 0 | 0 | 0 | 0",
      "size | under 40% | 6 to 15 | 0 | 0 | 0 | 0",
      "size | under 40% | 15 to 30 | 0 | 0 | 0 | 0",
      "size | under 40% | 30 to 60 | 0 | 0 | 0 | 0",
      "size | under 40% | 60 + | 0 | 0 | 0 | 0",
      "size | 40 to 60% | under 3 | 0 | 0 | 0 | 0",
      "size | 40 to 60% | 3 to 6 | 0 | 0 | 0 | 0",
      "size | 40 to 60% | 6 to 15 | 0 | 0 | 0 | 0",
      "size | 40 to 60% | 15 to 30 | 0 | 0 | 0 | 0",
      "size | 40 to 60% | 30 to 60 | 0 | 0 | 0 | 0",
      "size | 40 to 60% | 60 + | 0 | 0 | 0 | 0",
      "size | 60 to 80% | under 3 | 1 | 1 | 7 | 0",
      "size | 60 to 80% | 3 to 6 | 0 | 0 | 0 | 0",
      "size | 60 to 80% | 6 to 15 | 0 | 0 | 0 | 0",
      "size | 60 to 80% | 15 to 30 | 0 | 0 | 0 | 0",
      "size | 60 to 80% | 30 to 60 | 0 | 0 | 0 | 0",
      "size | 60 to 80% | 60 + | 0 | 0 | 0 | 0",
      "size | 80 to 95% | under 3 | 0 | 0 | 0 | 0",
      "size | 80 to 95% | 3 to 6 | 0 | 0 | 0 | 0",
      "size | 80 to 95% | 6 to 15 | 0 | 0 | 0 | 0",
      "size | 80 to 95% | 15 to 30 | 0 | 0 | 0 | 0",
      "size | 80 to 95% | 30 to 60 | 0 | 0 | 0 | 0",
      "size | 80 to 95% | 60 + | 0 | 0 | 0 | 0",
      "size | 95% and over | under 3 | 0 | 0 | 0 | 0",
      "size | 95% and over | 3 to 6 | 0 | 0 | 0 | 0",
      "size | 95% and over | 6 to 15 | 0 | 0 | 0 | 0",
      "size | 95% and over | 15 to 30 | 0 | 0 | 0 | 0",
      "size | 95% and over | 30 to 60 | 0 | 0 | 0 | 0",
      "size | 95% and over | 60 + | 0 | 0 | 0 | 0",
      "size | not stated | under 3 | 0 | 0 | 0 | 0",
      "size | not stated | 3 to 6 | 0 | 0 | 0 | 0",
      "size | not stated | 6 to 15 | 0 | 0 | 0 | 0",
      "size | not stated | 15 to 30 | 0 | 0 | 0 | 0",
      "size | not stated | 30 to 60 | 0 | 0 | 0 | 0",
      "size | not stated | 60 + | 0 | 0 | 0 | 0",
    ]);
    const svg = await drawSvg(figure);
    const labels = marksIn(svg, "mark-text role-axis-label");
    const nearest = (of: readonly Mark[], along: "x" | "y", place: number): string =>
      of.toSorted((a, b) => Math.abs(a[along] - place) - Math.abs(b[along] - place))[0]!.text;
    const [upright, across] = ["end", "middle"].map((side) =>
      labels.filter(({ anchor }) => anchor === side),
    );
    const read = (layer: string) =>
      marksIn(svg, `mark-text role-mark family_1__${layer}_marks`).map(
        ({ x, y, text }) => `${nearest(upright!, "y", y)}, ${nearest(across!, "x", x)}: ${text}`,
      );
    expect(read("studies")).toEqual([
      "under 40%, 30 to 60: 1",
      "95% and over, 3 to 6: 2",
      "not stated, 60 +: 1",
    ]);
    expect(read("arms_and_people")).toEqual([
      "under 40%, 30 to 60: 1 · ?",
      "95% and over, 3 to 6: 3 · 46",
      "not stated, 60 +: 1 · 34",
    ]);
    const shades = marksIn(svg, "mark-rect role-mark family_1__studied_marks").length;
    expect([shades, marksIn(svg, "mark-rect role-mark family_1__nobody_marks").length]).toEqual([
      3, 6,
    ]);
    const one = evidenceMapCells([arm("Ash", "a", "strength", 100, 3, 11)]);
    expect(toldBy(evidenceMap({ id: "x", title: "A title", map: one })).slice(0, 4)).toEqual([
      "A title [x]",
      'drawn as [["A title"],null]',
      "Large number: studies; below it arms · people. A cell without a number was studied by nobody; the stronger its colour, the more studies (1, 2, 3 to 4, 5 to 9, 10 and more). A value on the boundary of two bands counts in the higher one; a range counts at its midpoint. An arm measured in several outcomes counts once in each family.",
      "A title. Strength: 1 study, 1 arm, 11 people. Strength: nobody studied 4 of 5 intensities (under 40%, 40 to 60%, 60 to 80%, 80 to 95%) and 5 of 6 hold lengths (under 3 s, 6 to 15 s, 15 to 30 s, 30 to 60 s, 60 s and over).",
    ]);
  });
});
