/**
 * Kind of evidence: made-up inputs in which no two numbers agree. What is drawn is read off the figure's own axes and
 * traced to the input by hand; places beside a plot are in drawing units, in brackets.
 */
import { describe, expect, test } from "vitest";
import { collinearityFigure } from "../../src/figures/collinearity-figure.js";
import { axis } from "../tables/made-up-doses.js";
import { told } from "./drawn.js";

describe("doses together", () => {
  test("every pair on its side of the diagonal", () => {
    const [effort, hold, sets] = [axis("intensityPercent"), axis("holdSeconds"), axis("sets")];
    const pair = (
      first: typeof effort,
      second: typeof effort,
      within: number | undefined,
      between: number,
      toldApart: "yes" | "hardly" | "no",
    ) => ({
      first,
      second,
      within: within === undefined ? undefined : { r: within, studies: 7, arms: 16 },
      between: { r: between, studies: 13, arms: 30 },
      words: `words on ${first.label} and ${second.label}`,
      toldApart,
    });
    const figure = collinearityFigure({
      family: "strength",
      pairs: [
        pair(effort, hold, -0.86, 0.13, "no"),
        pair(effort, sets, 0.65, -0.24, "hardly"),
        pair(hold, sets, undefined, 0.47, "yes"),
      ],
    });
    expect(told(figure)).toEqual([
      "Which doses move together? Strength [doses-together-strength]",
      'drawn as [["Which doses move together? Strength"],["Cannot be told apart: intensity and hold length."]]',
      "Cannot be told apart: intensity and hold length. Below the diagonal: correlation of the arms' distances from their study's mean, which decides what comparisons inside studies can tell apart; above it: correlation of studies' means. Small numbers are studies. From 0.6 on parts can hardly be told apart, from 0.8 on not at all. Empty cells: one of the two does not vary in three studies.",
      "Which doses move together? Strength. words on intensity and hold length. words on intensity and sets. words on hold length and sets.",
      "first | second | comparison | correlation | studies | toldApart",
      "intensity | hold length | inside studies | -0.86 | 7 | no",
      "intensity | hold length | between studies | 0.13 | 13 | no",
      "intensity | sets | inside studies | 0.65 | 7 | hardly",
      "intensity | sets | between studies | -0.24 | 13 | hardly",
      "hold length | sets | inside studies | null | null | yes",
      "hold length | sets | between studies | 0.47 | 13 | yes",
      "— doses",
      'rows [text, text-body, align right]: (99.2) | (55) "intensity (1)"; (99.2) | (113) "hold length (2)"; (99.2) | (171) "sets (3)"',
      'columns [text, text-heading, align center]: (138.2) | (16) "1"; (196.2) | (16) "2"; (254.2) | (16) "3"',
      "diagonal [rect, band]: (110.7) to (165.7) | (27.5) to (82.5); (168.7) to (223.7) | (85.5) to (140.5); (226.7) to (281.7) | (143.5) to (198.5)",
      "not studied [rect, cell-empty]: (168.7) to (223.7) | (143.5) to (198.5)",
      "shade 1 [rect, cell-1]: (168.7) to (223.7) | (27.5) to (82.5)",
      'correlations 1 [text, cell-strong-1, align center]: (196.2) | (49) "0.13" (words on intensity and hold length)',
      'studies 1 [text, cell-small-1, align center]: (196.2) | (68) "13" (words on intensity and hold length)',
      "shade 2 [rect, cell-2]: (226.7) to (281.7) | (27.5) to (82.5)",
      'correlations 2 [text, cell-strong-2, align center]: (254.2) | (49) "−0.24" (words on intensity and sets)',
      'studies 2 [text, cell-small-2, align center]: (254.2) | (68) "13" (words on intensity and sets)',
      "shade 3 [rect, cell-3]: (226.7) to (281.7) | (85.5) to (140.5)",
      'correlations 3 [text, cell-strong-3, align center]: (254.2) | (107) "0.47" (words on hold length and sets)',
      'studies 3 [text, cell-small-3, align center]: (254.2) | (126) "13" (words on hold length and sets)',
      "shade 4 [rect, cell-4]: (110.7) to (165.7) | (143.5) to (198.5)",
      'correlations 4 [text, cell-strong-4, align center]: (138.2) | (165) "0.65" (words on intensity and sets)',
      'studies 4 [text, cell-small-4, align center]: (138.2) | (184) "7" (words on intensity and sets)',
      "shade 5 [rect, cell-5]: (110.7) to (165.7) | (85.5) to (140.5)",
      'correlations 5 [text, cell-strong-5, align center]: (138.2) | (107) "−0.86" (words on intensity and hold length)',
      'studies 5 [text, cell-small-5, align center]: (138.2) | (126) "7" (words on intensity and hold length)',
    ]);
  });
});
