/**
 * Kind of evidence: made-up inputs in which no two numbers agree. What is drawn is read off the figure's own axes and
 * traced to the input by hand; places beside a plot are in drawing units, in brackets.
 */
import { describe, expect, test } from "vitest";
import type { DoseCurve } from "../../src/dose/dose-response.js";
import { collinearityFigure } from "../../src/figures/collinearity-figure.js";
import { doseCurveFigure } from "../../src/figures/dose-curve-figure.js";
import type { Figure } from "../../src/figures/figure.js";
import { axis, madeUpCurve } from "../tables/made-up-doses.js";
import { axisOf, told } from "./drawn.js";

const log = (percent: number): number => Math.log1p(percent / 100);
describe("a dose", () => {
  const point = (
    study: string,
    arm: string,
    dose: number,
    percent: number,
    isMidpoint = false,
  ) => ({
    effectId: `${arm} ${dose}`,
    study,
    arm,
    dose,
    estimate: log(percent),
    standardError: 0.02,
    isMidpoint,
  });
  const answer = {
    ...madeUpCurve,
    points: [
      point("Ash", "a", 35, 3.3),
      point("Ash", "b", 85, 8.7),
      point("Birch", "c", 60, 5.9, true),
      point("Birch", "d", 60, 6.3),
      point("Cedar", "e", 50, 7.7),
      point("Cedar", "f", 25, 1.3),
      point("Cedar", "g", 95, 10.4),
    ],
    shapeCurves: [
      { shape: "plateau", weight: 0.516, heights: [4.1, 6.6, 7.6, 9.3].map(log) },
      { shape: "no effect", weight: 0.04, heights: [7, 7, 7, 7].map(log) },
    ],
  } as unknown as DoseCurve;
  const axes = (figure: Figure) => {
    const x = axisOf(figure, "support: doses", "x", { shift: 58 });
    return {
      dose: { x, y: axisOf(figure, "gain axis: gains", "y", { log: true }) },
      support: { x: (place: number) => (place > 658 ? undefined : x(place - 58)) },
    };
  };

  test("on its axes", () => {
    const figure = doseCurveFigure({ family: "joint torque", answer });
    expect(told(figure, axes(figure))).toEqual([
      "Joint torque against intensity: worth testing: more intensity [dose-joint-torque-intensity-percent]",
      'drawn as [["Joint torque against intensity: worth testing: more intensity"],["33 effects from 12 studies. Made up."]]',
      "33 effects from 12 studies. Thick line: average of the shapes by their weights (plateau 52%, logarithm 36%, no effect 13%); dark ground: its 95% interval at each dose with the choice of shape in it; light ground: the band that holds the whole curve with the same confidence; thin coloured lines: single shapes with a weight of 5% or more. Points are effects; thin grey lines join the arms of one study, and they are the comparisons that tell about intensity. The strip below counts the arms at each dose: dark where their study compares doses, pale where it has one dose only. Made up. Hatched: no comparison behind the curve reaches there.",
      "Joint torque against intensity: worth testing: more intensity. 33 effects from 12 studies; made up. From low to high: at 35% of MVC the curve says 4.4% (2.8 to 6.2), at 85% of MVC the curve says 9.1% (6.9 to 11.3). Weights of the shapes: plateau 52%, logarithm 36%, no effect 13%.",
      "kind | study | arm | dose | estimate | low | high | wholeLow | wholeHigh | shown",
      "curve beyond the comparisons |  |  | 25 | 0.0305 | 0.0149 | 0.0459 | 0.006 | 0.0583 | 3.1",
      "curve |  |  | 35 | 0.0431 | 0.0276 | 0.0602 | 0.0188 | 0.0723 | 4.4",
      "curve |  |  | 50 | 0.063 | 0.045 | 0.0807 | 0.0363 | 0.0926 | 6.5",
      "curve |  |  | 62 | 0.076 | 0.0554 | 0.0944 | 0.0469 | 0.1062 | 7.9",
      "curve |  |  | 85 | 0.0871 | 0.0667 | 0.1071 | 0.0583 | 0.1187 | 9.1",
      "curve beyond the comparisons |  |  | 95 | 0.0935 | 0.0686 | 0.1187 | 0.0602 | 0.1302 | 9.8",
      "effect | Ash | a | 35 | 0.0325 | null | null | null | null | 3.3",
      "effect | Ash | b | 85 | 0.0834 | null | null | null | null | 8.7",
      "effect | Birch | c | 60 | 0.0573 | null | null | null | null | 5.9",
      "effect | Birch | d | 60 | 0.0611 | null | null | null | null | 6.3",
      "effect | Cedar | e | 50 | 0.0742 | null | null | null | null | 7.7",
      "effect | Cedar | f | 25 | 0.0129 | null | null | null | null | 1.3",
      "effect | Cedar | g | 95 | 0.0989 | null | null | null | null | 10.4",
      "— gain axis",
      'gains [text, text-small, align right]: (50) | (317.8) "0%"; (50) | (261.3) "2%"; (50) | (205.8) "4%"; (50) | (151.5) "6%"; (50) | (98.1) "8%"; (50) | (45.8) "10%"',
      'gain heading [text, text-heading, align center, angle 270, limit 330]: (8) | (165) "Change, %"',
      "— dose",
      "hatching [rule, grid] 94 of them: 22.9 to 24 | 11.4 to 11.8; 22.9 to 25.1 | 11.1 to 11.8; 95.4 to 97.1 | -0.4 to 0.1; 96.5 to 97.1 | -0.4 to -0.3",
      "grid [rule, grid]: 22.9 to 97.1 | 0; 22.9 to 97.1 | 2; 22.9 to 97.1 | 4; 22.9 to 97.1 | 6; 22.9 to 97.1 | 8; 22.9 to 97.1 | 10",
      "no change [rule, zero]: 22.9 to 97.1 | 0",
      "whole band [area, pooled-band]: 35 | 1.9 to 7.5; 50 | 3.7 to 9.7; 62 | 4.8 to 11.2; 85 | 6 to 11.8",
      "interval [area, pooled-band]: 35 | 2.8 to 6.2; 50 | 4.6 to 8.4; 62 | 5.7 to 9.9; 85 | 6.9 to 11.3",
      "steps inside studies [rule, rest]: 35 to 85 | 3.3 to 8.7; 25 to 50 | 1.3 to 7.7; 50 to 95 | 7.7 to 10.4",
      "effects [point, effect-point]: 35 | 3.3 (Ash, a: 35% of MVC, 3.3%); 85 | 8.7 (Ash, b: 85% of MVC, 8.7%); 60 | 5.9 (Birch, c: 60% of MVC (midpoint of a range), 5.9%); 60 | 6.3 (Birch, d: 60% of MVC, 6.3%); 50 | 7.7 (Cedar, e: 50% of MVC, 7.7%); 25 | 1.3 (Cedar, f: 25% of MVC, 1.3%); 95 | 10.4 (Cedar, g: 95% of MVC, 10.4%)",
      "single shapes [rule, prediction-hatch]: 35 to 50 | 4.1 to 6.6; 50 to 62 | 6.6 to 7.6; 62 to 85 | 7.6 to 9.3",
      "curve [rule, pooled-line]: 35 to 50 | 4.4 to 6.5; 50 to 62 | 6.5 to 7.9; 62 to 85 | 7.9 to 9.1",
      "curve beyond the comparisons [rule, pooled-edge]: 25 to 35 | 3.1 to 4.4; 85 to 95 | 9.1 to 9.8",
      "— support",
      "arms that are compared [rect, hold]: 34.7 to 35.3 | (30) to (10.2); 84.7 to 85.3 | (30) to (10.2); 49.7 to 50.3 | (30) to (10.2); 24.7 to 25.3 | (30) to (10.2); 94.7 to 95.3 | (30) to (10.2)",
      "arms on their own [rect, hold-quiet]: 59.7 to 60.3 | (30) to (2)",
      "axis [rule, zero]: 22.9 to 97.1 | (30)",
      "marks [rule, grid]: 30 | (30) to (35); 40 | (30) to (35); 50 | (30) to (35); 60 | (30) to (35); 70 | (30) to (35); 80 | (30) to (35); 90 | (30) to (35)",
      'doses [text, text-small, align center]: (115.4) | (44) "30"; (196.3) | (44) "40"; (277.1) | (44) "50"; (358) | (44) "60"; (438.9) | (44) "70"; (519.7) | (44) "80"; (600.6) | (44) "90"',
      'heading [text, text-heading]: (58) | (64) "Intensity, % of MVC"',
      'arms [text, text-small, align right]: (658) | (64) "tallest bar: 2 arms"',
    ]);
  });

  test("between studies only, without a best dose", () => {
    const figure = doseCurveFigure({
      id: "x",
      title: "A title",
      family: "size",
      answer: {
        ...answer,
        evidence: "between studies only",
        shapeCurves: [],
        range: { low: 25, high: 95 },
        curve: answer.curve.map((one) => ({ ...one, supported: true })),
        readOffs: {
          ...answer.readOffs,
          best: { kind: "refusal", code: "made-up", reason: "no best dose" },
        },
      } as unknown as DoseCurve,
    });
    expect(told(figure, axes(figure)).filter((line) => !/^(effect|curve) \|/.test(line))).toEqual([
      "A title [x]",
      'drawn as [["A title"],["33 effects from 12 studies. Made up."]]',
      "33 effects from 12 studies. Broken line: average of the shapes by their weights (plateau 52%, logarithm 36%, no effect 13%); dark ground: its 95% interval at each dose with the choice of shape in it; light ground: the band that holds the whole curve with the same confidence; thin coloured lines: single shapes with a weight of 5% or more. Points are effects; thin grey lines join the arms of one study, and they are the comparisons that tell about intensity. The strip below counts the arms at each dose: dark where their study compares doses, pale where it has one dose only. Made up.",
      "A title. 33 effects from 12 studies; made up. From low to high: at 25% of MVC the curve says 3.1% (1.5 to 4.7), at 95% of MVC the curve says 9.8% (7.1 to 12.6). Weights of the shapes: plateau 52%, logarithm 36%, no effect 13%. no best dose.",
      "kind | study | arm | dose | estimate | low | high | wholeLow | wholeHigh | shown",
      "— gain axis",
      'gains [text, text-small, align right]: (50) | (317.8) "0%"; (50) | (266.8) "2%"; (50) | (216.8) "4%"; (50) | (167.7) "6%"; (50) | (119.6) "8%"; (50) | (72.4) "10%"; (50) | (26) "12%"',
      'gain heading [text, text-heading, align center, angle 270, limit 330]: (8) | (165) "Change, %"',
      "— dose",
      "hatching [rule, grid] none",
      "grid [rule, grid]: 22.9 to 97.1 | 0; 22.9 to 97.1 | 2; 22.9 to 97.1 | 4; 22.9 to 97.1 | 6; 22.9 to 97.1 | 8; 22.9 to 97.1 | 10; 22.9 to 97.1 | 12",
      "no change [rule, zero]: 22.9 to 97.1 | 0",
      "whole band [area, pooled-band]: 25 | 0.6 to 6; 35 | 1.9 to 7.5; 50 | 3.7 to 9.7; 62 | 4.8 to 11.2; 85 | 6 to 12.6; 95 | 6.2 to 13.1",
      "interval [area, pooled-band]: 25 | 1.5 to 4.7; 35 | 2.8 to 6.2; 50 | 4.6 to 8.4; 62 | 5.7 to 9.9; 85 | 6.9 to 11.3; 95 | 7.1 to 12.6",
      "steps inside studies [rule, rest]: 35 to 85 | 3.3 to 8.7; 25 to 50 | 1.3 to 7.7; 50 to 95 | 7.7 to 10.4",
      "effects [point, effect-point]: 35 | 3.3 (Ash, a: 35% of MVC, 3.3%); 85 | 8.7 (Ash, b: 85% of MVC, 8.7%); 60 | 5.9 (Birch, c: 60% of MVC (midpoint of a range), 5.9%); 60 | 6.3 (Birch, d: 60% of MVC, 6.3%); 50 | 7.7 (Cedar, e: 50% of MVC, 7.7%); 25 | 1.3 (Cedar, f: 25% of MVC, 1.3%); 95 | 10.4 (Cedar, g: 95% of MVC, 10.4%)",
      "single shapes [rule, prediction-hatch] none",
      "curve [rule, pooled-line]: 25 to 35 | 3.1 to 4.4; 35 to 50 | 4.4 to 6.5; 50 to 62 | 6.5 to 7.9; 62 to 85 | 7.9 to 9.1; 85 to 95 | 9.1 to 9.8",
      "curve beyond the comparisons [rule, pooled-edge] none",
      "— support",
      "arms that are compared [rect, hold]: 34.7 to 35.3 | (30) to (10.2); 84.7 to 85.3 | (30) to (10.2); 49.7 to 50.3 | (30) to (10.2); 24.7 to 25.3 | (30) to (10.2); 94.7 to 95.3 | (30) to (10.2)",
      "arms on their own [rect, hold-quiet]: 59.7 to 60.3 | (30) to (2)",
      "axis [rule, zero]: 22.9 to 97.1 | (30)",
      "marks [rule, grid]: 30 | (30) to (35); 40 | (30) to (35); 50 | (30) to (35); 60 | (30) to (35); 70 | (30) to (35); 80 | (30) to (35); 90 | (30) to (35)",
      'doses [text, text-small, align center]: (115.4) | (44) "30"; (196.3) | (44) "40"; (277.1) | (44) "50"; (358) | (44) "60"; (438.9) | (44) "70"; (519.7) | (44) "80"; (600.6) | (44) "90"',
      'heading [text, text-heading]: (58) | (64) "Intensity, % of MVC"',
      'arms [text, text-small, align right]: (658) | (64) "tallest bar: 2 arms"',
    ]);
  });
});

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
