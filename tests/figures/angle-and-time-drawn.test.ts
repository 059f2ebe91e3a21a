/**
 * Kind of evidence: made-up inputs in which no two numbers agree. What is drawn is read off the figure's own axes and
 * traced to the input by hand; places beside a plot are in drawing units, in brackets.
 */
import { describe, expect, test } from "vitest";
import type { JointAngle } from "../../src/dose/joint-angle.js";
import type { TimeCourse } from "../../src/dose/time-course.js";
import { jointAngleFigure } from "../../src/figures/joint-angle-figure.js";
import { timeCourseFigure } from "../../src/figures/time-course-figure.js";
import { coefficientOfPercent } from "../tables/all-different.js";
import { toldBy, told } from "./drawn.js";

const log = (percent: number): number => Math.log1p(percent / 100);
describe("the angles", () => {
  const gain = (percent: readonly [number, number, number]) => ({
    kind: "told",
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
        kind: "told",
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
      level: { kind: "refusal", code: "made-up", reason: "no level" },
      halfWidth: { kind: "refusal", code: "made-up", reason: "too few studies" },
      left: [],
      average: { kind: "refusal", code: "made-up", reason: "no average" },
      curve: [],
      points: [at("c", 0, 8.6), at("c", 60, 6.4)],
      notes: [{ code: "robust-few-degrees-of-freedom", message: "few degrees of freedom" }],
    },
    { muscleLength: "middle", effects: 3, studies: 1, people: 9, distances: undefined, points: [] },
  ];
  const answer = {
    confidence: 0.9,
    longAgainstShort: {
      kind: "told",
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
            lengths: [{ ...lengths[0], halfWidth: { kind: "told", degrees: 33.3, interval } }],
            longAgainstShort: { kind: "refusal", code: "made-up", reason: "only one length" },
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
      "How far does the gain carry over from the trained angle? Size. Trained at short muscle length: Half of the gain is left 33° from the trained angle (no lower limit to no upper limit). Long and short length cannot be compared: only one length.",
      "How far does the gain carry over from the trained angle? Size. Trained at short muscle length: Half of the gain is left 33° from the trained angle (13° to no upper limit). Long and short length cannot be compared: only one length.",
      "How far does the gain carry over from the trained angle? Size. Trained at short muscle length: Half of the gain is left 33° from the trained angle (no lower limit to 44°). Long and short length cannot be compared: only one length.",
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
      kind: "told",
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
      'drawn as [["How does the gain grow over the weeks? Joint torque"],["42 effects from 3 studies that measured an arm more than once. 63% of the final gain is reached after 4.4","weeks (90% interval 2.1 to 9.7). Gain at 12 weeks: 9.9% (7.3 to 12.8), beyond the data."]]',
      "Points are effects, joined for each arm and measurement. Thick line: rising and flattening course, from nothing at baseline, with its 90% interval. Courses compared on the same effects, by their weights: rising and flattening 63%, logarithm 37%. Levels differ. A doubt.",
      "How does the gain grow over the weeks? Joint torque 42 effects from 3 studies that measured an arm more than once. 63% of the final gain is reached after 4.4 weeks (90% interval 2.1 to 9.7). Gain at 12 weeks: 9.9% (7.3 to 12.8), beyond the data.",
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
    const open = { kind: "told", weeks: 13.4 };
    expect([
      said({ ...open, interval: { low: null, high: null } }),
      said({ ...open, interval: { low: 5.67, high: null } }),
      said({ ...open, interval: { low: null, high: 21.2 } }),
      said({ kind: "refusal", code: "made-up", reason: "too flat" }),
    ]).toEqual([
      "How does the gain grow over the weeks? Size 42 effects from 1 study that measured an arm more than once. 63% of the final gain is reached after 13.4 weeks (90% interval no lower limit to no upper limit).",
      "How does the gain grow over the weeks? Size 42 effects from 1 study that measured an arm more than once. 63% of the final gain is reached after 13.4 weeks (90% interval 5.7 to no upper limit).",
      "How does the gain grow over the weeks? Size 42 effects from 1 study that measured an arm more than once. 63% of the final gain is reached after 13.4 weeks (90% interval no lower limit to 21.2).",
      "How does the gain grow over the weeks? Size 42 effects from 1 study that measured an arm more than once. How fast the gain comes cannot be told: too flat.",
    ]);
  });
});
