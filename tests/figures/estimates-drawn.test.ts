/**
 * Kind of evidence: made-up inputs in which no two numbers agree. What is drawn is read off the figure's own axes and
 * traced to the input by hand; places beside a plot are in drawing units, in brackets.
 */
import { describe, expect, test } from "vitest";
import { estimatesFigure, estimatesFigures } from "../../src/figures/estimates-figure.js";
import type { EstimatesInput } from "../../src/figures/estimates-input.js";
import { sessionTimeline } from "../../src/protocol/session-timeline.js";
import { parsePrescription } from "../../src/protocol/written-form.js";
import { roomOf } from "../../src/figures/frame.js";
import { figureInMode } from "../../src/figures/theme-config.js";
import { figureTheme } from "../../src/figures/theme.js";
import { drawSvg } from "../../src/host/draw-figure.js";
import { marksIn } from "./read-plot.js";
import { placedRows, seen, toldBy, told } from "./drawn.js";

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
      timeline: session("4 x 30 s at 60%, rest 90 s"),
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

describe("estimates", () => {
  test("on their axis", () => {
    const figure = estimatesFigure(estimates);
    expect([...told(figure), "— effects", ...placedRows(figure, "effects")]).toEqual([
      "Strength [estimates]",
      'drawn as [["Strength"],["3 effects from 2 studies. The average is 9.2% (2.6 to 16.4); the true effect of a further study like these is expected between −7.7","and 28.8%."]]',
      "3 effects from 2 studies. Each tick is an estimate; its bar is the 90% interval, stronger in colour towards the middle. The shaded band is the 90% confidence interval of the average; the broken lines and the tinted bar are the range of a further study. Hold strips show the whole session, all on one time scale; height is intensity. Random effects. a: borrowed.",
      "Strength: 3 effects from 2 studies. The average is 9.2% (2.6 to 16.4); the true effect of a further study like these is expected between −7.7 and 28.8%.",
      "study | label | estimate | low | high | shownEstimate | shownLow | shownHigh | spread | note",
      "Ash | knee | 0.0779 | 0.0119 | 0.1424 | 8.1 | 1.2 | 15.3 | its own | null",
      "Birch | elbow | 0.1169 | -0.0356 | 0.267 | 12.4 | -3.5 | 30.6 | its own | borrowed",
      "Ash | hip | 0.0459 | -0.0704 | 0.1647 | 4.7 | -6.8 | 17.9 | its own | null",
      "— names",
      "study bands [rect, band]: (0) to (174) | (100) to (140)",
      'headings [text, text-heading]: (8) | (10) "Study"; (70) | (10) "Arm and outcome"',
      'study names [text, text-strong, limit 56, fontSize 11]: (8) | (110) "Ash"; (8) | (150) "Birch"',
      'labels [text, text-body, limit 96, fontSize 11]: (70) | (110) "knee"; (70) | (130) "hip"; (70) | (150) "elbow"',
      'pooled names [text, text-pooled-strong]: (8) | (50) "Average over such studies"; (8) | (70) "A further study like these"',
      "— hold strips",
      "study bands [rect, band]: (0) to (126) | (100) to (140)",
      'headings [text, text-heading]: (8) | (10) "Session, to scale"',
      "rests [rule, rest]: (16) to (40) | (117.2); (48) to (72) | (117.2); (80) to (104) | (117.2)",
      "rests between sets [rule, rest-between-sets] none",
      "holds [rect, hold]: (8) to (16) | (108.6) to (117.2); (40) to (48) | (108.6) to (117.2); (72) to (80) | (108.6) to (117.2); (104) to (112) | (108.6) to (117.2)",
      "holds with intensity not stated [rect, hold-quiet] none",
      "strip axis [rule, grid]: (8) to (112) | (160); (8) | (160) to (164); (112) | (160) to (164)",
      'strip axis start [text, text-small]: (8) | (172) "0"',
      'strip axis end [text, text-small, align right]: (112) | (172) "6 min 30 s"',
      'intensity key [text, text-small]: (8) | (186) "height: intensity to 100%"',
      "— numbers",
      "study bands [rect, band]: (0) to (158) | (100) to (140)",
      'heading estimate [text, text-heading, align right]: (50) | (10) "Estimate"',
      'heading interval [text, text-heading, align right]: (150) | (10) "90% interval"',
      'estimate numbers [text, text-strong, align right, fontSize 11]: (50) | (110) "8.1"; (50) | (130) "4.7"; (50) | (150) "12.4"',
      'low numbers [text, text-body, align right, fontSize 11]: (96) | (110) "1.2"; (96) | (130) "−6.8"; (96) | (150) "−3.5"',
      'high numbers [text, text-body, align right, fontSize 11]: (150) | (110) "15.3"; (150) | (130) "17.9"; (150) | (150) "30.6"',
      'between numbers [text, text-quiet, align center, fontSize 11]: (107) | (110) "to"; (107) | (130) "to"; (107) | (150) "to"; (107) | (50) "to"; (107) | (70) "to"',
      'note marks [text, text-small, fontSize 11]: (52) | (146.8) "a" (borrowed)',
      'pooled estimate [text, text-pooled-strong, align right]: (50) | (50) "9.2"',
      'pooled low [text, text-pooled, align right]: (96) | (50) "2.6"; (96) | (70) "−7.7"',
      'pooled high [text, text-pooled, align right]: (150) | (50) "16.4"; (150) | (70) "28.8"',
      "— effects",
      "head [bar, ground]: (0) -8.66 32; (1) -8.66 32",
      "study bands [bar, band]: (5) -8.66 32; (6) -8.66 32",
      "prediction band [rect, prediction-band]: (3) -7.7 28.8",
      "prediction edge low [rule, prediction-edge]: (3) -7.7",
      "prediction edge high [rule, prediction-edge]: (3) 28.8",
      "further study [bar, computed-tint]: (3) -7.7 28.8",
      "confidence band [rect, pooled-band]: (2) 2.6 16.4",
      "pooled interval [bar, pooled-bar]: (2) 2.6 16.4",
      "pooled line [rule, pooled-line]: (2) 9.2",
      "pooled estimate tick [tick, pooled-tick]: (2) 9.2",
      "no change [rule, zero]: 0",
      "intervals [bar, effect-outer]: (5) 1.2 15.3; (6) -6.8 17.9; (7) -3.5 30.6",
      "intervals, inner two thirds [bar, effect-middle]: (5) 3.45 12.8; (6) -3.11 13.3; (7) 1.53 24.2",
      "estimates [tick, effect-tick]: (5) 8.1; (6) 4.7; (7) 12.4",
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
    expect([...told(figure), "— effects", ...placedRows(figure, "effects")]).toEqual([
      "Size [x]",
      'drawn as [["Size"],["4 effects from 4 studies."]]',
      "4 effects from 4 studies. Each tick is an estimate; its bar is the 95% interval, stronger in colour towards the middle. 1 interval runs past the edge, marked ‹ or ›; the numbers are whole.",
      "Size: 4 effects from 4 studies.",
      "study | label | estimate | low | high | shownEstimate | shownLow | shownHigh | spread | note",
      "Ash | a | 0.31 | -9 | 9 | 0.31 | -9 | 9 | its own | null",
      "Birch | b | 0.42 | 0.13 | 0.71 | 0.42 | 0.13 | 0.71 | its own | null",
      "Cedar | c | 0.14 | -0.15 | 0.43 | 0.14 | -0.15 | 0.43 | its own | null",
      "Dogwood | d | 0.25 | -0.04 | 0.54 | 0.25 | -0.04 | 0.54 | its own | null",
      "— names",
      "study bands [rect, band]: (0) to (174) | (40) to (60); (0) to (174) | (80) to (100)",
      'headings [text, text-heading]: (8) | (10) "Study"; (70) | (10) "Arm and outcome"',
      'study names [text, text-strong, limit 56, fontSize 11]: (8) | (50) "Ash"; (8) | (70) "Birch"; (8) | (90) "Cedar"; (8) | (110) "Dogwood"',
      'labels [text, text-body, limit 96, fontSize 11]: (70) | (50) "a"; (70) | (70) "b"; (70) | (90) "c"; (70) | (110) "d"',
      "— numbers",
      "study bands [rect, band]: (0) to (158) | (40) to (60); (0) to (158) | (80) to (100)",
      'heading estimate [text, text-heading, align right]: (50) | (10) "Estimate"',
      'heading interval [text, text-heading, align right]: (150) | (10) "95% interval"',
      'estimate numbers [text, text-strong, align right, fontSize 11]: (50) | (50) "0.31"; (50) | (70) "0.42"; (50) | (90) "0.14"; (50) | (110) "0.25"',
      'low numbers [text, text-body, align right, fontSize 11]: (96) | (50) "−9.00"; (96) | (70) "0.13"; (96) | (90) "−0.15"; (96) | (110) "−0.04"',
      'high numbers [text, text-body, align right, fontSize 11]: (150) | (50) "9.00"; (150) | (70) "0.71"; (150) | (90) "0.43"; (150) | (110) "0.54"',
      'between numbers [text, text-quiet, align center, fontSize 11]: (107) | (50) "to"; (107) | (70) "to"; (107) | (90) "to"; (107) | (110) "to"',
      "note marks [text, text-small, fontSize 11] none",
      "pooled estimate [text, text-pooled-strong, align right] none",
      "pooled low [text, text-pooled, align right] none",
      "pooled high [text, text-pooled, align right] none",
      "— effects",
      "head [bar, ground]: (0) -0.68 1.1; (1) -0.68 1.1",
      "study bands [bar, band]: (2) -0.68 1.1; (4) -0.68 1.1",
      "no change [rule, zero]: 0",
      "intervals [bar, effect-outer]: (2) -0.68 1.1; (3) 0.13 0.71; (4) -0.15 0.43; (5) -0.04 0.54",
      "intervals, inner two thirds [bar, effect-middle]: (2) -0.68 1.1; (3) 0.227 0.613; (4) -0.0533 0.333; (5) 0.0567 0.443",
      "estimates [tick, effect-tick]: (2) 0.31; (3) 0.42; (4) 0.14; (5) 0.25",
      "intervals cut at the left [text, text-strong]: (2) -0.68 ‹",
      "intervals cut at the right [text, text-strong]: (2) 1.1 ›",
    ]);
  });

  test("pooled without a further study's range", () => {
    const figure = estimatesFigure({
      ...estimates,
      pooled: { ...estimates.pooled!, predictionInterval: null },
    });
    expect(toldBy(figure).slice(1, 4)).toEqual([
      'drawn as [["Strength"],["3 effects from 2 studies. The average is 9.2% (2.6 to 16.4); there are too few studies for the range of a further study."]]',
      "3 effects from 2 studies. Each tick is an estimate; its bar is the 90% interval, stronger in colour towards the middle. The shaded band is the 90% confidence interval of the average. Hold strips show the whole session, all on one time scale; height is intensity. Random effects. a: borrowed.",
      "Strength: 3 effects from 2 studies. The average is 9.2% (2.6 to 16.4); there are too few studies for the range of a further study.",
    ]);
    expect(seen(figure, "numbers").filter((line) => line.startsWith("pooled"))).toEqual([
      'pooled estimate [text, text-pooled-strong, align right]: (50) | (50) "9.2"',
      'pooled low [text, text-pooled, align right]: (96) | (50) "2.6"',
      'pooled high [text, text-pooled, align right]: (150) | (50) "16.4"',
    ]);
  });
});

test.each(["light", "dark"] as const)(
  "in a column a row without an interval is an open circle in the colour of estimates, %s",
  async (mode) => {
    const effects = [
      { study: "Ash", label: "knee", estimate: log(8.1), low: log(1.2), high: log(15.3) },
      ...[12.4, 21.9].map((percent, at) => ({
        study: ["Birch", "Cedar"][at]!,
        label: "elbow",
        spread: "none" as const,
        ...{ estimate: log(percent), low: log(percent), high: log(percent) },
      })),
    ];
    const figure = estimatesFigures({ ...estimates, effects }, { room: roomOf("column") })[0]!;
    expect(figure.caption).toContain("Open circle: no interval.");
    const svg = await drawSvg(figureInMode(figure, mode));
    const { background, mark } = figureTheme.modes[mode];
    const open = marksIn(svg, "middles_without_an_interval_marks");
    expect(open.map(({ stroke }) => stroke)).toEqual([mark, mark]);
    // Each stands where its number is on the axis, between the labels of the axis.
    const labels = marksIn(svg, "mark-text role-axis-label");
    const [zero, twenty] = ["0", "20"].map((text) => labels.find((one) => one.text === text)!.x);
    const across = (x: number) => (20 * (x - zero!)) / (twenty! - zero!);
    [12.4, 21.9].forEach((percent, at) =>
      expect(Math.abs(across(open[at]!.x) - percent)).toBeLessThan(0.2),
    );
    // Gaps in the colour of the ground are only in bars.
    const gaps = marksIn(svg, "middles_effect_marks");
    expect(gaps.map(({ stroke, fill }) => (fill === "" ? stroke : fill))).toEqual([background]);
    expect(marksIn(svg, "ranges_marks")).toHaveLength(2);
  },
);
