/**
 * Kind of evidence: made-up inputs in which no two numbers agree. What is drawn is read off the figure's own axes and
 * traced to the input by hand; places beside a plot are in drawing units, in brackets.
 */
import { describe, expect, test } from "vitest";
import type { Figure } from "../../src/figures/figure.js";
import { comparisonFigure } from "../../src/figures/comparison-figure.js";
import { frontierFigure } from "../../src/figures/frontier-figure.js";
import { projectionFigure } from "../../src/figures/projection-figure.js";
import { sessionTimeline } from "../../src/protocol/session-timeline.js";
import { parsePrescription } from "../../src/protocol/written-form.js";
import {
  madeUpComparison,
  madeUpFrontier,
  madeUpProjection,
  madeUpReady,
  madeUpSupport,
} from "../tables/made-up-protocols.js";
import { axisOf, seen, toldBy } from "./drawn.js";
import { expectSoundFigure } from "./figure-checks.js";

const session = (text: string) => sessionTimeline(parsePrescription(text));
const long = session("4 x 30 s at 60%, rest 90 s");
const short = session("4 x (6 x 3 s) at 95%, rests 3 s and 120 s");

describe("a projection", () => {
  const drawn = (figure: Figure): readonly string[] => {
    expectSoundFigure(figure);
    const x = axisOf(figure, "projection: weeks", "x", { from: 50, to: 502 });
    const y = axisOf(figure, "projection: levels in words", "y", { log: true });
    return seen(figure, "projection", { x, y });
  };

  test("wide, with its session and a name", () => {
    const figure = projectionFigure({
      projection: madeUpProjection,
      prepared: madeUpReady,
      timeline: long,
      name: "Long",
    });
    expect(toldBy(figure)).toEqual([
      "What to expect: size, Long: 4 x 30 s at 60%, rest 90 s, 3/week, 12 weeks, long, knee [projection]",
      'drawn as [["What to expect: size"],["Long: 4 x 30 s at 60%, rest 90 s, 3/week, 12 weeks, long, knee"]]',
      "Three ranges around one middle, each holding 95%: the darkest is the average over such studies, the next a new group's mean, the lightest what a single person of such a group would measure, test error included. Tests stand between 5 and 16 weeks; hatched and dotted outside. Above: the session to scale, 6 min 30 s, intensity up. About groups and people like those studied; a forecast for nobody.",
      "Long: 4 x 30 s at 60%, rest 90 s, 3/week, 12 weeks, long, knee. Size after 12 weeks, against no exercise: such studies average 4.2% (95% range 1.1 to 7.3%), a new group is expected within −2.4 to 11.6%, a single person within −8.7 to 21.9%; this lies inside what was studied, with 3 arms (47 people) near it.",
      "weeks | studied | averagePercent | averageLowPercent | averageHighPercent | newGroupPercent | newGroupLowPercent | newGroupHighPercent | personPercent | personLowPercent | personHighPercent",
      "0 | no | 0.01 | 0.01 | 0.01 | 0.01 | 0.01 | 0.01 | 0.01 | 0.01 | 0.01",
      "3 | no | 1.41 | 0.31 | 2.51 | 1.71 | -1.59 | 3.81 | 1.91 | -5.19 | 9.11",
      "8 | yes | 3.21 | 0.71 | 5.41 | 3.51 | -2.09 | 8.81 | 3.91 | -7.89 | 17.51",
      "18 | no | 5.11 | 1.21 | 9.41 | 5.61 | -3.29 | 14.71 | 5.91 | -9.79 | 25.21",
    ]);
    expect(drawn(figure)).toEqual([
      "rests [rule, rest]: 0.8 to 3.1 | 34.1; 3.8 to 6.1 | 34.1; 6.9 to 9.2 | 34.1",
      "rests between sets [rule, rest-between-sets] none",
      "holds [rect, hold]: 0 to 0.8 | (14.4) to 34.1; 3.1 to 3.8 | (14.4) to 34.1; 6.1 to 6.9 | (14.4) to 34.1; 9.2 to 10 | (14.4) to 34.1",
      "holds with intensity not stated [rect, hold-quiet] none",
      'session [text, text-small]: 0 | 32.2 "the session to scale, 6 min 30 s"',
      "ground [rect, band]: 0 to 18 | 26.9 to -11",
      "levels [rule, grid]: 0 to 18 | -10; 0 to 18 | -5; 0 to 18 | 0; 0 to 18 | 5; 0 to 18 | 10; 0 to 18 | 15; 0 to 18 | 20; 0 to 18 | 25",
      "person range [area, range-person]: 5 | 12.4 to -6.3; 8 | 17.5 to -7.9; 16 | 23.6 to -9.4",
      "person range, not studied [rule, range-hatch-person] 24 of them: 0.1 | 0.4 to -0.2; 0.4 | 1.2 to -0.7; 17.5 | 24.8 to -9.7; 17.8 | 25.1 to -9.8",
      "person edges, not studied [rule, range-edge]: 0 to 3 | 0 to -5.2; 3 to 5 | -5.2 to -6.3; 0 to 3 | 0 to 9.1; 3 to 5 | 9.1 to 12.4; 16 to 18 | -9.4 to -9.8; 16 to 18 | 23.6 to 25.2",
      "group range [area, range-group]: 5 | 5.8 to -1.8; 8 | 8.8 to -2.1; 16 | 13.5 to -3.1",
      "group range, not studied [rule, range-hatch-group] 38 of them: 0.1 | 0.1 to 0; 0.3 | 0.3 to -0.1; 17.7 | 14.5 to -3.3; 17.9 | 14.6 to -3.3",
      "group edges, not studied [rule, range-edge]: 0 to 3 | 0 to -1.6; 3 to 5 | -1.6 to -1.8; 0 to 3 | 0 to 3.8; 3 to 5 | 3.8 to 5.8; 16 to 18 | -3.1 to -3.3; 16 to 18 | 13.5 to 14.7",
      "average range [area, range-average]: 5 | 3.7 to 0.5; 8 | 5.4 to 0.7; 16 | 8.6 to 1.1",
      "average range, not studied [rule, range-hatch-average] 70 of them: 0 | 0; 0.1 | 0.1 to 0; 17.8 | 9.3 to 1.2; 17.9 | 9.4 to 1.2",
      "average edges, not studied [rule, range-edge]: 0 to 3 | 0 to 0.3; 3 to 5 | 0.3 to 0.5; 0 to 3 | 0 to 2.5; 3 to 5 | 2.5 to 3.7; 16 to 18 | 1.1 to 1.2; 16 to 18 | 8.6 to 9.4",
      "middle [rule, range-middle]: 5 to 8 | 2.1 to 3.2; 8 to 16 | 3.2 to 4.7",
      "no change [rule, zero]: 0 to 18 | 0",
      "end, person [rect, range-person]: (517.5) to (522.5) | 21.9 to -8.7",
      "end, group [rect, range-group]: (515) to (525) | 11.6 to -2.4",
      "end, average [rect, range-average]: (511) to (529) | 7.3 to 1.1",
      "end, middle [rect, range-tick]: (511) to (529) | 4.3 to 4.1",
      'levels in words [text, text-small, align right]: (44) | (331.8) "−10%"; (44) | (290.8) "−5%"; (44) | (252) "0%"; (44) | (215.1) "5%"; (44) | (179.9) "10%"; (44) | (146.2) "15%"; (44) | (114) "20%"; (44) | (83.1) "25%"',
      'heading [text, text-heading]: 0 | 28.7 "gain, against no exercise"',
      "week marks [rule, grid]: 0 | -11 to -11.4; 4 | -11 to -11.4; 8 | -11 to -11.4; 12 | -11 to -11.4; 16 | -11 to -11.4",
      'weeks [text, text-small, align center]: 0 | -12.5 "0"; 4 | -12.5 "4"; 8 | -12.5 "8"; 12 | -12.5 "12"; 16 | -12.5 "16"',
      'weeks heading [text, text-small]: (510) | (353) "weeks"',
      "studied [rect, studied]: 5 to 16 | -14 to -14.4",
      'studied in words [text, text-small]: 0 | -15.8 "tests stand between 5 and 16 weeks; hatched where none do"',
      "swatches of a single person [rect, range-person]: (552) to (566) | 7.5 to 6.1",
      "swatches of a new group [rect, range-group]: (552) to (566) | 15.2 to 13.7",
      "swatches of the average [rect, range-average]: (552) to (566) | 23.4 to 21.8",
      'names [text, text-body]: (573) | (98) "the average over such studies"; (573) | (150) "a new group"; (573) | (202) "a single person"',
      'numbers [text, text-strong]: (573) | (113) "4.2% (1.1 to 7.3%)"; (573) | (165) "4.5% (−2.4 to 11.6%)"; (573) | (217) "4.8% (−8.7 to 21.9%)"',
      'numbers heading [text, text-heading]: (552) | (76) "at 12 weeks: middle and 95% range"',
      "extrapolation [text, text-pooled-strong] none",
    ]);
  });

  test("narrow, beyond what was studied, tests at one week", () => {
    const figure = projectionFigure({
      projection: {
        ...madeUpProjection,
        weeks: 18,
        support: { ...madeUpSupport, extrapolates: true, reasons: ["longer", "harder"] },
      },
      prepared: { ...madeUpReady, weeksStudied: { low: 8, high: 8, usual: 8 } },
      layout: "narrow",
      confidence: 0.8,
      id: "other",
    });
    expect(toldBy(figure).slice(0, 4)).toEqual([
      "What to expect: size, 4 x 30 s at 60%, rest 90 s, 3/week, 12 weeks, long, knee [other]",
      'drawn as [["What to expect: size"],["4 x 30 s at 60%, rest 90 s, 3/week, 12 weeks, long, knee"]]',
      "Three ranges around one middle, each holding 80%: the darkest is the average over such studies, the next a new group's mean, the lightest what a single person of such a group would measure, test error included. Tests stand at 8 weeks; hatched and dotted outside. About groups and people like those studied; a forecast for nobody.",
      "4 x 30 s at 60%, rest 90 s, 3/week, 12 weeks, long, knee. Size after 18 weeks, against no exercise: such studies average 4.2% (80% range 1.1 to 7.3%), a new group is expected within −2.4 to 11.6%, a single person within −8.7 to 21.9%; this is an extrapolation, with 3 arms (47 people) near it.",
    ]);
    expectSoundFigure(figure);
    const x = axisOf(figure, "projection: weeks", "x", { from: 50, to: 350 });
    const y = axisOf(figure, "projection: levels in words", "y", { log: true });
    expect(seen(figure, "projection", { x, y })).toEqual([
      "ground [rect, band]: 0 to 18 | 26.9 to -11",
      "levels [rule, grid]: 0 to 18 | -10; 0 to 18 | -5; 0 to 18 | 0; 0 to 18 | 5; 0 to 18 | 10; 0 to 18 | 15; 0 to 18 | 20; 0 to 18 | 25",
      "person range [area, range-person] none",
      "person range, not studied [rule, range-hatch-person] 42 of them: 0.2 | 0.6 to -0.4; 0.6 | 1.8 to -1.1; 17 | 24.4 to -9.6; 17.5 | 24.8 to -9.7",
      "person edges, not studied [rule, range-edge]: 0 to 3 | 0 to -5.2; 3 to 8 | -5.2 to -7.9; 0 to 3 | 0 to 9.1; 3 to 8 | 9.1 to 17.5; 8 to 18 | -7.9 to -9.8; 8 to 18 | 17.5 to 25.2",
      "group range [area, range-group] none",
      "group range, not studied [rule, range-hatch-group] 66 of them: 0.1 | 0.2 to -0.1; 0.4 | 0.5 to -0.2; 17.6 | 14.4 to -3.3; 17.9 | 14.6 to -3.3",
      "group edges, not studied [rule, range-edge]: 0 to 3 | 0 to -1.6; 3 to 8 | -1.6 to -2.1; 0 to 3 | 0 to 3.8; 3 to 8 | 3.8 to 8.8; 8 to 18 | -2.1 to -3.3; 8 to 18 | 8.8 to 14.7",
      "average range [area, range-average] none",
      "average range, not studied [rule, range-hatch-average] 119 of them: 0.1 | 0.1 to 0; 0.2 | 0.2 to 0; 17.7 | 9.3 to 1.2; 17.8 | 9.3 to 1.2",
      "average edges, not studied [rule, range-edge]: 0 to 3 | 0 to 0.3; 3 to 8 | 0.3 to 0.7; 0 to 3 | 0 to 2.5; 3 to 8 | 2.5 to 5.4; 8 to 18 | 0.7 to 1.2; 8 to 18 | 5.4 to 9.4",
      "middle [rule, range-middle] none",
      "no change [rule, zero]: 0 to 18 | 0",
      "end, person [rect, range-person]: (365.5) to (370.5) | 21.9 to -8.7",
      "end, group [rect, range-group]: (363) to (373) | 11.6 to -2.4",
      "end, average [rect, range-average]: (359) to (377) | 7.3 to 1.1",
      "end, middle [rect, range-tick]: (359) to (377) | 4.3 to 4.1",
      'levels in words [text, text-small, align right]: (44) | (283.8) "−10%"; (44) | (242.8) "−5%"; (44) | (204) "0%"; (44) | (167.1) "5%"; (44) | (131.9) "10%"; (44) | (98.2) "15%"; (44) | (66) "20%"; (44) | (35.1) "25%"',
      'heading [text, text-heading]: 0 | 28.7 "gain, against no exercise"',
      "week marks [rule, grid]: 0 | -11 to -11.4; 4 | -11 to -11.4; 8 | -11 to -11.4; 12 | -11 to -11.4; 16 | -11 to -11.4",
      'weeks [text, text-small, align center]: 0 | -12.5 "0"; 4 | -12.5 "4"; 8 | -12.5 "8"; 12 | -12.5 "12"; 16 | -12.5 "16"',
      'weeks heading [text, text-small]: (358) | (305) "weeks"',
      "studied [rect, studied]: 7.9 to 8.1 | -13.8 to -14.7",
      'studied in words [text, text-small]: 0 | -15.8 "tests stand at 8 weeks; hatched where none do"',
      "swatches of a single person [rect, range-person]: 0 to 0.8 | (441) to (451)",
      "swatches of a new group [rect, range-group]: 0 to 0.8 | (407) to (417)",
      "swatches of the average [rect, range-average]: 0 to 0.8 | (373) to (383)",
      'names [text, text-body]: (71) | (372) "the average over such studies"; (71) | (406) "a new group"; (71) | (440) "a single person"',
      'numbers [text, text-strong]: (71) | (385) "4.2% (1.1 to 7.3%)"; (71) | (419) "4.5% (−2.4 to 11.6%)"; (71) | (453) "4.8% (−8.7 to 21.9%)"',
      'numbers heading [text, text-heading]: (50) | (356) "at 18 weeks: middle and 80% range"',
      'extrapolation [text, text-pooled-strong]: (50) | (484) "Extrapolation: longer; harder"',
    ]);
  });
});

