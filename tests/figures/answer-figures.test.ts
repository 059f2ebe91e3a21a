/**
 * Kind of evidence: made-up inputs in which no two numbers agree. What is drawn is read off the figure's own axes and
 * traced to the input by hand; places beside a plot are in drawing units, in brackets.
 */
import { describe, expect, test } from "vitest";
import type { DoseCurve } from "../../src/dose/dose-response.js";
import type { EqualTension } from "../../src/dose/equal-tension.js";
import type { JointAngle } from "../../src/dose/joint-angle.js";
import type { TimeCourse } from "../../src/dose/time-course.js";
import { collinearityFigure } from "../../src/figures/collinearity-figure.js";
import { doseCurveFigure } from "../../src/figures/dose-curve-figure.js";
import { equalTensionFigure } from "../../src/figures/equal-tension-figure.js";
import { estimatesFigure } from "../../src/figures/estimates-figure.js";
import type { EstimatesInput } from "../../src/figures/estimates-input.js";
import { evidenceMap } from "../../src/figures/evidence-map.js";
import { evidenceMapCells } from "../../src/figures/evidence-map-cells.js";
import type { Figure } from "../../src/figures/figure.js";
import { jointAngleFigure } from "../../src/figures/joint-angle-figure.js";
import { precisionFigure } from "../../src/figures/precision-figure.js";
import { timeCourseFigure } from "../../src/figures/time-course-figure.js";
import { sessionTimeline } from "../../src/protocol/session-timeline.js";
import { parsePrescription } from "../../src/protocol/written-form.js";
import { coefficientOfPercent } from "../tables/all-different.js";
import { axis, madeUpCurve } from "../tables/made-up-doses.js";
import { axisOf, layersOf, seen, toldBy, type Axis } from "./drawn.js";
import { expectSoundFigure } from "./figure-checks.js";

const log = (percent: number): number => Math.log1p(percent / 100);
const session = (text: string) => sessionTimeline(parsePrescription(text));

const estimates: EstimatesInput = {
  title: "Strength",
  scale: "log-ratio-of-means",
  effects: [
    {
      study: "Ash",
      label: "knee",
      estimate: log(8.1),
      low: log(1.2),
      high: log(15.3),
      timeline: session("4 x 30 s at 60 %, rest 90 s"),
    },
    {
      study: "Birch",
      label: "elbow",
      estimate: log(12.4),
      low: log(-3.5),
      high: log(30.6),
      note: "borrowed",
    },
    { study: "Ash", label: "hip", estimate: log(4.7), low: log(-6.8), high: log(17.9) },
  ],
  pooled: {
    estimate: log(9.2),
    interval: { low: log(2.6), high: log(16.4) },
    predictionInterval: { low: log(-7.7), high: log(28.8) },
  },
  confidencePercent: 90,
  model: "random effects.",
};

/** All that a figure says and shows; `axes` by panel. */
const told = (
  figure: Figure,
  axes: Readonly<Record<string, Readonly<{ x?: Axis; y?: Axis }>>> = {},
): readonly string[] => {
  expectSoundFigure(figure);
  const panels = [...new Set(layersOf(figure).map(({ panel }) => panel))];
  return [
    ...toldBy(figure),
    ...panels.flatMap((panel) => [`— ${panel}`, ...seen(figure, panel, axes[panel])]),
  ];
};

