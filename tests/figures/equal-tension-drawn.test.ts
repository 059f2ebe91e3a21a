/**
 * Kind of evidence: made-up inputs in which no two numbers agree. What is drawn is read off the figure's own axes and
 * traced to the input by hand; places beside a plot are in drawing units, in brackets.
 */
import { describe, expect, test } from "vitest";
import type { EqualTension } from "../../src/dose/equal-tension.js";
import { equalTensionFigure } from "../../src/figures/equal-tension-figure.js";
import { sessionTimeline } from "../../src/protocol/session-timeline.js";
import { parsePrescription } from "../../src/protocol/written-form.js";
import { coefficientOfPercent } from "../tables/all-different.js";
import { axisOf, told } from "./drawn.js";

const log = (percent: number): number => Math.log1p(percent / 100);
const session = (text: string) => sessionTimeline(parsePrescription(text));

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
        kind: "told",
        ...coefficientOfPercent("", [0.4, 2.5, 4.6], [0.02, 5.5, 0.1]),
        predictionInterval: { low: log(-5.8), high: log(11.3) },
        pairs: 1,
        studies: 1,
      },
    },
  } as unknown as EqualTension["answers"][number];

  test("with sessions", () => {
    const timelines = Object.fromEntries([
      ["Elm long", session("2 x 30 s at 61%, rest 60 s")],
      ["Elm short", session("12 x 5 s at 62%, rest 5 s")],
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
      "2 pairs of arms from 2 studies, each with the same tension time within 12%; torque. Each tick is how much more the arm with the longer holds gained than the other arm of its study, its bar the 90% interval. Strips show whole sessions, the longer above the shorter, all on one time scale; height is intensity; blank where rests or intensity are not coded. Shaded: the 90% interval of the average; hatched bracket and broken lines: the range of a further study. a: also differs in rest. b: follows from other pairs of its study; not in the average.",
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
      "holds with intensity not stated [rect, hold-quiet] none",
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
      'between numbers [text, text-quiet, align center, fontSize 11]: (107) | (104) "to"; (107) | (132) "to"; (107) | (51) "to"; (107) | (73) "to"',
      'note marks [text, text-small, fontSize 11]: (52) | (100.8) "a" (also differs in rest); (52) | (128.8) "b" (follows from other pairs of its study; not in the average)',
      'pooled estimate [text, text-pooled-strong, align right]: (50) | (51) "2.5"',
      'pooled low [text, text-pooled, align right]: (96) | (51) "0.4"; (96) | (73) "−5.8"',
      'pooled high [text, text-pooled, align right]: (150) | (51) "4.6"; (150) | (73) "11.3"',
    ]);
  });

  test("intensity, without an average or sessions", () => {
    const figure = equalTensionFigure({
      answer: {
        ...answer,
        question: "intensity",
        headline: {
          of: "all pairs",
          answer: { kind: "refusal", code: "made-up", reason: "one study" },
        },
      } as unknown as EqualTension["answers"][number],
      rules: result,
      scale: "standardised-mean-difference",
    });
    expect(told(figure).filter((line) => !line.startsWith("grid"))).toEqual([
      "Equal tension time, different intensity: strength [equal-tension-intensity-strength]",
      'drawn as [["Equal tension time, different intensity: strength"],["2 pairs of arms from 2 studies, each with the same tension time within 12%; torque. No average: one study."]]',
      "2 pairs of arms from 2 studies, each with the same tension time within 12%; torque. Each tick is how much more the arm with the higher intensity gained than the other arm of its study, its bar the 90% interval. a: also differs in rest. b: follows from other pairs of its study; not in the average.",
      "Equal tension time, different intensity: strength. 2 pairs of arms from 2 studies, each with the same tension time within 12%; torque. No average: one study.",
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
      'headings of numbers [text, text-heading, align right]: (50) | (10) "Higher"; (100) | (10) "Lower"',
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
      'direction low [text, text-small, align right]: (128.1) | (123) "← lower better"',
      'direction high [text, text-small]: (140.1) | (123) "higher better →"',
      "— numbers",
      "study bands [rect, band]: (0) to (158) | (40) to (64); (0) to (158) | (68) to (92)",
      'heading estimate [text, text-heading, align right]: (50) | (10) "Estimate"',
      'heading interval [text, text-heading, align right]: (150) | (10) "90% interval"',
      'estimate numbers [text, text-strong, align right, fontSize 11]: (50) | (52) "0.03"; (50) | (80) "−0.02"',
      'low numbers [text, text-body, align right, fontSize 11]: (96) | (52) "−0.02"; (96) | (80) "−0.09"',
      'high numbers [text, text-body, align right, fontSize 11]: (150) | (52) "0.09"; (150) | (80) "0.05"',
      'between numbers [text, text-quiet, align center, fontSize 11]: (107) | (52) "to"; (107) | (80) "to"',
      'note marks [text, text-small, fontSize 11]: (52) | (48.8) "a" (also differs in rest); (52) | (76.8) "b" (follows from other pairs of its study; not in the average)',
      "pooled estimate [text, text-pooled-strong, align right] none",
      "pooled low [text, text-pooled, align right] none",
      "pooled high [text, text-pooled, align right] none",
    ]);
  });
});