describe("a comparison", () => {
  const timelines = [long, short, undefined];

  test("wide: gains on one axis, differences on the other", () => {
    const figure = comparisonFigure({
      comparison: madeUpComparison,
      prepared: madeUpReady,
      timelines,
    });
    expectSoundFigure(figure);
    expect(toldBy(figure)).toEqual([
      "Side by side: size [comparison]",
      'drawn as [["Side by side: size"],["3 protocols, against no exercise; differences under 2.5% count as none"]]',
      "Sessions to one time scale (one set), intensity up. Gains: the darkest bar is the average over such studies with its middle cut out, the next a new group, the thin one a single person, each holding 95%. Differences are from the first protocol: the thick bar is the average, the thin one what a new trial would show; they are ratios of end scores, and surer than the gains look beside each other, since what two protocols share cancels. One is called better from 90% on. All pairs stand in the table.",
      "Side by side: size. Long (4 x 30 s at 60%, rest 90 s, 3/week, 12 weeks, long, knee): average 4.2% (1.1 to 7.3%), a new group −2.4 to 11.6%, a single person −8.7 to 21.9%; Short (4 x 6 x 3 s at 95%, 2/week, 10 weeks, middle, knee): average 2.7% (0.6 to 4.9%), a new group −3.1 to 8.2%, a single person −9.3 to 18.6%; Bare (5 x 20 s at 50%, 9 weeks): average 1.3% (0.2 to 2.6%), a new group −3.7 to 6.1%, a single person −10.4 to 15.7%. Long against Short: Long is better, made up. Rests on 2 head-to-head trials and the model. Those trials by themselves give 2.4% (−1.7 to 6.7%) for arms that lie 0.5 to 1.8 steps away, the model 1.6% (−0.9 to 4.1%). Long against Bare: cannot be told, made up. Rests on 1 head-to-head trial and the model. That trial by itself gives −2.9% (−4.7 to −1.1%) for arms that lie 0.2 to 1.1 steps away, the model 2.8% (0.4 to 5.3%); the two point opposite ways. Short against Bare: Bare is better, made up. Rests on indirect evidence: no trial of the file compares two such arms.",
      "protocol | prescription | weeks | averagePercent | averageLowPercent | averageHighPercent | newGroupLowPercent | newGroupHighPercent | personLowPercent | personHighPercent | overFirstLogRatio | overFirstLow | overFirstHigh | probabilityBetterThanFirst",
      "Long | 4 x 30 s at 60%, rest 90 s, 3/week, 12 weeks, long, knee | 12 | 4.21 | 1.11 | 7.31 | -2.39 | 11.61 | -8.69 | 21.91 | null | null | null | null",
      "Short | 4 x 6 x 3 s at 95%, 2/week, 10 weeks, middle, knee | 10 | 2.71 | 0.61 | 4.91 | -3.09 | 8.21 | -9.29 | 18.61 | -0.0159 | -0.0402 | 0.009 | 0.126",
      "Bare | 5 x 20 s at 50%, 9 weeks | 9 | 1.31 | 0.21 | 2.61 | -3.69 | 6.11 | -10.39 | 15.71 | -0.0276 | -0.0516 | -0.004 | 0.014",
    ]);
    const gains = axisOf(figure, "comparison: gain axis", "x", { log: true, from: 424, to: 660 });
    const differences = axisOf(figure, "comparison: difference axis", "x", {
      log: true,
      from: 690,
      to: 870,
    });
    const x = (place: number) => gains(place) ?? differences(place);
    expect(seen(figure, "comparison", { x })).toEqual([
      "rows [rect, band]: (0) to (1096) | (26) to (110); (0) to (1096) | (194) to (278)",
      "gain grid [rule, grid] 21 of them: -10 | (29) to (59); -5 | (29) to (59); 15 | (197) to (227); 20 | (197) to (227)",
      "difference grid [rule, grid]: -5 | (110) to (194); 0 | (110) to (194); 5 | (110) to (194); -5 | (194) to (278); 0 | (194) to (278); 5 | (194) to (278)",
      "no change [rule, zero]: 0 | (29) to (59); 0 | (113) to (143); 0 | (197) to (227)",
      "no difference [rule, zero]: 0 | (110) to (194); 0 | (194) to (278)",
      "rests [rule, rest]: (248.6) to (286.5) | (76); (299.1) to (336.9) | (76); (349.5) to (387.4) | (76); (237.3) to (238.5) | (160); (239.8) to (241) | (160); (242.3) to (243.6) | (160); (244.8) to (246.1) | (160); (247.4) to (248.6) | (160)",
      "rests between sets [rule, rest-between-sets] none",
      "holds [rect, hold]: (236) to (248.6) | (55.6) to (76); (286.5) to (299.1) | (55.6) to (76); (336.9) to (349.5) | (55.6) to (76); (387.4) to (400) | (55.6) to (76); (236) to (237.3) | (127.7) to (160); (238.5) to (239.8) | (127.7) to (160); (241) to (242.3) | (127.7) to (160); (243.6) to (244.8) | (127.7) to (160); (246.1) to (247.4) | (127.7) to (160); (248.6) to (249.9) | (127.7) to (160)",
      "holds with intensity not stated [rect, hold-quiet] none",
      "gains, person [rect, range-person]: -8.7 to 21.9 | (41.5) to (46.5); -9.3 to 18.6 | (125.5) to (130.5); -10.4 to 15.7 | (209.5) to (214.5)",
      "gains, group [rect, range-group]: -2.4 to 11.6 | (39) to (49); -3.1 to 8.2 | (123) to (133); -3.7 to 6.1 | (207) to (217)",
      "gains, average [rect, range-average]: 1.1 to 7.3 | (35) to (53); 0.6 to 4.9 | (119) to (137); 0.2 to 2.6 | (203) to (221)",
      "gains, middle [rect, range-tick]: 4.1 to 4.3 | (35) to (53); 2.6 to 2.8 | (119) to (137); 1.2 to 1.4 | (203) to (221)",
      "differences in a new trial [rect, range-group]: -7.7 to 4.8 | (149.5) to (154.5); -8.8 to 3.3 | (233.5) to (238.5)",
      "differences [rect, pooled-bar]: -3.9 to 0.9 | (146) to (158); -5 to -0.4 | (230) to (242)",
      "middle of differences [rect, range-tick]: -1.7 to -1.5 | (146) to (158); -2.8 to -2.6 | (230) to (242)",
      'names [text, text-strong, limit 212]: (8) | (42) "Long"; (8) | (126) "Short"; (8) | (210) "Bare"',
      'prescriptions [text, text-small, limit 212]: (8) | (56) "4 x 30 s at 60%, rest 90 s, 3/week, 12" (4 x 30 s at 60%, rest 90 s, 3/week, 12 weeks, long, knee); (8) | (68) "weeks, long, knee" (4 x 30 s at 60%, rest 90 s, 3/week, 12 weeks, long, knee); (8) | (140) "4 x 6 x 3 s at 95%, 2/week, 10 weeks, middle," (4 x 6 x 3 s at 95%, 2/week, 10 weeks, middle, knee); (8) | (152) "knee" (4 x 6 x 3 s at 95%, 2/week, 10 weeks, middle, knee); (8) | (224) "5 x 20 s at 50%, 9 weeks"',
      'sessions [text, text-small, limit 176]: (236) | (86) "one set, 6 min 30 s; comfortable"; (236) | (170) "one set, 33 s; near the limit"; (236) | (254) "rests or intensity missing; hold not judged"',
      'average numbers [text, text-strong]: (424) | (68) "4.2% (1.1 to 7.3%)"; (424) | (152) "2.7% (0.6 to 4.9%)"; (424) | (236) "1.3% (0.2 to 2.6%)"',
      'other numbers [text, text-small]: (424) | (83) "group −2.4 to 11.6%"; (424) | (97) "person −8.7 to 21.9%"; (424) | (167) "group −3.1 to 8.2%"; (424) | (181) "person −9.3 to 18.6%"; (424) | (251) "group −3.7 to 6.1%"; (424) | (265) "person −10.4 to 15.7%"',
      'difference numbers [text, text-pooled-strong]: (884) | (138) "−1.6% (−3.9 to 0.9%)"; (884) | (222) "−2.7% (−5.0 to −0.4%)"',
      'difference words [text, text-small, limit 208]: (884) | (54) "the one the others are set against"; (884) | (152) "24% that Long gives over 2.5% more"; (884) | (166) "Long is better; direct evidence"; (884) | (236) "56% that Long gives over 2.5% more"; (884) | (250) "cannot be told; direct evidence"',
      'headings [text, text-heading]: (8) | (12) "protocol"; (236) | (12) "session, to scale"; (424) | (12) "gain, 95% ranges"; (690) | (12) "over the first, 95% ranges"',
      'gain axis [text, text-small, align center]: (437.8) | (290) "−10%"; (475.5) | (290) "−5%"; (511.3) | (290) "0%"; (545.3) | (290) "5%"; (577.7) | (290) "10%"; (608.7) | (290) "15%"; (638.3) | (290) "20%"',
      'difference axis [text, text-small, align center]: (747.8) | (290) "−5%"; (805.6) | (290) "0%"; (860.6) | (290) "5%"',
    ]);
  });

  test("narrow, another confidence, no smallest worthwhile difference", () => {
    const figure = comparisonFigure({
      comparison: { ...madeUpComparison, smallestWorthwhilePercent: 0 },
      prepared: madeUpReady,
      timelines,
      layout: "narrow",
      confidence: 0.9,
      id: "x",
    });
    expectSoundFigure(figure);
    expect(toldBy(figure).slice(0, 3)).toEqual([
      "Side by side: size [x]",
      'drawn as [["Side by side: size"],["3 protocols, against no exercise"]]',
      "Sessions to one time scale (whole session), intensity up. Gains: the darkest bar is the average over such studies with its middle cut out, the next a new group, the thin one a single person, each holding 90%. Differences are from the first protocol: the thick bar is the average, the thin one what a new trial would show; they are ratios of end scores, and surer than the gains look beside each other, since what two protocols share cancels. One is called better from 90% on. All pairs stand in the table.",
    ]);
    expect(seen(figure, "comparison")).toEqual([
      "rows [rect, band]: (0) to (372) | (8) to (222); (0) to (372) | (514) to (806)",
      "gain grid [rule, grid] 21 of them: (28.9) | (126) to (148); (85.7) | (126) to (148); (286.6) | (632) to (654); (331.3) | (632) to (654)",
      "difference grid [rule, grid]: (50.8) | (425) to (441); (98.8) | (425) to (441); (145.7) | (425) to (441); (191.7) | (425) to (441); (236.7) | (425) to (441); (280.9) | (425) to (441); (324.2) | (425) to (441); (50.8) | (717) to (733); (98.8) | (717) to (733); (145.7) | (717) to (733); (191.7) | (717) to (733); (236.7) | (717) to (733); (280.9) | (717) to (733); (324.2) | (717) to (733)",
      "no change [rule, zero]: (139.6) | (126) to (148); (139.6) | (340) to (362); (139.6) | (632) to (654)",
      "no difference [rule, zero]: (236.7) | (425) to (441); (236.7) | (717) to (733)",
      "rests [rule, rest] 23 of them: (29.7) to (94.8) | (92); (116.5) to (181.7) | (92); (355.3) to (357.5) | (306); (359.7) to (361.8) | (306)",
      "rests between sets [rule, rest-between-sets]: (31.9) to (118.7) | (306); (142.6) to (229.4) | (306); (253.3) to (340.1) | (306)",
      "holds [rect, hold] 28 of them: (8) to (29.7) | (74) to (92); (94.8) to (116.5) | (74) to (92); (357.5) to (359.7) | (277.5) to (306); (361.8) to (364) | (277.5) to (306)",
      "holds with intensity not stated [rect, hold-quiet] none",
      "gains, person [rect, range-person]: (43.9) to (347.8) | (134.5) to (139.5); (37) to (319) | (348.5) to (353.5); (24.2) to (292.9) | (640.5) to (645.5)",
      "gains, group [rect, range-group]: (114.1) to (255) | (132) to (142); (106.5) to (222.5) | (346) to (356); (100) to (201.9) | (638) to (648)",
      "gains, average [rect, range-average]: (151.1) to (213.7) | (128) to (146); (145.9) to (189.9) | (342) to (360); (141.7) to (166.6) | (634) to (652)",
      "gains, middle [rect, range-tick]: (182) to (183.8) | (128) to (146); (166.7) to (168.5) | (342) to (360); (152.3) to (154.1) | (634) to (652)",
      "differences in a new trial [rect, range-group]: (58.9) to (341.7) | (430.5) to (435.5); (30.3) to (309.2) | (722.5) to (727.5)",
      "differences [rect, pooled-bar]: (147.1) to (256.9) | (428) to (438); (121.6) to (227.8) | (720) to (730)",
      "middle of differences [rect, range-tick]: (200.4) to (202.2) | (428) to (438); (174.2) to (176) | (720) to (730)",
      'names [text, text-strong, limit 356]: (8) | (22) "Long"; (8) | (236) "Short"; (8) | (528) "Bare"',
      'prescriptions [text, text-small, limit 356]: (8) | (36) "4 x 30 s at 60%, rest 90 s, 3/week, 12 weeks, long, knee"; (8) | (250) "4 x 6 x 3 s at 95%, 2/week, 10 weeks, middle, knee"; (8) | (542) "5 x 20 s at 50%, 9 weeks"',
      'sessions [text, text-small, limit 368]: (8) | (102) "6 min 30 s; comfortable"; (8) | (316) "8 min 12 s; near the limit"; (8) | (608) "rests or intensity missing; hold not judged"',
      'average numbers [text, text-strong]: (8) | (171) "4.2% (1.1 to 7.3%)"; (8) | (385) "2.7% (0.6 to 4.9%)"; (8) | (677) "1.3% (0.2 to 2.6%)"',
      'other numbers [text, text-small]: (8) | (186) "group −2.4 to 11.6%"; (190) | (186) "person −8.7 to 21.9%"; (8) | (400) "group −3.1 to 8.2%"; (190) | (400) "person −9.3 to 18.6%"; (8) | (692) "group −3.7 to 6.1%"; (190) | (692) "person −10.4 to 15.7%"',
      'difference numbers [text, text-pooled-strong]: (8) | (468) "−1.6% (−3.9 to 0.9%)"; (8) | (760) "−2.7% (−5.0 to −0.4%)"',
      'difference words [text, text-small, limit 356]: (8) | (208) "the one the others are set against"; (8) | (482) "24% that Long is better"; (8) | (496) "Long is better; direct evidence"; (8) | (774) "56% that Long is better"; (8) | (788) "cannot be told; direct evidence"',
      'headings [text, text-heading]: (8) | (118) "gain, 90% ranges"; (8) | (332) "gain, 90% ranges"; (8) | (418) "over the first, 90% ranges"; (8) | (624) "gain, 90% ranges"; (8) | (710) "over the first, 90% ranges"',
      'gain axis [text, text-small, align center] 21 of them: (28.9) | (154) "−10%"; (85.7) | (154) "−5%"; (286.6) | (660) "15%"; (331.3) | (660) "20%"',
      'difference axis [text, text-small, align center]: (50.8) | (450) "−8%"; (98.8) | (450) "−6%"; (145.7) | (450) "−4%"; (191.7) | (450) "−2%"; (236.7) | (450) "0%"; (280.9) | (450) "2%"; (324.2) | (450) "4%"; (50.8) | (742) "−8%"; (98.8) | (742) "−6%"; (145.7) | (742) "−4%"; (191.7) | (742) "−2%"; (236.7) | (742) "0%"; (280.9) | (742) "2%"; (324.2) | (742) "4%"',
    ]);
  });
});