describe("estimates", () => {
  test("on their axis", () => {
    const figure = estimatesFigure(estimates);
    const x = axisOf(figure, "effects: axis above", "x", { log: true });
    expect(told(figure, { effects: { x } })).toEqual([
      "Strength [estimates]",
      'drawn as [["Strength"],["3 effects from 2 studies. The average is 9.2% (2.6 to 16.4); the true effect of a further study like these is expected between −7.7","and 28.8%."]]',
      "3 effects from 2 studies. Each tick is an estimate; its bar is the 90% interval, darker towards the middle. The shaded band is the 90% confidence interval of the average; the broken lines and the hatched bracket are the prediction interval. Hold strips show the whole session, all on one time scale; height is effort. random effects. a: borrowed.",
      "Strength: 3 effects from 2 studies. The average is 9.2% (2.6 to 16.4); the true effect of a further study like these is expected between −7.7 and 28.8%.",
      "study | label | estimate | low | high | shownEstimate | shownLow | shownHigh | note",
      "Ash | knee | 0.0779 | 0.0119 | 0.1424 | 8.1 | 1.2 | 15.3 | null",
      "Birch | elbow | 0.1169 | -0.0356 | 0.267 | 12.4 | -3.5 | 30.6 | borrowed",
      "Ash | hip | 0.0459 | -0.0704 | 0.1647 | 4.7 | -6.8 | 17.9 | null",
      "— names",
      "study bands [rect, band]: (0) to (174) | (92) to (136); (0) to (174) | (140) to (164)",
      'headings [text, text-heading]: (8) | (10) "Study"; (70) | (10) "Arm and outcome"',
      'study names [text, text-strong, limit 56, fontSize 11]: (8) | (104) "Ash"; (8) | (152) "Birch"',
      'labels [text, text-body, limit 96, fontSize 11]: (70) | (104) "knee"; (70) | (124) "hip"; (70) | (152) "elbow"',
      'pooled names [text, text-pooled-strong]: (8) | (51) "Average over such studies"; (8) | (73) "A further study like these"',
      "— hold strips",
      "study bands [rect, band]: (0) to (126) | (92) to (136); (0) to (126) | (140) to (164)",
      'headings [text, text-heading]: (8) | (10) "Session, to scale"',
      "rests [rule, rest]: (16) to (40) | (111.2); (48) to (72) | (111.2); (80) to (104) | (111.2)",
      "rests between sets [rule, rest-between-sets] none",
      "holds [rect, hold]: (8) to (16) | (102.6) to (111.2); (40) to (48) | (102.6) to (111.2); (72) to (80) | (102.6) to (111.2); (104) to (112) | (102.6) to (111.2)",
      "holds with effort not stated [rect, hold-quiet] none",
      "strip axis [rule, grid]: (8) to (112) | (168); (8) | (168) to (172); (112) | (168) to (172)",
      'strip axis start [text, text-small]: (8) | (180) "0"',
      'strip axis end [text, text-small, align right]: (112) | (180) "6 min 30 s"',
      'effort key [text, text-small]: (8) | (194) "height: effort to 100%"',
      "— effects",
      "study bands [rect, band]: -8.7 to 32 | (92) to (136); -8.7 to 32 | (140) to (164)",
      "grid [rule, grid]: -5 | (34) to (168); 0 | (34) to (168); 5 | (34) to (168); 10 | (34) to (168); 15 | (34) to (168); 20 | (34) to (168); 25 | (34) to (168); 30 | (34) to (168)",
      "prediction band [rect, prediction-band]: -7.7 to 28.8 | (73) to (168)",
      "prediction edges [rule, prediction-edge]: -7.7 | (73) to (168); 28.8 | (73) to (168)",
      "prediction hatching [rule, prediction-hatch] 61 of them: -7.7 to -7.2 | (72) to (68); -7.7 to -6.7 | (76) to (68); 27.5 to 28.8 | (78) to (70.7); 28.2 to 28.8 | (78) to (74.7)",
      "prediction bracket [rule, prediction-bracket]: -7.7 | (66) to (80); 28.8 | (66) to (80); -7.7 to 28.8 | (73)",
      "confidence band [rect, pooled-band]: 2.6 to 16.4 | (51) to (168)",
      "pooled interval [rect, pooled-bar]: 2.6 to 16.4 | (46) to (56)",
      "pooled line [rule, pooled-line]: 9.2 | (51) to (168)",
      "pooled estimate tick [rect, pooled-tick]: 9 to 9.4 | (43) to (59)",
      "no change [rule, zero]: 0 | (34) to (172)",
      "intervals [rect, effect-outer]: 1.2 to 15.3 | (101.3) to (106.8); -6.8 to 17.9 | (121.3) to (126.8); -3.5 to 30.6 | (149.3) to (154.8)",
      "intervals, inner two thirds [rect, effect-middle]: 3.4 to 12.8 | (100) to (108); -3.1 to 13.3 | (120) to (128); 1.5 to 24.2 | (148) to (156)",
      "intervals cut at the left [text, text-strong, align right] none",
      "intervals cut at the right [text, text-strong] none",
      "estimates [rect, effect-tick]: 7.9 to 8.3 | (96.5) to (111.5) (Ash knee: 8.1% (1.2 to 15.3)); 4.5 to 4.9 | (116.5) to (131.5) (Ash hip: 4.7% (−6.8 to 17.9)); 12.2 to 12.6 | (144.5) to (159.5) (Birch elbow: 12.4% (−3.5 to 30.6))",
      'headings [text, text-heading]: (0) | (10) "Change, %"',
      'axis above [text, text-small, align center]: (27.9) | (26) "−5%"; (64.5) | (26) "0%"; (99.2) | (26) "5%"; (132.3) | (26) "10%"; (164) | (26) "15%"; (194.3) | (26) "20%"; (223.4) | (26) "25%"; (251.3) | (26) "30%"',
      'axis below [text, text-small, align center]: (27.9) | (180) "−5%"; (64.5) | (180) "0%"; (99.2) | (180) "5%"; (132.3) | (180) "10%"; (164) | (180) "15%"; (194.3) | (180) "20%"; (223.4) | (180) "25%"; (251.3) | (180) "30%"',
      'direction low [text, text-small, align right]: (58.5) | (195) "← worse"',
      'direction high [text, text-small]: (70.5) | (195) "better →"',
      "— numbers",
      "study bands [rect, band]: (0) to (158) | (92) to (136); (0) to (158) | (140) to (164)",
      'heading estimate [text, text-heading, align right]: (50) | (10) "Estimate"',
      'heading interval [text, text-heading, align right]: (150) | (10) "90% interval"',
      'estimate numbers [text, text-strong, align right, fontSize 11]: (50) | (104) "8.1"; (50) | (124) "4.7"; (50) | (152) "12.4"',
      'low numbers [text, text-body, align right, fontSize 11]: (96) | (104) "1.2"; (96) | (124) "−6.8"; (96) | (152) "−3.5"',
      'high numbers [text, text-body, align right, fontSize 11]: (150) | (104) "15.3"; (150) | (124) "17.9"; (150) | (152) "30.6"',
      'between numbers [text, text-quiet, align center, fontSize 10]: (107) | (104) "to"; (107) | (124) "to"; (107) | (152) "to"; (107) | (51) "to"; (107) | (73) "to"',
      'note marks [text, text-small, fontSize 9]: (52) | (148.8) "a" (borrowed)',
      'pooled estimate [text, text-pooled-strong, align right]: (50) | (51) "9.2"',
      'pooled low [text, text-pooled, align right]: (96) | (51) "2.6"; (96) | (73) "−7.7"',
      'pooled high [text, text-pooled, align right]: (150) | (51) "16.4"; (150) | (73) "28.8"',
    ]);
  });

  test("a scale that is no percentage, one effect cut at both sides, nothing pooled", () => {
    const figure = estimatesFigure({
      id: "x",
      title: "Size",
      scale: "standardised-mean-difference",
      effects: [
        { study: "Ash", label: "a", estimate: 0.31, low: -9, high: 9 },
        { study: "Birch", label: "b", estimate: 0.42, low: 0.13, high: 0.71 },
        { study: "Cedar", label: "c", estimate: 0.14, low: -0.15, high: 0.43 },
        { study: "Dogwood", label: "d", estimate: 0.25, low: -0.04, high: 0.54 },
      ],
      directions: { low: "first", high: "second" },
    });
    const x = axisOf(figure, "effects: axis above", "x");
    expect(told(figure, { effects: { x } })).toEqual([
      "Size [x]",
      'drawn as [["Size"],["4 effects from 4 studies."]]',
      "4 effects from 4 studies. Each tick is an estimate; its bar is the 95% interval, darker towards the middle. 1 interval runs past the edge, marked ‹ or ›; the numbers are whole.",
      "Size: 4 effects from 4 studies.",
      "study | label | estimate | low | high | shownEstimate | shownLow | shownHigh | note",
      "Ash | a | 0.31 | -9 | 9 | 0.31 | -9 | 9 | null",
      "Birch | b | 0.42 | 0.13 | 0.71 | 0.42 | 0.13 | 0.71 | null",
      "Cedar | c | 0.14 | -0.15 | 0.43 | 0.14 | -0.15 | 0.43 | null",
      "Dogwood | d | 0.25 | -0.04 | 0.54 | 0.25 | -0.04 | 0.54 | null",
      "— names",
      "study bands [rect, band]: (0) to (174) | (40) to (64); (0) to (174) | (68) to (92); (0) to (174) | (96) to (120); (0) to (174) | (124) to (148)",
      'headings [text, text-heading]: (8) | (10) "Study"; (70) | (10) "Arm and outcome"',
      'study names [text, text-strong, limit 56, fontSize 11]: (8) | (52) "Ash"; (8) | (80) "Birch"; (8) | (108) "Cedar"; (8) | (136) "Dogwood"',
      'labels [text, text-body, limit 96, fontSize 11]: (70) | (52) "a"; (70) | (80) "b"; (70) | (108) "c"; (70) | (136) "d"',
      "— effects",
      "study bands [rect, band]: -0.7 to 1.1 | (40) to (64); -0.7 to 1.1 | (68) to (92); -0.7 to 1.1 | (96) to (120); -0.7 to 1.1 | (124) to (148)",
      "grid [rule, grid]: -0.6 | (34) to (152); -0.4 | (34) to (152); -0.2 | (34) to (152); 0 | (34) to (152); 0.2 | (34) to (152); 0.4 | (34) to (152); 0.6 | (34) to (152); 0.8 | (34) to (152); 1 | (34) to (152)",
      "no change [rule, zero]: 0 | (34) to (156)",
      "intervals [rect, effect-outer]: -0.7 to 1.1 | (49.3) to (54.8); 0.1 to 0.7 | (77.3) to (82.8); -0.2 to 0.4 | (105.3) to (110.7); 0 to 0.5 | (133.3) to (138.8)",
      "intervals, inner two thirds [rect, effect-middle]: -0.7 to 1.1 | (48) to (56); 0.2 to 0.6 | (76) to (84); -0.1 to 0.3 | (104) to (112); 0.1 to 0.4 | (132) to (140)",
      'intervals cut at the left [text, text-strong, align right]: (0) | (52) "‹"',
      'intervals cut at the right [text, text-strong]: (262) | (52) "›"',
      "estimates [rect, effect-tick]: 0.3 | (44.5) to (59.5) (Ash a: 0.31 (−9.00 to 9.00)); 0.4 | (72.5) to (87.5) (Birch b: 0.42 (0.13 to 0.71)); 0.1 | (100.5) to (115.5) (Cedar c: 0.14 (−0.15 to 0.43)); 0.2 to 0.3 | (128.5) to (143.5) (Dogwood d: 0.25 (−0.04 to 0.54))",
      'headings [text, text-heading]: (0) | (10) "Difference, pooled standard deviations"',
      'axis above [text, text-small, align center]: (11.8) | (26) "−0.6"; (41.3) | (26) "−0.4"; (70.7) | (26) "−0.2"; (100.1) | (26) "0"; (129.5) | (26) "0.2"; (159) | (26) "0.4"; (188.4) | (26) "0.6"; (217.8) | (26) "0.8"; (247.2) | (26) "1"',
      'axis below [text, text-small, align center]: (11.8) | (164) "−0.6"; (41.3) | (164) "−0.4"; (70.7) | (164) "−0.2"; (100.1) | (164) "0"; (129.5) | (164) "0.2"; (159) | (164) "0.4"; (188.4) | (164) "0.6"; (217.8) | (164) "0.8"; (247.2) | (164) "1"',
      'direction low [text, text-small, align right]: (94.1) | (179) "← first"',
      'direction high [text, text-small]: (106.1) | (179) "second →"',
      "— numbers",
      "study bands [rect, band]: (0) to (158) | (40) to (64); (0) to (158) | (68) to (92); (0) to (158) | (96) to (120); (0) to (158) | (124) to (148)",
      'heading estimate [text, text-heading, align right]: (50) | (10) "Estimate"',
      'heading interval [text, text-heading, align right]: (150) | (10) "95% interval"',
      'estimate numbers [text, text-strong, align right, fontSize 11]: (50) | (52) "0.31"; (50) | (80) "0.42"; (50) | (108) "0.14"; (50) | (136) "0.25"',
      'low numbers [text, text-body, align right, fontSize 11]: (96) | (52) "−9.00"; (96) | (80) "0.13"; (96) | (108) "−0.15"; (96) | (136) "−0.04"',
      'high numbers [text, text-body, align right, fontSize 11]: (150) | (52) "9.00"; (150) | (80) "0.71"; (150) | (108) "0.43"; (150) | (136) "0.54"',
      'between numbers [text, text-quiet, align center, fontSize 10]: (107) | (52) "to"; (107) | (80) "to"; (107) | (108) "to"; (107) | (136) "to"',
      "note marks [text, text-small, fontSize 9] none",
      "pooled estimate [text, text-pooled-strong, align right] none",
      "pooled low [text, text-pooled, align right] none",
      "pooled high [text, text-pooled, align right] none",
    ]);
  });

  test("pooled without a further study's range", () => {
    const figure = estimatesFigure({
      ...estimates,
      pooled: { ...estimates.pooled!, predictionInterval: null },
    });
    expect(toldBy(figure).slice(1, 4)).toEqual([
      'drawn as [["Strength"],["3 effects from 2 studies. The average is 9.2% (2.6 to 16.4); there are too few studies for a prediction interval."]]',
      "3 effects from 2 studies. Each tick is an estimate; its bar is the 90% interval, darker towards the middle. The shaded band is the 90% confidence interval of the average. Hold strips show the whole session, all on one time scale; height is effort. random effects. a: borrowed.",
      "Strength: 3 effects from 2 studies. The average is 9.2% (2.6 to 16.4); there are too few studies for a prediction interval.",
    ]);
    expect(seen(figure, "numbers").filter((line) => line.startsWith("pooled")))
      .toEqual([
        'pooled estimate [text, text-pooled-strong, align right]: (50) | (51) "9.2"',
        'pooled low [text, text-pooled, align right]: (96) | (51) "2.6"',
        'pooled high [text, text-pooled, align right]: (150) | (51) "16.4"',
      ]);
  });
});

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
      "Does the gain follow intensity? Joint torque [dose-joint-torque-intensity-percent]",
      'drawn as [["Does the gain follow intensity? Joint torque"],["33 effects from 12 studies. Made up."]]',
      "33 effects from 12 studies. Thick line: average of the shapes by their weights (plateau 52%, logarithm 36%, no effect 13%); dark ground: its 95% interval at each dose with the choice of shape in it; light ground: the band that holds the whole curve with the same confidence; thin coloured lines: single shapes with a weight of 5% or more. Points are effects; thin grey lines join the arms of one study, and they are the comparisons that tell about intensity. The strip below counts the arms at each dose: dark where their study compares doses, pale where it has one dose only. Made up. Hatched: no comparison behind the curve reaches there.",
      "Does the gain follow intensity? Joint torque. 33 effects from 12 studies; made up. From low to high: at 35 %MVC the curve says 4.4% (2.8 to 6.2), at 85 %MVC the curve says 9.1% (6.9 to 11.3). Weights of the shapes: plateau 52%, logarithm 36%, no effect 13%.",
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
      "effects [point, effect-point]: 35 | 3.3 (Ash, a: 35 %MVC, 3.3%); 85 | 8.7 (Ash, b: 85 %MVC, 8.7%); 60 | 5.9 (Birch, c: 60 %MVC (midpoint of a range), 5.9%); 60 | 6.3 (Birch, d: 60 %MVC, 6.3%); 50 | 7.7 (Cedar, e: 50 %MVC, 7.7%); 25 | 1.3 (Cedar, f: 25 %MVC, 1.3%); 95 | 10.4 (Cedar, g: 95 %MVC, 10.4%)",
      "single shapes [rule, prediction-hatch]: 35 to 50 | 4.1 to 6.6; 50 to 62 | 6.6 to 7.6; 62 to 85 | 7.6 to 9.3",
      "curve [rule, pooled-line]: 35 to 50 | 4.4 to 6.5; 50 to 62 | 6.5 to 7.9; 62 to 85 | 7.9 to 9.1",
      "curve beyond the comparisons [rule, pooled-edge]: 25 to 35 | 3.1 to 4.4; 85 to 95 | 9.1 to 9.8",
      "— support",
      "arms that are compared [rect, hold]: 34.7 to 35.3 | (30) to (10.2); 84.7 to 85.3 | (30) to (10.2); 49.7 to 50.3 | (30) to (10.2); 24.7 to 25.3 | (30) to (10.2); 94.7 to 95.3 | (30) to (10.2)",
      "arms on their own [rect, hold-quiet]: 59.7 to 60.3 | (30) to (2)",
      "axis [rule, zero]: 22.9 to 97.1 | (30)",
      "marks [rule, grid]: 30 | (30) to (35); 40 | (30) to (35); 50 | (30) to (35); 60 | (30) to (35); 70 | (30) to (35); 80 | (30) to (35); 90 | (30) to (35)",
      'doses [text, text-small, align center]: (115.4) | (44) "30"; (196.3) | (44) "40"; (277.1) | (44) "50"; (358) | (44) "60"; (438.9) | (44) "70"; (519.7) | (44) "80"; (600.6) | (44) "90"',
      'heading [text, text-heading]: (58) | (64) "Intensity, %MVC"',
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
        readOffs: { ...answer.readOffs, best: { identified: false, missing: "no best dose" } },
      } as unknown as DoseCurve,
    });
    expect(told(figure, axes(figure)).filter((line) => !/^(effect|curve) \|/.test(line)))
      .toEqual([
        "A title [x]",
        'drawn as [["A title"],["33 effects from 12 studies. Made up."]]',
        "33 effects from 12 studies. Broken line: average of the shapes by their weights (plateau 52%, logarithm 36%, no effect 13%); dark ground: its 95% interval at each dose with the choice of shape in it; light ground: the band that holds the whole curve with the same confidence; thin coloured lines: single shapes with a weight of 5% or more. Points are effects; thin grey lines join the arms of one study, and they are the comparisons that tell about intensity. The strip below counts the arms at each dose: dark where their study compares doses, pale where it has one dose only. Made up.",
        "A title. 33 effects from 12 studies; made up. From low to high: at 25 %MVC the curve says 3.1% (1.5 to 4.7), at 95 %MVC the curve says 9.8% (7.1 to 12.6). Weights of the shapes: plateau 52%, logarithm 36%, no effect 13%. no best dose.",
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
        "effects [point, effect-point]: 35 | 3.3 (Ash, a: 35 %MVC, 3.3%); 85 | 8.7 (Ash, b: 85 %MVC, 8.7%); 60 | 5.9 (Birch, c: 60 %MVC (midpoint of a range), 5.9%); 60 | 6.3 (Birch, d: 60 %MVC, 6.3%); 50 | 7.7 (Cedar, e: 50 %MVC, 7.7%); 25 | 1.3 (Cedar, f: 25 %MVC, 1.3%); 95 | 10.4 (Cedar, g: 95 %MVC, 10.4%)",
        "single shapes [rule, prediction-hatch] none",
        "curve [rule, pooled-line]: 25 to 35 | 3.1 to 4.4; 35 to 50 | 4.4 to 6.5; 50 to 62 | 6.5 to 7.9; 62 to 85 | 7.9 to 9.1; 85 to 95 | 9.1 to 9.8",
        "curve beyond the comparisons [rule, pooled-edge] none",
        "— support",
        "arms that are compared [rect, hold]: 34.7 to 35.3 | (30) to (10.2); 84.7 to 85.3 | (30) to (10.2); 49.7 to 50.3 | (30) to (10.2); 24.7 to 25.3 | (30) to (10.2); 94.7 to 95.3 | (30) to (10.2)",
        "arms on their own [rect, hold-quiet]: 59.7 to 60.3 | (30) to (2)",
        "axis [rule, zero]: 22.9 to 97.1 | (30)",
        "marks [rule, grid]: 30 | (30) to (35); 40 | (30) to (35); 50 | (30) to (35); 60 | (30) to (35); 70 | (30) to (35); 80 | (30) to (35); 90 | (30) to (35)",
        'doses [text, text-small, align center]: (115.4) | (44) "30"; (196.3) | (44) "40"; (277.1) | (44) "50"; (358) | (44) "60"; (438.9) | (44) "70"; (519.7) | (44) "80"; (600.6) | (44) "90"',
        'heading [text, text-heading]: (58) | (64) "Intensity, %MVC"',
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

describe("equal work", () => {
  const side = (arm: string, holdSeconds: number, intensityPercent: number, total: number) => ({
    arm,
    effectId: arm,
    holdSeconds,
    intensityPercent,
    total,
  });
  const result = { quantity: "tension time", tolerance: 0.12, confidence: 0.9 } as EqualTension;
  const pairs = [
    {
      study: "Elm",
      outcome: "torque (60°)",
      place: "60°",
      more: side("Elm long", 30, 61, 722),
      less: side("Elm short", 5, 62, 705),
      over: "week",
      estimate: log(3.3),
      interval: { low: log(-2.4), high: log(9.1) },
      variance: 0.0009,
      alsoDiffer: ["rest"],
      pooled: true,
    },
    {
      study: "Oak",
      outcome: "torque (90°)",
      place: "90°",
      more: side("Oak long", 20, 71, 613),
      less: side("Oak short", 4, 72, 608),
      over: "session",
      estimate: log(-1.7),
      interval: { low: log(-8.8), high: log(5.6) },
      variance: 0.0016,
      alsoDiffer: [],
      pooled: false,
    },
  ];
  const answer = {
    question: "hold length",
    family: "strength",
    pairs,
    studies: 2,
    notes: [],
    headline: {
      of: "all pairs",
      answer: {
        identified: true,
        ...coefficientOfPercent("", [0.4, 2.5, 4.6], [0.02, 5.5, 0.1]),
        predictionInterval: { low: log(-5.8), high: log(11.3) },
        pairs: 1,
        studies: 1,
      },
    },
  } as unknown as EqualTension["answers"][number];

  test("with sessions", () => {
    const timelines = new Map([
      ["Elm long", session("2 x 30 s at 61 %, rest 60 s")],
      ["Elm short", session("12 x 5 s at 62 %, rest 5 s")],
    ]);
    const figure = equalTensionFigure({
      answer,
      rules: result,
      scale: "log-ratio-of-means",
      timelines,
    });
    const x = axisOf(figure, "effects: axis above", "x", { log: true });
    expect(told(figure, { effects: { x } })).toEqual([
      "Equal tension time, different holds: strength [equal-tension-hold-length-strength]",
      'drawn as [["Equal tension time, different holds: strength"],["2 pairs of arms from 2 studies, each with the same tension time within 12%; torque. The average over 1 pair (all pairs, 1 study) of the longer against","the shorter is 2.5% (0.4 to 4.6). A further study like these is expected between −5.8 and 11.3%."]]',
      "2 pairs of arms from 2 studies, each with the same tension time within 12%; torque. Each tick is how much more the arm with the longer holds gained than the other arm of its study, its bar the 90% interval. Strips show whole sessions, the longer above the shorter, all on one time scale; height is effort; blank where rests or effort are not coded. Shaded: the 90% interval of the average; hatched bracket and broken lines: where a further study like these is expected. a: also differs in rest. b: follows from other pairs of its study; not in the average.",
      "Equal tension time, different holds: strength. 2 pairs of arms from 2 studies, each with the same tension time within 12%; torque. The average over 1 pair (all pairs, 1 study) of the longer against the shorter is 2.5% (0.4 to 4.6). A further study like these is expected between −5.8 and 11.3%.",
      "study | outcome | moreArm | lessArm | moreHoldSeconds | lessHoldSeconds | moreIntensityPercent | lessIntensityPercent | moreTotal | lessTotal | totalOver | estimate | low | high | shownEstimate | averaged | alsoDiffer",
      "Elm | torque (60°) | Elm long | Elm short | 30 | 5 | 61 | 62 | 722 | 705 | week | 0.0325 | -0.0243 | 0.0871 | 3.3 | yes | rest",
      "Oak | torque (90°) | Oak long | Oak short | 20 | 4 | 71 | 72 | 613 | 608 | session | -0.0171 | -0.0921 | 0.0545 | -1.7 | no | ",
      "— names",
      "study bands [rect, band]: (0) to (174) | (92) to (116); (0) to (174) | (120) to (144)",
      'headings [text, text-heading]: (8) | (10) "Study"; (70) | (10) "Outcome"',
      'study names [text, text-strong, limit 56, fontSize 11]: (8) | (104) "Elm"; (8) | (132) "Oak"',
      'labels [text, text-body, limit 96, fontSize 11]: (70) | (104) "60°"; (70) | (132) "90°"',
      'pooled names [text, text-pooled-strong]: (8) | (51) "Average over such studies"; (8) | (73) "A further study like these"',
      "— doses",
      "study bands [rect, band]: (0) to (250) | (92) to (116); (0) to (250) | (120) to (144)",
      'headings of numbers [text, text-heading, align right]: (50) | (10) "Longer"; (100) | (10) "Shorter"',
      'more [text, text-body, align right, fontSize 11]: (50) | (104) "30 s"; (50) | (132) "20 s"',
      'less [text, text-body, align right, fontSize 11]: (100) | (104) "5 s"; (100) | (132) "4 s"',
      'headings of strips [text, text-heading]: (112) | (10) "Sessions, to scale:"; (112) | (24) "longer above shorter"',
      "rests [rule, rest]: (140) to (196) | (103.2); (116.7) to (121.3) | (112.8); (126) to (130.7) | (112.8); (135.3) to (140) | (112.8); (144.7) to (149.3) | (112.8); (154) to (158.7) | (112.8); (163.3) to (168) | (112.8); (172.7) to (177.3) | (112.8); (182) to (186.7) | (112.8); (191.3) to (196) | (112.8); (200.7) to (205.3) | (112.8); (210) to (214.7) | (112.8)",
      "rests between sets [rule, rest-between-sets] none",
      "holds [rect, hold]: (112) to (140) | (98.3) to (103.2); (196) to (224) | (98.3) to (103.2); (112) to (116.7) | (107.8) to (112.8); (121.3) to (126) | (107.8) to (112.8); (130.7) to (135.3) | (107.8) to (112.8); (140) to (144.7) | (107.8) to (112.8); (149.3) to (154) | (107.8) to (112.8); (158.7) to (163.3) | (107.8) to (112.8); (168) to (172.7) | (107.8) to (112.8); (177.3) to (182) | (107.8) to (112.8); (186.7) to (191.3) | (107.8) to (112.8); (196) to (200.7) | (107.8) to (112.8); (205.3) to (210) | (107.8) to (112.8); (214.7) to (219.3) | (107.8) to (112.8)",
      "holds with effort not stated [rect, hold-quiet] none",
      "strip axis [rule, grid]: (112) to (224) | (148); (112) | (148) to (152); (224) | (148) to (152)",
      'strip axis start [text, text-small]: (112) | (160) "0"',
      'strip axis end [text, text-small, align right]: (224) | (160) "2 min"',
      "— effects",
      "study bands [rect, band]: -9.3 to 12 | (92) to (116); -9.3 to 12 | (120) to (144)",
      "grid [rule, grid]: -7.5 | (34) to (148); -5 | (34) to (148); -2.5 | (34) to (148); 0 | (34) to (148); 2.5 | (34) to (148); 5 | (34) to (148); 7.5 | (34) to (148); 10 | (34) to (148)",
      "prediction band [rect, prediction-band]: -5.8 to 11.3 | (73) to (148)",
      "prediction edges [rule, prediction-edge]: -5.8 | (73) to (148); 11.3 | (73) to (148)",
      "prediction hatching [rule, prediction-hatch] 54 of them: -5.8 to -5.5 | (72) to (68); -5.8 to -5.2 | (76) to (68); 10.9 to 11.3 | (78) to (73); 11.2 to 11.3 | (78) to (77)",
      "prediction bracket [rule, prediction-bracket]: -5.8 | (66) to (80); 11.3 | (66) to (80); -5.8 to 11.3 | (73)",
      "confidence band [rect, pooled-band]: 0.4 to 4.6 | (51) to (148)",
      "pooled interval [rect, pooled-bar]: 0.4 to 4.6 | (46) to (56)",
      "pooled line [rule, pooled-line]: 2.5 | (51) to (148)",
      "pooled estimate tick [rect, pooled-tick]: 2.4 to 2.6 | (43) to (59)",
      "no change [rule, zero]: 0 | (34) to (152)",
      "intervals [rect, effect-outer]: -2.4 to 9.1 | (101.3) to (106.8); -8.8 to 5.6 | (129.3) to (134.8)",
      "intervals, inner two thirds [rect, effect-middle]: -0.5 to 7.1 | (100) to (108); -6.5 to 3.1 | (128) to (136)",
      "intervals cut at the left [text, text-strong, align right] none",
      "intervals cut at the right [text, text-strong] none",
      "estimates [rect, effect-tick]: 3.2 to 3.4 | (96.5) to (111.5) (Elm 60°: 3.3% (−2.4 to 9.1)); -1.8 to -1.6 | (124.5) to (139.5) (Oak 90°: −1.7% (−8.8 to 5.6))",
      'headings [text, text-heading]: (0) | (10) "Difference, %"',
      'axis above [text, text-small, align center]: (25) | (26) "−7.5%"; (58.1) | (26) "−5%"; (90.3) | (26) "−2.5%"; (121.7) | (26) "0%"; (152.4) | (26) "2.5%"; (182.3) | (26) "5%"; (211.5) | (26) "7.5%"; (240) | (26) "10%"',
      'axis below [text, text-small, align center]: (25) | (160) "−7.5%"; (58.1) | (160) "−5%"; (90.3) | (160) "−2.5%"; (121.7) | (160) "0%"; (152.4) | (160) "2.5%"; (182.3) | (160) "5%"; (211.5) | (160) "7.5%"; (240) | (160) "10%"',
      'direction low [text, text-small, align right]: (115.7) | (175) "← shorter better"',
      'direction high [text, text-small]: (127.7) | (175) "longer better →"',
      "— numbers",
      "study bands [rect, band]: (0) to (158) | (92) to (116); (0) to (158) | (120) to (144)",
      'heading estimate [text, text-heading, align right]: (50) | (10) "Estimate"',
      'heading interval [text, text-heading, align right]: (150) | (10) "90% interval"',
      'estimate numbers [text, text-strong, align right, fontSize 11]: (50) | (104) "3.3"; (50) | (132) "−1.7"',
      'low numbers [text, text-body, align right, fontSize 11]: (96) | (104) "−2.4"; (96) | (132) "−8.8"',
      'high numbers [text, text-body, align right, fontSize 11]: (150) | (104) "9.1"; (150) | (132) "5.6"',
      'between numbers [text, text-quiet, align center, fontSize 10]: (107) | (104) "to"; (107) | (132) "to"; (107) | (51) "to"; (107) | (73) "to"',
      'note marks [text, text-small, fontSize 9]: (52) | (100.8) "a" (also differs in rest); (52) | (128.8) "b" (follows from other pairs of its study; not in the average)',
      'pooled estimate [text, text-pooled-strong, align right]: (50) | (51) "2.5"',
      'pooled low [text, text-pooled, align right]: (96) | (51) "0.4"; (96) | (73) "−5.8"',
      'pooled high [text, text-pooled, align right]: (150) | (51) "4.6"; (150) | (73) "11.3"',
    ]);
  });

  test("effort, without an average or sessions", () => {
    const figure = equalTensionFigure({
      answer: {
        ...answer,
        question: "effort",
        headline: { of: "all pairs", answer: { identified: false, missing: "one study" } },
      } as unknown as EqualTension["answers"][number],
      rules: result,
      scale: "standardised-mean-difference",
    });
    expect(told(figure).filter((line) => !line.startsWith("grid"))).toEqual([
      "Equal tension time, different effort: strength [equal-tension-effort-strength]",
      'drawn as [["Equal tension time, different effort: strength"],["2 pairs of arms from 2 studies, each with the same tension time within 12%; torque. No average: one study."]]',
      "2 pairs of arms from 2 studies, each with the same tension time within 12%; torque. Each tick is how much more the arm with the harder effort gained than the other arm of its study, its bar the 90% interval. a: also differs in rest. b: follows from other pairs of its study; not in the average.",
      "Equal tension time, different effort: strength. 2 pairs of arms from 2 studies, each with the same tension time within 12%; torque. No average: one study.",
      "study | outcome | moreArm | lessArm | moreHoldSeconds | lessHoldSeconds | moreIntensityPercent | lessIntensityPercent | moreTotal | lessTotal | totalOver | estimate | low | high | shownEstimate | averaged | alsoDiffer",
      "Elm | torque (60°) | Elm long | Elm short | 30 | 5 | 61 | 62 | 722 | 705 | week | 0.0325 | -0.0243 | 0.0871 | 0.0325 | yes | rest",
      "Oak | torque (90°) | Oak long | Oak short | 20 | 4 | 71 | 72 | 613 | 608 | session | -0.0171 | -0.0921 | 0.0545 | -0.0171 | no | ",
      "— names",
      "study bands [rect, band]: (0) to (174) | (40) to (64); (0) to (174) | (68) to (92)",
      'headings [text, text-heading]: (8) | (10) "Study"; (70) | (10) "Outcome"',
      'study names [text, text-strong, limit 56, fontSize 11]: (8) | (52) "Elm"; (8) | (80) "Oak"',
      'labels [text, text-body, limit 96, fontSize 11]: (70) | (52) "60°"; (70) | (80) "90°"',
      "— doses",
      "study bands [rect, band]: (0) to (116) | (40) to (64); (0) to (116) | (68) to (92)",
      'headings of numbers [text, text-heading, align right]: (50) | (10) "Harder"; (100) | (10) "Easier"',
      'more [text, text-body, align right, fontSize 11]: (50) | (52) "61%"; (50) | (80) "71%"',
      'less [text, text-body, align right, fontSize 11]: (100) | (52) "62%"; (100) | (80) "72%"',
      "— effects",
      "study bands [rect, band]: (0) to (262) | (40) to (64); (0) to (262) | (68) to (92)",
      "no change [rule, zero]: (134.1) | (34) to (100)",
      "intervals [rect, effect-outer]: (100.5) to (254.6) | (49.3) to (54.8); (6.7) to (209.5) | (77.3) to (82.8)",
      "intervals, inner two thirds [rect, effect-middle]: (126.7) to (229.4) | (48) to (56); (41.2) to (176.4) | (76) to (84)",
      "intervals cut at the left [text, text-strong, align right] none",
      "intervals cut at the right [text, text-strong] none",
      "estimates [rect, effect-tick]: (177.7) to (180.3) | (44.5) to (59.5) (Elm 60°: 0.03 (−0.02 to 0.09)); (109.1) to (111.7) | (72.5) to (87.5) (Oak 90°: −0.02 (−0.09 to 0.05))",
      'headings [text, text-heading]: (0) | (10) "Difference, pooled standard deviations"',
      'axis above [text, text-small, align center]: (64.9) | (26) "−0.05"; (134.1) | (26) "0"; (203.3) | (26) "0.05"',
      'axis below [text, text-small, align center]: (64.9) | (108) "−0.05"; (134.1) | (108) "0"; (203.3) | (108) "0.05"',
      'direction low [text, text-small, align right]: (128.1) | (123) "← easier better"',
      'direction high [text, text-small]: (140.1) | (123) "harder better →"',
      "— numbers",
      "study bands [rect, band]: (0) to (158) | (40) to (64); (0) to (158) | (68) to (92)",
      'heading estimate [text, text-heading, align right]: (50) | (10) "Estimate"',
      'heading interval [text, text-heading, align right]: (150) | (10) "90% interval"',
      'estimate numbers [text, text-strong, align right, fontSize 11]: (50) | (52) "0.03"; (50) | (80) "−0.02"',
      'low numbers [text, text-body, align right, fontSize 11]: (96) | (52) "−0.02"; (96) | (80) "−0.09"',
      'high numbers [text, text-body, align right, fontSize 11]: (150) | (52) "0.09"; (150) | (80) "0.05"',
      'between numbers [text, text-quiet, align center, fontSize 10]: (107) | (52) "to"; (107) | (80) "to"',
      'note marks [text, text-small, fontSize 9]: (52) | (48.8) "a" (also differs in rest); (52) | (76.8) "b" (follows from other pairs of its study; not in the average)',
      "pooled estimate [text, text-pooled-strong, align right] none",
      "pooled low [text, text-pooled, align right] none",
      "pooled high [text, text-pooled, align right] none",
    ]);
  });
});

describe("the angles", () => {
  const gain = (percent: readonly [number, number, number]) => ({
    identified: true,
    ...coefficientOfPercent("", percent, [0.02, 0, 0]),
  });
  const at = (arm: string, distance: number, percent: number) => ({
    effectId: `${arm}${distance}`,
    study: "Elm",
    arm,
    series: arm,
    distance,
    estimate: log(percent),
    variance: 0.001,
  });
  const fitted = (distance: number, low: number, middle: number, high: number) => ({
    distance,
    estimate: log(middle),
    interval: { low: log(low), high: log(high) },
  });
  const lengths = [
    {
      muscleLength: "short",
      effects: 31,
      studies: 4,
      people: 57,
      distances: { low: 0, high: 40, distinct: 5 },
      level: gain([6.2, 9.4, 12.6]),
      halfWidth: {
        identified: true,
        degrees: 9.46,
        interval: { low: 7.23, high: 14.7 },
        degreesOfFreedom: 5,
      },
      left: [],
      average: gain([3.3, 5.5, 7.7]),
      curve: [fitted(0, 6.2, 9.4, 12.6), fitted(20, 0.4, 1.6, 2.8), fitted(40, -0.3, 0.1, 0.5)],
      points: [at("a", 0, 9.9), at("a", 20, 2.2), at("a", 40, 0.7), at("b", 10, 4.1)],
      notes: [],
    },
    {
      muscleLength: "long",
      effects: 22,
      studies: 1,
      people: 64,
      distances: { low: 0, high: 60, distinct: 4 },
      level: { identified: false, missing: "no level" },
      halfWidth: { identified: false, missing: "too few studies" },
      left: [],
      average: { identified: false, missing: "no average" },
      curve: [],
      points: [at("c", 0, 8.6), at("c", 60, 6.4)],
      notes: [{ code: "robust-few-degrees-of-freedom", message: "few degrees of freedom" }],
    },
    { muscleLength: "middle", effects: 3, studies: 1, people: 9, distances: undefined, points: [] },
  ];
  const answer = {
    confidence: 0.9,
    longAgainstShort: {
      identified: true,
      level: gain([1, 2, 3]),
      widthRatio: {
        estimate: 1.83,
        interval: { low: 1.14, high: 2.95 },
        degreesOfFreedom: 5,
        p: 0.04,
      },
    },
    assumptions: ["a bell"],
    lengths,
  } as unknown as JointAngle;

  test("on their axes", () => {
    const figure = jointAngleFigure({
      answer,
      family: "joint torque",
      scale: "log-ratio-of-means",
    });
    expect(told(figure)).toEqual([
      "How far does the gain carry over from the trained angle? Joint torque [joint-angle-joint-torque]",
      'drawn as [["How far does the gain carry over from the trained angle? Joint torque"],["After training at long muscle length the gain reaches 1.8 times as far as after short length (1.1 to 3.0)."]]',
      "Points are effects by the distance between the test angle and the nearest training angle; thin lines join the angles of one arm. Thick line: fitted carry-over, exp(−ln 2 · (distance / width)²), with its 90% interval. Bar on the curve: the distance at which half of the gain at the trained angle is left, with its interval. At the right the average over all angles tested, which hides how the gain depends on the angle. Trained at middle muscle length: 3 effects, all at one distance, are not drawn. A bell. Few degrees of freedom.",
      "How far does the gain carry over from the trained angle? Joint torque. Trained at short muscle length: Half of the gain is left 9.5° from the trained angle (7.2° to 15°). Trained at long muscle length: No width: too few studies. After training at long muscle length the gain reaches 1.8 times as far as after short length (1.1 to 3.0).",
      "kind | muscleLength | study | arm | distance | estimate | low | high | shown",
      "effect | short | Elm | a | 0 | 0.0944 | null | null | 9.9",
      "effect | short | Elm | a | 20 | 0.0218 | null | null | 2.2",
      "effect | short | Elm | a | 40 | 0.007 | null | null | 0.7",
      "effect | short | Elm | b | 10 | 0.0402 | null | null | 4.1",
      "curve | short |  |  | 0 | 0.0898 | 0.0602 | 0.1187 | 9.4",
      "curve | short |  |  | 20 | 0.0159 | 0.004 | 0.0276 | 1.6",
      "curve | short |  |  | 40 | 0.001 | -0.003 | 0.005 | 0.1",
      "effect | long | Elm | c | 0 | 0.0825 | null | null | 8.6",
      "effect | long | Elm | c | 60 | 0.062 | null | null | 6.4",
      "— above the gains",
      "nothing [text, text-small] none",
      "— head short",
      'length [text, text-strong]: (0) | (8) "Trained at short muscle length"',
      'answer [text, text-quiet, fontSize 10.4]: (0) | (25) "31 effects, 4 studies, 57 people"; (0) | (40) "Half of the gain is left 9.5° from the trained angle (7.2° to"; (0) | (55) "15°)."; (0) | (70) "At the trained angle: 9.4% (6.2 to 12.6)."; (0) | (85) "Average over all angles tested: 5.5% (3.3 to 7.7)."',
      "— head long",
      'length [text, text-strong]: (0) | (8) "Trained at long muscle length"',
      'answer [text, text-quiet, fontSize 10.4]: (0) | (25) "22 effects, 1 study, 64 people"; (0) | (40) "No width: too few studies."',
      "— gain axis",
      'gains [text, text-small, align right]: (34.5) | (248.2) "0%"; (34.5) | (208.7) "2%"; (34.5) | (170.1) "4%"; (34.5) | (132.1) "6%"; (34.5) | (94.9) "8%"; (34.5) | (58.3) "10%"; (34.5) | (22.5) "12%"',
      'gain heading [text, text-heading, align center, angle 270, limit 260]: (5.5) | (130) "Change, %"',
      "— carry-over short",
      "grid [rule, grid]: (0) to (264) | (248.2); (0) to (264) | (208.7); (0) to (264) | (170.1); (0) to (264) | (132.1); (0) to (264) | (94.9); (0) to (264) | (58.3); (0) to (264) | (22.5)",
      "no change [rule, zero]: (0) to (264) | (248.2)",
      "band [area, pooled-band]: (7.5) | (128.4) to (11.8); (90.5) | (240.2) to (193.2); (173.5) | (254.2) to (238.2)",
      "angles of one arm [rule, rest]: (7.5) to (90.5) | (60.2) to (204.8); (90.5) to (173.5) | (204.8) to (234.3)",
      "effects [point, effect-point]: (7.5) | (60.2) (Elm, a: 0.0° away, 9.9%); (90.5) | (204.8) (Elm, a: 20° away, 2.2%); (173.5) | (234.3) (Elm, a: 40° away, 0.7%); (49) | (168.1) (Elm, b: 10° away, 4.1%)",
      "curve [rule, pooled-line]: (7.5) to (90.5) | (69.2) to (216.6); (90.5) to (173.5) | (216.6) to (246.2)",
      "half is left [rule, pooled-edge]: (46.7) | (260) to (158.7)",
      "interval of the width [rect, pooled-bar]: (37.5) to (68.5) | (161.3) to (156.1)",
      "width [rect, pooled-tick]: (45.4) to (48) | (165.7) to (151.7)",
      "width runs on [text, text-pooled-strong, align right] none",
      "average interval [rect, effect-outer]: (288.7) to (294.7) | (183.5) to (100.4)",
      "average [rect, effect-tick]: (283.7) to (299.7) | (142.8) to (140.2)",
      'average value [text, text-body, fontSize 9.5]: (302.7) | (141.5) "6%"',
      "— carry-over long",
      "grid [rule, grid]: (0) to (264) | (248.2); (0) to (264) | (208.7); (0) to (264) | (170.1); (0) to (264) | (132.1); (0) to (264) | (94.9); (0) to (264) | (58.3); (0) to (264) | (22.5)",
      "no change [rule, zero]: (0) to (264) | (248.2)",
      "band [area, pooled-band] none",
      "angles of one arm [rule, rest]: (7.5) to (256.5) | (83.9) to (124.6)",
      "effects [point, effect-point]: (7.5) | (83.9) (Elm, c: 0.0° away, 8.6%); (256.5) | (124.6) (Elm, c: 60° away, 6.4%)",
      "curve [rule, pooled-line] none",
      "— below the gains",
      "nothing [text, text-small] none",
      "— distances short",
      "axis [rule, zero]: (0) to (264) | (0)",
      "marks [rule, grid]: (7.5) | (0) to (5); (90.5) | (0) to (5); (173.5) | (0) to (5); (256.5) | (0) to (5)",
      'distances [text, text-small, align center]: (7.5) | (14) "0°"; (90.5) | (14) "20°"; (173.5) | (14) "40°"; (256.5) | (14) "60°"',
      'heading [text, text-heading]: (0) | (34) "From the trained angle"',
      'average heading [text, text-small, align center]: (291.7) | (10) "average"; (291.7) | (21) "of angles"',
      "— distances long",
      "axis [rule, zero]: (0) to (264) | (0)",
      "marks [rule, grid]: (7.5) | (0) to (5); (90.5) | (0) to (5); (173.5) | (0) to (5); (256.5) | (0) to (5)",
      'distances [text, text-small, align center]: (7.5) | (14) "0°"; (90.5) | (14) "20°"; (173.5) | (14) "40°"; (256.5) | (14) "60°"',
      'heading [text, text-heading]: (0) | (34) "From the trained angle"',
      "average heading [text, text-small, align center] none",
    ]);
  });

  test("one length, its width open to a side, no comparison", () => {
    const width = (interval: object) =>
      toldBy(
        jointAngleFigure({
          answer: {
            ...answer,
            lengths: [{ ...lengths[0], halfWidth: { identified: true, degrees: 33.3, interval } }],
            longAgainstShort: { identified: false, missing: "only one length" },
          } as unknown as JointAngle,
          family: "size",
          scale: "standardised-mean-difference",
        }),
      )[3];
    expect([
      width({ low: null, high: null }),
      width({ low: 12.5, high: null }),
      width({ low: null, high: 44.4 }),
    ]).toEqual([
      "How far does the gain carry over from the trained angle? Size. Trained at short muscle length: Half of the gain is left 33° from the trained angle (no limit on either side). Long and short length cannot be compared: only one length.",
      "How far does the gain carry over from the trained angle? Size. Trained at short muscle length: Half of the gain is left 33° from the trained angle (from 13° on). Long and short length cannot be compared: only one length.",
      "How far does the gain carry over from the trained angle? Size. Trained at short muscle length: Half of the gain is left 33° from the trained angle (up to 44°). Long and short length cannot be compared: only one length.",
    ]);
  });
});

describe("the weeks", () => {
  const at = (arm: string, week: number, percent: number) => ({
    effectId: `${arm}${week}`,
    study: "Elm",
    arm,
    series: arm,
    week,
    estimate: log(percent),
    variance: 0.001,
  });
  const fitted = (week: number, low: number, middle: number, high: number) => ({
    week,
    estimate: log(middle),
    interval: { low: log(low), high: log(high) },
  });
  const course = {
    effects: 42,
    studies: 3,
    people: 203,
    confidence: 0.9,
    span: { first: 2, last: 10, distinct: 4 },
    timeConstant: {
      identified: true,
      weeks: 4.36,
      interval: { low: 2.14, high: 9.72 },
      degreesOfFreedom: 5,
    },
    shown: "rising and flattening",
    referenceWeek: 12,
    gains: [{ beyondData: true, ...fitted(12, 7.3, 9.9, 12.8) }],
    shares: [
      { week: 4, share: 0.634, interval: { low: 0.516, high: 0.747 } },
      { week: 8, share: 0.872, interval: { low: 0.751, high: 0.993 } },
      { week: 11, share: 0.95, interval: { low: 0.9, high: 0.99 } },
    ],
    courses: [
      { name: "rising and flattening", weight: 0.628 },
      { name: "straight line", weight: null },
      { name: "logarithm", weight: 0.372 },
    ],
    curve: [fitted(0, 0, 0, 0), fitted(5, 4.1, 5.2, 6.4), fitted(10, 6.7, 8.8, 11.1)],
    points: [at("a", 2, 2.3), at("a", 6, 5.8), at("a", 10, 9.4), at("b", 4, 3.6), at("b", 8, 7.1)],
    notes: [{ code: "x", message: "a doubt" }],
    assumptions: ["levels differ"],
  } as unknown as TimeCourse;

  test("on their axes", () => {
    const figure = timeCourseFigure({
      answer: course,
      family: "joint torque",
      scale: "log-ratio-of-means",
    });
    expect(told(figure)).toEqual([
      "How does the gain grow over the weeks? Joint torque [time-course-joint-torque]",
      'drawn as [["How does the gain grow over the weeks? Joint torque"],["42 effects from 3 studies that measured an arm more than once. The gain flattens with a time constant of 4.4","weeks (2.1 to 9.7 weeks): after so long 63% of the final gain is there. Gain at 12 weeks: 9.9% (7.3 to 12.8),","beyond the data."]]',
      "Points are effects, joined for each arm and measurement. Thick line: rising and flattening course, from nothing at baseline, with its 90% interval. Courses compared on the same effects, by their weights: rising and flattening 63%, logarithm 37%. Levels differ. A doubt.",
      "How does the gain grow over the weeks? Joint torque 42 effects from 3 studies that measured an arm more than once. The gain flattens with a time constant of 4.4 weeks (2.1 to 9.7 weeks): after so long 63% of the final gain is there. Gain at 12 weeks: 9.9% (7.3 to 12.8), beyond the data.",
      "kind | study | arm | week | estimate | low | high | shown",
      "effect | Elm | a | 2 | 0.0227 | null | null | 2.3",
      "effect | Elm | a | 6 | 0.0564 | null | null | 5.8",
      "effect | Elm | a | 10 | 0.0898 | null | null | 9.4",
      "effect | Elm | b | 4 | 0.0354 | null | null | 3.6",
      "effect | Elm | b | 8 | 0.0686 | null | null | 7.1",
      "rising and flattening |  |  | 0 | 0 | 0 | 0 | 0",
      "rising and flattening |  |  | 5 | 0.0507 | 0.0402 | 0.062 | 5.2",
      "rising and flattening |  |  | 10 | 0.0843 | 0.0649 | 0.1053 | 8.8",
      "— gain axis",
      'gains [text, text-small, align right]: (50) | (286.4) "0%"; (50) | (235.1) "2%"; (50) | (184.7) "4%"; (50) | (135.4) "6%"; (50) | (87) "8%"; (50) | (39.4) "10%"',
      'gain heading [text, text-heading, align center, angle 270, limit 300]: (8) | (150) "Change, %"',
      "— course",
      "grid [rule, grid]: (0) to (560) | (286.4); (0) to (560) | (235.1); (0) to (560) | (184.7); (0) to (560) | (135.4); (0) to (560) | (87); (0) to (560) | (39.4)",
      "no change [rule, zero]: (0) to (560) | (286.4)",
      "band [area, pooled-band]: (0) | (286.4); (271.8) | (182.3) to (125.6); (543.7) | (118.3) to (13.6)",
      "weeks of one arm [rule, rest]: (108.7) to (326.2) | (227.4) to (140.3); (326.2) to (543.7) | (140.3) to (53.6); (217.5) to (435) | (194.7) to (108.6)",
      "effects [point, effect-point]: (108.7) | (227.4) (Elm, a: week 2, 2.3%); (326.2) | (140.3) (Elm, a: week 6, 5.8%); (543.7) | (53.6) (Elm, a: week 10, 9.4%); (217.5) | (194.7) (Elm, b: week 4, 3.6%); (435) | (108.6) (Elm, b: week 8, 7.1%)",
      "course [rule, pooled-line]: (0) to (271.8) | (286.4) to (155); (271.8) to (543.7) | (155) to (67.8)",
      "— weeks",
      "axis [rule, zero]: (58) to (618) | (0)",
      "marks [rule, grid]: (58) | (0) to (5); (166.7) | (0) to (5); (275.5) | (0) to (5); (384.2) | (0) to (5); (493) | (0) to (5); (601.7) | (0) to (5)",
      'week numbers [text, text-small, align center]: (58) | (14) "0"; (166.7) | (14) "2"; (275.5) | (14) "4"; (384.2) | (14) "6"; (493) | (14) "8"; (601.7) | (14) "10"',
      'heading [text, text-heading]: (58) | (32) "Weeks trained"',
      'shares [text, text-pooled-strong, align center]: (275.5) | (54) "63%"; (493) | (54) "87%"',
      'share intervals [text, text-pooled, align center, fontSize 9.5]: (275.5) | (68) "52 to 75%"; (493) | (68) "75 to 99%"',
      'share heading [text, text-small]: (8) | (54) "Share of the"; (8) | (67) "12-week gain"',
    ]);
  });

  test("a time constant open to a side or not told", () => {
    const said = (timeConstant: object): string | undefined =>
      toldBy(
        timeCourseFigure({
          answer: {
            ...course,
            studies: 1,
            gains: [],
            shown: undefined,
            curve: [],
            shares: [],
            courses: [],
            timeConstant,
          } as unknown as TimeCourse,
          family: "size",
          scale: "standardised-mean-difference",
        }),
      )[3];
    const open = { identified: true, weeks: 13.4 };
    expect([
      said({ ...open, interval: { low: null, high: null } }),
      said({ ...open, interval: { low: 5.67, high: null } }),
      said({ ...open, interval: { low: null, high: 21.2 } }),
      said({ identified: false, missing: "too flat" }),
    ]).toEqual([
      "How does the gain grow over the weeks? Size 42 effects from 1 study that measured an arm more than once. The gain flattens with a time constant of 13 weeks (no limit on either side): after so long 63% of the final gain is there.",
      "How does the gain grow over the weeks? Size 42 effects from 1 study that measured an arm more than once. The gain flattens with a time constant of 13 weeks (from 5.7 weeks on): after so long 63% of the final gain is there.",
      "How does the gain grow over the weeks? Size 42 effects from 1 study that measured an arm more than once. The gain flattens with a time constant of 13 weeks (up to 21 weeks): after so long 63% of the final gain is there.",
      "How does the gain grow over the weeks? Size 42 effects from 1 study that measured an arm more than once. No time constant: too flat.",
    ]);
  });
});

describe("precision", () => {
  const effect = (study: string, percent: number, standardError: number) => ({
    study,
    label: "knee",
    estimate: log(percent),
    standardError,
  });

  test("every effect over the ground of its p", () => {
    const figure = precisionFigure({
      effects: [
        effect("Ash", 3.3, 0.03),
        effect("Birch", 12.4, 0.065),
        effect("Cedar", 11.6, 0.05),
        effect("Dogwood", -14.7, 0.04),
      ],
      pooled: { estimate: log(6.2), interval: { low: log(1.8), high: log(10.9) } },
      scale: "log-ratio-of-means",
    });
    expect(told(figure)).toEqual([
      "Do small studies tell the same story as large ones? [precision]",
      'drawn as [["Do small studies tell the same story as large ones?"],["4 effects from 4 studies. With 4 studies no test of unevenness is given: under ten studies such a test tells too little."]]',
      "4 effects from 4 studies. Each point is an effect; more precise effects lie further right. The denser the ground, the higher the two-sided p of a single effect against no change. The full line is the pooled average, the broken lines its interval. If small studies tell the same story as large ones, the points narrow evenly towards the average on the right. Points missing on one side can mean that small studies with unwelcome results stayed unpublished, above all where they are missing from the ground of high p. It can as well mean that small studies trained other people or in other ways, that the standard error is tied to the size of the effect by its formula, or chance. The figure cannot tell these apart, and evenness does not prove that nothing is missing. With 4 studies no test of unevenness is given: under ten studies such a test tells too little.",
      "Do small studies tell the same story as large ones? 4 effects from 4 studies; of single effects, 1 with p over 0.10, 1 with p 0.05 to 0.10, 1 with p 0.01 to 0.05, 1 with p under 0.01. The average is 6.2% (1.8 to 10.9).",
      "study | label | estimate | standardError | shownEstimate | ground",
      "Ash | knee | 0.0325 | 0.03 | 3.3 | p over 0.10",
      "Birch | knee | 0.1169 | 0.065 | 12.4 | 0.05 to 0.10",
      "Cedar | knee | 0.1098 | 0.05 | 11.6 | 0.01 to 0.05",
      "Dogwood | knee | -0.159 | 0.04 | -14.7 | p under 0.01",
      "— key",
      'key heading [text, text-heading]: (58) | (6) "Two-sided p of a single effect, and how many effects lie there"',
      "key 1 [rect, contour-1]: (58) to (76) | (17) to (31)",
      "key 2 [rect, contour-2]: (190) to (208) | (17) to (31)",
      "key 3 [rect, contour-3]: (322) to (340) | (17) to (31)",
      "key 4 [rect, contour-4]: (454) to (472) | (17) to (31)",
      "key frames [rule, grid] 16 of them: (58) to (76) | (17); (58) to (76) | (31); (454) | (17) to (31); (472) | (17) to (31)",
      'key words [text, text-body]: (82) | (24) "p over 0.10: 1"; (214) | (24) "0.05 to 0.10: 1"; (346) | (24) "0.01 to 0.05: 1"; (478) | (24) "p under 0.01: 1"',
      "— effect axis",
      'effects [text, text-small, align right]: (50) | (328.2) "−15%"; (50) | (268.2) "−10%"; (50) | (211.3) "−5%"; (50) | (157.4) "0%"; (50) | (106.1) "5%"; (50) | (57.2) "10%"; (50) | (10.5) "15%"',
      'heading [text, text-heading, align center, angle 270, limit 340]: (8) | (170) "Change, %"',
      "— precision",
      "outer ground [rect, contour-4]: (0) to (520) | (0) to (340)",
      "ground 0.01 to 0.05 [area, contour-3]: (520) | (157.4); (81.3) | (0) to (314.8); (11.1) | (0) to (340); (0) | (0) to (340)",
      "ground 0.05 to 0.10 [area, contour-2]: (520) | (157.4); (0) | (15.5) to (299.4)",
      "ground p over 0.10 [area, contour-1]: (520) | (157.4); (0) | (38.3) to (276.5)",
      "frame [rule, grid]: (0) to (520) | (340); (0) | (340) to (0)",
      "no change [rule, zero]: (0) to (520) | (157.4)",
      "average [rule, pooled-line]: (0) to (520) | (94.2)",
      "interval of the average [rule, pooled-edge]: (0) to (520) | (138.7); (0) to (520) | (48.7)",
      "effects [point, effect-point]: (293.6) | (123.3) (Ash knee: 3.3%, standard error 0.030); (29.4) | (34.5) (Birch knee: 12.4%, standard error 0.065); (142.6) | (42) (Cedar knee: 11.6%, standard error 0.050); (218.1) | (324.5) (Dogwood knee: −14.7%, standard error 0.040)",
      "— line labels",
      'no change label [text, text-body]: (8) | (157.4) "no change"',
      'average label [text, text-pooled-strong, limit 178]: (8) | (94.2) "average 6.2% (1.8 to 10.9)"',
      "— precision axis",
      "marks [rule, grid]: (578) | (0) to (4); (427.1) | (0) to (4); (276.1) | (0) to (4); (125.2) | (0) to (4)",
      'standard errors [text, text-small, align center]: (578) | (12) "0.00"; (427.1) | (12) "0.02"; (276.1) | (12) "0.04"; (125.2) | (12) "0.06"',
      'heading [text, text-heading]: (58) | (32) "Standard error of the log ratio"',
      'direction [text, text-small, align right]: (578) | (32) "more precise →"',
    ]);
  });

  test("nothing pooled, on another scale", () => {
    const figure = precisionFigure({
      id: "x",
      title: "A title",
      effects: [{ study: "Ash", label: "knee", estimate: 0.4, standardError: 0.3 }],
      scale: "standardised-mean-difference",
    });
    expect(toldBy(figure)).toEqual([
      "A title [x]",
      'drawn as [["A title"],["1 effect from 1 study. With 1 study no test of unevenness is given: under ten studies such a test tells too little."]]',
      "1 effect from 1 study. Each point is an effect; more precise effects lie further right. The denser the ground, the higher the two-sided p of a single effect against no change. If small studies tell the same story as large ones, the points narrow evenly towards the average on the right. Points missing on one side can mean that small studies with unwelcome results stayed unpublished, above all where they are missing from the ground of high p. It can as well mean that small studies trained other people or in other ways, that the standard error is tied to the size of the effect by its formula, or chance. The figure cannot tell these apart, and evenness does not prove that nothing is missing. With 1 study no test of unevenness is given: under ten studies such a test tells too little.",
      "A title 1 effect from 1 study; of single effects, 1 with p over 0.10, 0 with p 0.05 to 0.10, 0 with p 0.01 to 0.05, 0 with p under 0.01.",
      "study | label | estimate | standardError | shownEstimate | ground",
      "Ash | knee | 0.4 | 0.3 | 0.4 | p over 0.10",
    ]);
  });
});

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

  test("every arm in its cell", () => {
    const map = evidenceMapCells([
      arm("Ash", "a", "strength", 100, 3, 11),
      arm("Ash", "b", "strength", 100, 4, 12),
      arm("Birch", "c", "strength", 97, 5, 23),
      arm("Cedar", "d", "strength", 39, 59, undefined),
      arm("Dogwood", "e", "strength", undefined, 60, 34),
      arm("Elm", "f", "size", 60, 2.9, 7),
    ]);
    expect(told(evidenceMap({ map }))).toEqual([
      "What has been studied: effort and hold length [evidence-map]",
      'drawn as [["What has been studied: effort and hold length"],["Large number: studies. Small numbers: arms · people."]]',
      "Large number: studies. Small numbers: arms · people. Cells marked none have no study; darker cells have more studies (1, 2, 3 to 4, 5 to 9, 10 and more). A value on the boundary of two bands counts in the higher one; a range counts at its midpoint. An arm measured in several outcomes counts once in each family. A plus sign or question mark says that some arms do not state their people.",
      "What has been studied: effort and hold length. Strength: 4 studies, 5 arms, 80+ people; Size: 1 study, 1 arm, 7 people. Of 72 combinations, 68 have no study.",
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
      "— family 1",
      'family [text, text-strong, fontSize 13, limit 183.95999999999998]: (0) | (8) "Strength"',
      'totals [text, text-quiet, align right]: (414) | (8) "4 studies, 5 arms, 80+ people"',
      'effort heading [text, text-heading]: (0) | (34) "Effort"',
      'hold heading [text, text-heading]: (94) | (34) "Hold, seconds"',
      'hold bands [text, text-small, align center]: (119) | (49) "under 3"; (173) | (49) "3 to 6"; (227) | (49) "6 to 15"; (281) | (49) "15 to 30"; (335) | (49) "30 to 60"; (389) | (49) "60 +"',
      'effort bands [text, text-small, align right]: (84) | (220) "under 40%"; (84) | (184) "40 to 60%"; (84) | (148) "60 to 80%"; (84) | (112) "80 to 95%"; (84) | (76) "95% and over"; (84) | (256) "not stated"',
      "empty cells [rect, cell-empty] 33 of them: (93.5) to (144.5) | (203.5) to (236.5); (147.5) to (198.5) | (203.5) to (236.5); (255.5) to (306.5) | (239.5) to (272.5); (309.5) to (360.5) | (239.5) to (272.5)",
      'empty cell marks [text, text-empty, align center, fontSize 9] 33 of them: (119) | (220) "none"; (173) | (220) "none"; (281) | (256) "none"; (335) | (256) "none"',
      "cells of shade 2 [rect, cell-2]: (309.5) to (360.5) | (203.5) to (236.5); (363.5) to (414.5) | (239.5) to (272.5)",
      'studies of shade 2 [text, cell-strong-2, align center]: (335) | (215) "1"; (389) | (251) "1"',
      'arms and people of shade 2 [text, cell-small-2, align center, limit 50]: (335) | (228) "1 · ?"; (389) | (264) "1 · 34"',
      "cells of shade 3 [rect, cell-3]: (147.5) to (198.5) | (59.5) to (92.5)",
      'studies of shade 3 [text, cell-strong-3, align center]: (173) | (71) "2"',
      'arms and people of shade 3 [text, cell-small-3, align center, limit 50]: (173) | (84) "3 · 46"',
      "— family 2",
      'family [text, text-strong, fontSize 13, limit 183.95999999999998]: (0) | (8) "Size"',
      'totals [text, text-quiet, align right]: (414) | (8) "1 study, 1 arm, 7 people"',
      'effort heading [text, text-heading]: (0) | (34) "Effort"',
      'hold heading [text, text-heading]: (94) | (34) "Hold, seconds"',
      'hold bands [text, text-small, align center]: (119) | (49) "under 3"; (173) | (49) "3 to 6"; (227) | (49) "6 to 15"; (281) | (49) "15 to 30"; (335) | (49) "30 to 60"; (389) | (49) "60 +"',
      'effort bands [text, text-small, align right]: (84) | (220) "under 40%"; (84) | (184) "40 to 60%"; (84) | (148) "60 to 80%"; (84) | (112) "80 to 95%"; (84) | (76) "95% and over"; (84) | (256) "not stated"',
      "empty cells [rect, cell-empty] 35 of them: (93.5) to (144.5) | (203.5) to (236.5); (147.5) to (198.5) | (203.5) to (236.5); (309.5) to (360.5) | (239.5) to (272.5); (363.5) to (414.5) | (239.5) to (272.5)",
      'empty cell marks [text, text-empty, align center, fontSize 9] 35 of them: (119) | (220) "none"; (173) | (220) "none"; (335) | (256) "none"; (389) | (256) "none"',
      "cells of shade 2 [rect, cell-2]: (93.5) to (144.5) | (131.5) to (164.5)",
      'studies of shade 2 [text, cell-strong-2, align center]: (119) | (143) "1"',
      'arms and people of shade 2 [text, cell-small-2, align center, limit 50]: (119) | (156) "1 · 7"',
    ]);
    const one = evidenceMapCells([arm("Ash", "a", "strength", 100, 3, 11)]);
    expect(toldBy(evidenceMap({ id: "x", title: "A title", map: one })).slice(0, 4))
      .toEqual([
        "A title [x]",
        'drawn as [["A title"],["Large number: studies. Small numbers: arms · people."]]',
        "Large number: studies. Small numbers: arms · people. Cells marked none have no study; darker cells have more studies (1, 2, 3 to 4, 5 to 9, 10 and more). A value on the boundary of two bands counts in the higher one; a range counts at its midpoint. An arm measured in several outcomes counts once in each family.",
        "A title. Strength: 1 study, 1 arm, 11 people. Of 30 combinations, 29 have no study.",
      ]);
  });
});
