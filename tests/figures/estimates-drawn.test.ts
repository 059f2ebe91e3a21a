/**
 * Kind of evidence: made-up inputs in which no two numbers agree. What is drawn is read off the figure's own axes and
 * traced to the input by hand; places beside a plot are in drawing units, in brackets.
 */
import { describe, expect, test } from "vitest";
import { estimatesFigure } from "../../src/figures/estimates-figure.js";
import type { EstimatesInput } from "../../src/figures/estimates-input.js";
import { sessionTimeline } from "../../src/protocol/session-timeline.js";
import { parsePrescription } from "../../src/protocol/written-form.js";
import { axisOf, seen, toldBy, told } from "./drawn.js";

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
    const x = axisOf(figure, "effects: axis above", "x", { log: true });
    expect(told(figure, { effects: { x } })).toEqual([
      "Strength [estimates]",
      'drawn as [["Strength"],["3 effects from 2 studies. The average is 9.2% (2.6 to 16.4); the true effect of a further study like these is expected between −7.7","and 28.8%."]]',
      "3 effects from 2 studies. Each tick is an estimate; its bar is the 90% interval, darker towards the middle. The shaded band is the 90% confidence interval of the average; the broken lines and the hatched bracket are the range of a further study. Hold strips show the whole session, all on one time scale; height is intensity. random effects. a: borrowed.",
      "Strength: 3 effects from 2 studies. The average is 9.2% (2.6 to 16.4); the true effect of a further study like these is expected between −7.7 and 28.8%.",
      "study | label | estimate | low | high | shownEstimate | shownLow | shownHigh | spread | note",
      "Ash | knee | 0.0779 | 0.0119 | 0.1424 | 8.1 | 1.2 | 15.3 | its own | null",
      "Birch | elbow | 0.1169 | -0.0356 | 0.267 | 12.4 | -3.5 | 30.6 | its own | borrowed",
      "Ash | hip | 0.0459 | -0.0704 | 0.1647 | 4.7 | -6.8 | 17.9 | its own | null",
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
      "holds with intensity not stated [rect, hold-quiet] none",
      "strip axis [rule, grid]: (8) to (112) | (168); (8) | (168) to (172); (112) | (168) to (172)",
      'strip axis start [text, text-small]: (8) | (180) "0"',
      'strip axis end [text, text-small, align right]: (112) | (180) "6 min 30 s"',
      'intensity key [text, text-small]: (8) | (194) "height: intensity to 100%"',
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
      'between numbers [text, text-quiet, align center, fontSize 11]: (107) | (104) "to"; (107) | (124) "to"; (107) | (152) "to"; (107) | (51) "to"; (107) | (73) "to"',
      'note marks [text, text-small, fontSize 11]: (52) | (148.8) "a" (borrowed)',
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
      "study | label | estimate | low | high | shownEstimate | shownLow | shownHigh | spread | note",
      "Ash | a | 0.31 | -9 | 9 | 0.31 | -9 | 9 | its own | null",
      "Birch | b | 0.42 | 0.13 | 0.71 | 0.42 | 0.13 | 0.71 | its own | null",
      "Cedar | c | 0.14 | -0.15 | 0.43 | 0.14 | -0.15 | 0.43 | its own | null",
      "Dogwood | d | 0.25 | -0.04 | 0.54 | 0.25 | -0.04 | 0.54 | its own | null",
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
      'between numbers [text, text-quiet, align center, fontSize 11]: (107) | (52) "to"; (107) | (80) "to"; (107) | (108) "to"; (107) | (136) "to"',
      "note marks [text, text-small, fontSize 11] none",
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
      'drawn as [["Strength"],["3 effects from 2 studies. The average is 9.2% (2.6 to 16.4); there are too few studies for the range of a further study."]]',
      "3 effects from 2 studies. Each tick is an estimate; its bar is the 90% interval, darker towards the middle. The shaded band is the 90% confidence interval of the average. Hold strips show the whole session, all on one time scale; height is intensity. random effects. a: borrowed.",
      "Strength: 3 effects from 2 studies. The average is 9.2% (2.6 to 16.4); there are too few studies for the range of a further study.",
    ]);
    expect(seen(figure, "numbers").filter((line) => line.startsWith("pooled"))).toEqual([
      'pooled estimate [text, text-pooled-strong, align right]: (50) | (51) "9.2"',
      'pooled low [text, text-pooled, align right]: (96) | (51) "2.6"',
      'pooled high [text, text-pooled, align right]: (150) | (51) "16.4"',
    ]);
  });
});