describe("a frontier", () => {
  test("wide", () => {
    const figure = frontierFigure({ frontier: madeUpFrontier, prepared: madeUpReady });
    expectSoundFigure(figure);
    expect(toldBy(figure)).toEqual([
      "The most for the time: size [frontier]",
      'drawn as [["The most for the time: size"],["up to 15.5 min a session, 4 a week, 85% of MVC, knee, 12 weeks"]]',
      "Faint dots: 3 candidates that fit the limits, can be held and lie near evidence. Numbered: those for which no other takes less time and gives as much; bars hold 95% of the average over such studies. The best of many is somewhat flattered; a single person's range is far wider than any bar here.",
      "The most for the time: size, up to 15.5 min a session, 4 a week, 85% of MVC, knee, 12 weeks. 1,203 candidates within 15.5 min a session, 4 sessions a week and 85% of MVC: 3 can be held and lie near evidence; 704 take too long, 415 cannot be held, 81 lie outside what was studied. At the short end, 2 x 20 s at 50%, rest 60 s, 2/week, 12 weeks, long, knee takes 3 min 26 s a week and is expected to give 1.5% on average (95% range 0.4 to 2.6%; a single person −6.3 to 10.9%); at the long end, 5 x 30 s at 70%, rest 90 s, 3/week, 12 weeks, long, knee takes 25 min 32 s a week and is expected to give 3.4% on average (95% range 1.3 to 5.7%; a single person −7.2 to 15.4%).",
      "number | protocol | minutesPerSession | minutesPerWeek | canBeHeld | averagePercent | averageLowPercent | averageHighPercent | personLowPercent | personHighPercent | probabilityAddsToPrevious",
      "1 | 2 x 20 s at 50%, rest 60 s, 2/week, 12 weeks, long, knee | 1.72 | 3.44 | comfortable | 1.51 | 0.41 | 2.61 | -6.29 | 10.91 | null",
      "2 | 5 x 30 s at 70%, rest 90 s, 3/week, 12 weeks, long, knee | 8.51 | 25.53 | near the limit | 3.41 | 1.31 | 5.71 | -7.19 | 15.41 | 0.973",
    ]);
    const x = axisOf(figure, "frontier: minutes", "x", { from: 50, to: 550 });
    const y = axisOf(figure, "frontier: levels in words", "y", { log: true });
    expect(seen(figure, "frontier", { x, y })).toEqual([
      "ground [rect, band]: 0 to 26.6 | 6.8 to -1",
      "levels [rule, grid]: 0 to 26.6 | 0; 0 to 26.6 | 1; 0 to 26.6 | 2; 0 to 26.6 | 3; 0 to 26.6 | 4; 0 to 26.6 | 5; 0 to 26.6 | 6",
      "candidates [point, candidate-point]: 3.4 | 1.5; 25.5 | 3.4; 14 | 2.1",
      "no change [rule, zero]: 0 to 26.6 | 0",
      "ranges [rect, range-group]: 3.3 to 3.6 | 2.6 to 0.4; 25.4 to 25.7 | 5.7 to 1.3",
      "frontier [rule, frontier-line]: 3.4 to 25.5 | 1.5; 25.5 | 1.5 to 3.4",
      "points [point, frontier-point]: 3.4 | 1.5 (1: 2 x 20 s at 50%, rest 60 s, 2/week, 12 weeks, long, knee); 25.5 | 3.4 (2: 5 x 30 s at 70%, rest 90 s, 3/week, 12 weeks, long, knee)",
      'numbers [text, text-strong, align center]: 3.4 | 2.8 "1"; 25.5 | 5.9 "2"',
      'levels in words [text, text-small, align right]: (44) | (303.6) "0%"; (44) | (261.4) "1%"; (44) | (219.6) "2%"; (44) | (178.2) "3%"; (44) | (137.2) "4%"; (44) | (96.6) "5%"; (44) | (56.4) "6%"',
      "minute marks [rule, grid]: 0 | -1 to -1.1; 5 | -1 to -1.1; 10 | -1 to -1.1; 15 | -1 to -1.1; 20 | -1 to -1.1; 25 | -1 to -1.1",
      'minutes [text, text-small, align center]: 0 | -1.3 "0"; 5 | -1.3 "5"; 10 | -1.3 "10"; 15 | -1.3 "15"; 20 | -1.3 "20"; 25 | -1.3 "25"',
      'axis names [text, text-heading]: 0 | 7.1 "average gain, against no exercise"; (50) | (377) "minutes a week, rests included"',
      'list heading [text, text-heading]: (584) | (14) "the frontier: average and 95% range"',
      'list numbers [text, text-strong]: (584) | (38) "1"; (584) | (84) "2"',
      'list protocols [text, text-small, limit 308]: (606) | (38) "2 x 20 s at 50%, rest 60 s, 2/week, 12 weeks, long, knee"; (606) | (84) "5 x 30 s at 70%, rest 90 s, 3/week, 12 weeks, long, knee"',
      'list gains [text, text-pooled, limit 308, fontSize 10]: (606) | (51) "1.7 min a session: 1.5% (0.4 to 2.6%)"; (606) | (97) "8.5 min a session: 3.4% (1.3 to 5.7%); 97% that it adds"',
      'list people [text, text-small]: (606) | (64) "a single person −6.3 to 10.9%"; (606) | (110) "a single person −7.2 to 15.4%"',
    ]);
  });

  test("narrow", () => {
    const figure = frontierFigure({
      frontier: madeUpFrontier,
      prepared: madeUpReady,
      layout: "narrow",
      confidence: 0.9,
      id: "x",
    });
    expectSoundFigure(figure);
    expect(toldBy(figure).slice(0, 3)).toEqual([
      "The most for the time: size [x]",
      'drawn as [["The most for the time: size"],["up to 15.5 min a session, 4 a week, 85% of MVC, knee, 12 weeks"]]',
      "Faint dots: 3 candidates that fit the limits, can be held and lie near evidence. Numbered: those for which no other takes less time and gives as much; bars hold 90% of the average over such studies. The best of many is somewhat flattered; a single person's range is far wider than any bar here.",
    ]);
    expect(seen(figure, "frontier")).toEqual([
      "ground [rect, band]: (50) to (360) | (26) to (346)",
      "levels [rule, grid]: (50) to (360) | (303.6); (50) to (360) | (261.4); (50) to (360) | (219.6); (50) to (360) | (178.2); (50) to (360) | (137.2); (50) to (360) | (96.6); (50) to (360) | (56.4)",
      "candidates [point, candidate-point]: (90.2) | (240.4); (348.1) | (161.7); (213.5) | (215.4)",
      "no change [rule, zero]: (50) to (360) | (303.6)",
      "ranges [rect, range-group]: (87.7) to (92.7) | (194.7) to (286.6); (345.6) to (350.6) | (68.4) to (248.8)",
      "frontier [rule, frontier-line]: (90.2) to (348.1) | (240.4); (348.1) | (240.4) to (161.7)",
      "points [point, frontier-point]: (90.2) | (240.4) (1: 2 x 20 s at 50%, rest 60 s, 2/week, 12 weeks, long, knee); (348.1) | (161.7) (2: 5 x 30 s at 70%, rest 90 s, 3/week, 12 weeks, long, knee)",
      'numbers [text, text-strong, align center]: (90.2) | (184.7) "1"; (348.1) | (58.4) "2"',
      'levels in words [text, text-small, align right]: (44) | (303.6) "0%"; (44) | (261.4) "1%"; (44) | (219.6) "2%"; (44) | (178.2) "3%"; (44) | (137.2) "4%"; (44) | (96.6) "5%"; (44) | (56.4) "6%"',
      "minute marks [rule, grid]: (50) | (346) to (350); (166.8) | (346) to (350); (283.5) | (346) to (350)",
      'minutes [text, text-small, align center]: (50) | (359) "0"; (166.8) | (359) "10"; (283.5) | (359) "20"',
      'axis names [text, text-heading]: (50) | (14) "average gain, against no exercise"; (50) | (377) "minutes a week, rests included"',
      'list heading [text, text-heading]: (8) | (408) "the frontier: average and 90% range"',
      'list numbers [text, text-strong]: (8) | (424) "1"; (8) | (470) "2"',
      'list protocols [text, text-small, limit 330]: (30) | (424) "2 x 20 s at 50%, rest 60 s, 2/week, 12 weeks, long, knee"; (30) | (470) "5 x 30 s at 70%, rest 90 s, 3/week, 12 weeks, long, knee"',
      'list gains [text, text-pooled, limit 330, fontSize 10]: (30) | (437) "1.7 min a session: 1.5% (0.4 to 2.6%)"; (30) | (483) "8.5 min a session: 3.4% (1.3 to 5.7%); 97% that it adds"',
      'list people [text, text-small]: (30) | (450) "a single person −6.3 to 10.9%"; (30) | (496) "a single person −7.2 to 15.4%"',
    ]);
  });
});
