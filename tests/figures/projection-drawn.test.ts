/**
 * Kind of evidence: made-up inputs in which no two numbers agree. What is drawn is read off the specification in the units
 * of its axes, weeks, minutes, seconds and percent, and traced to the input by hand.
 */
import { describe, expect, test } from "vitest";
import { comparisonFigure } from "../../src/figures/comparison-figure.js";
import type { Figure } from "../../src/figures/figure.js";
import { roomOf } from "../../src/figures/frame.js";
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
import { encoded, toldBy } from "./drawn.js";
import { expectSoundFigure } from "./figure-checks.js";

const session = (text: string) => sessionTimeline(parsePrescription(text));
const long = session("4 x 30 s at 60%, rest 90 s");
const short = session("4 x (6 x 3 s) at 95%, rests 3 s and 120 s");

const sound = (figure: Figure): Figure => {
  expectSoundFigure(figure);
  return figure;
};

describe("a projection", () => {
  test("on a page, with its session and a name", () => {
    const figure = sound(
      projectionFigure({
        projection: madeUpProjection,
        prepared: madeUpReady,
        timeline: long,
        name: "Long",
      }),
    );
    expect(toldBy(figure)).toEqual([
      "Size after 12 weeks: 4.2% (1.1 to 7.3%) on average; a single person −8.7 to 21.9%. [projection]",
      'drawn as [["Size after 12 weeks: 4.2% (1.1 to 7.3%) on average; a single person −8.7 to 21.9%."],["Long: 4 x 30 s at 60%, rest 90 s, 3/week, 12 weeks, long, knee."]]',
      "Three ranges around one middle, each holding 95%: filled, the average over such studies; tinted, a new group's mean; outlined, what a single person of such a group would measure, test error included. Tests stand between 5 and 16 weeks; broken edges outside. Above: the session to scale, 6 min 30 s, intensity up. About groups and people like those studied; a forecast for nobody.",
      "Long: 4 x 30 s at 60%, rest 90 s, 3/week, 12 weeks, long, knee. Size after 12 weeks of this protocol, against no exercise: such studies average 4.2% (95% range 1.1 to 7.3%), a new group is expected within −2.4 to 11.6%, a single person within −8.7 to 21.9%; this lies inside what was studied, with 3 arms (47 people) near it.",
      "weeks | studied | averagePercent | averageLowPercent | averageHighPercent | newGroupPercent | newGroupLowPercent | newGroupHighPercent | personPercent | personLowPercent | personHighPercent",
      "0 | no | 0.01 | 0.01 | 0.01 | 0.01 | 0.01 | 0.01 | 0.01 | 0.01 | 0.01",
      "3 | no | 1.41 | 0.31 | 2.51 | 1.71 | -1.59 | 3.81 | 1.91 | -5.19 | 9.11",
      "8 | yes | 3.21 | 0.71 | 5.41 | 3.51 | -2.09 | 8.81 | 3.91 | -7.89 | 17.51",
      "18 | no | 5.11 | 1.21 | 9.41 | 5.61 | -3.29 | 14.71 | 5.91 | -9.79 | 25.21",
    ]);
    const kinds = ["the average", "a new group", "a single person"];
    expect(
      encoded(
        figure,
        "projection: no change",
        ...kinds.map((kind) => `projection: ${kind}, weeks with tests`),
        ...kinds.map((kind) => `projection: ${kind}, weeks without tests`),
        "projection: middle, weeks with tests",
        "projection: middle, weeks without tests",
        "projection: studied",
        "numbers: heading",
        "numbers: body",
        "numbers: pooled-strong",
        "session: session",
      ),
    ).toEqual([
      "projection: no change: 0 to 18 | 0",
      "projection: the average, weeks with tests: 5 | 3.7 to 0.5 the average; 8 | 5.4 to 0.7 the average; 16 | 8.6 to 1.1 the average",
      "projection: a new group, weeks with tests: 5 | 5.8 to -1.8 a new group; 8 | 8.8 to -2.1 a new group; 16 | 13.5 to -3.1 a new group",
      "projection: a single person, weeks with tests: 5 | 12.4 to -6.3 a single person; 8 | 17.5 to -7.9 a single person; 16 | 23.6 to -9.4 a single person",
      "projection: the average, weeks without tests: 0 | 0 low 0; 3 | 0.3 low 0; 5 | 0.5 low 0; 0 | 0 high 0; 3 | 2.5 high 0; 5 | 3.7 high 0; 16 | 1.1 low 1; 18 | 1.2 low 1; 16 | 8.6 high 1; 18 | 9.4 high 1",
      "projection: a new group, weeks without tests: 0 | 0 low 0; 3 | -1.6 low 0; 5 | -1.8 low 0; 0 | 0 high 0; 3 | 3.8 high 0; 5 | 5.8 high 0; 16 | -3.1 low 1; 18 | -3.3 low 1; 16 | 13.5 high 1; 18 | 14.7 high 1",
      "projection: a single person, weeks without tests: 0 | 0 low 0; 3 | -5.2 low 0; 5 | -6.3 low 0; 0 | 0 high 0; 3 | 9.1 high 0; 5 | 12.4 high 0; 16 | -9.4 low 1; 18 | -9.8 low 1; 16 | 23.6 high 1; 18 | 25.2 high 1",
      "projection: middle, weeks with tests: 5 | 2.1 middle; 8 | 3.2 middle; 16 | 4.7 middle",
      "projection: middle, weeks without tests: 0 | 0 middle 0; 3 | 1.4 middle 0; 5 | 2.1 middle 0; 16 | 4.7 middle 1; 18 | 5.1 middle 1",
      "projection: studied: 5 to 16 | -11.5 to -10.8",
      'numbers: heading: 28 | 8 "After 12 weeks: middle, 95% range"',
      'numbers: body: 28 | 25 "the average"; 28 | 59 "a new group"; 28 | 93 "a single person"; 28 | 127 "Grey under the axis: tests stand between"; 28 | 144 "5 and 16 weeks."',
      'numbers: pooled-strong: 28 | 42 "4.2% (1.1 to 7.3%)"; 28 | 76 "4.5% (−2.4 to 11.6%)"; 28 | 110 "4.8% (−8.7 to 21.9%)"',
      'session: session: 0 | 38 "the session to scale, 6 min 30 s"',
    ]);
  });

  test("in a column, beyond what was studied, tests at one week", () => {
    const figure = sound(
      projectionFigure(
        {
          projection: {
            ...madeUpProjection,
            weeks: 18,
            support: { ...madeUpSupport, extrapolates: true, reasons: ["longer", "harder"] },
          },
          prepared: { ...madeUpReady, weeksStudied: { low: 8, high: 8, usual: 8 } },
          confidence: 0.8,
          id: "other",
        },
        roomOf("column"),
      ),
    );
    expect(toldBy(figure).slice(0, 4)).toEqual([
      "Size after 18 weeks: 4.2% (1.1 to 7.3%) on average; a single person −8.7 to 21.9%; an extrapolation. [other]",
      'drawn as [["Size after 18 weeks: 4.2% (1.1 to 7.3%) on average; a single person −8.7 to 21.9%; an extrapolation."],["4 x 30 s at 60%, rest 90 s, 3/week, 12 weeks, long, knee."]]',
      "Three ranges around one middle, each holding 80%: filled, the average over such studies; tinted, a new group's mean; outlined, what a single person of such a group would measure, test error included. Tests stand at 8 weeks; broken edges outside. About groups and people like those studied; a forecast for nobody.",
      "4 x 30 s at 60%, rest 90 s, 3/week, 12 weeks, long, knee. Size after 18 weeks of this protocol, against no exercise: such studies average 4.2% (80% range 1.1 to 7.3%), a new group is expected within −2.4 to 11.6%, a single person within −8.7 to 21.9%; this is an extrapolation, with 3 arms (47 people) near it.",
    ]);
    expect(
      encoded(
        figure,
        "projection: the average, weeks with tests",
        "projection: the average, weeks without tests",
        "projection: studied",
        "numbers: heading",
        "numbers: body",
        "numbers: pooled-strong",
      ),
    ).toEqual([
      "projection: the average, weeks with tests: none",
      "projection: the average, weeks without tests: 0 | 0 low 0; 3 | 0.3 low 0; 8 | 0.7 low 0; 0 | 0 high 0; 3 | 2.5 high 0; 8 | 5.4 high 0; 8 | 0.7 low 1; 18 | 1.2 low 1; 8 | 5.4 high 1; 18 | 9.4 high 1",
      "projection: studied: 7.9 to 8.1 | -11.5 to -10.8",
      'numbers: heading: 0 | 8 "After 18 weeks: middle, 80% range"',
      'numbers: body: 0 | 25 "the average"; 0 | 59 "a new group"; 0 | 93 "a single person"',
      'numbers: pooled-strong: 0 | 42 "4.2% (1.1 to 7.3%)"; 0 | 76 "4.5% (−2.4 to 11.6%)"; 0 | 110 "4.8% (−8.7 to 21.9%)"; 0 | 127 "Extrapolation: longer; harder"',
    ]);
  });
});

describe("a comparison", () => {
  const timelines = [long, short, undefined];

  test("on a page: sessions, gains and differences each in their own unit", () => {
    const figure = sound(
      comparisonFigure({ comparison: madeUpComparison, prepared: madeUpReady, timelines }),
    );
    expect(toldBy(figure)).toEqual([
      "Size: 2 of 3 pairs told apart: Long over Short, Bare over Short. [comparison]",
      'drawn as [["Size: 2 of 3 pairs told apart: Long over Short, Bare over Short."],["3 protocols, against no exercise; differences under 2.5% (grey) count as none."]]',
      "Bars hold 95%, with the middle cut out; of a difference the tinted one is what a new trial would show. Differences are ratios of end scores, and surer than the gains look beside each other, since what two protocols share cancels. One is called better from a chance of 90% on. Sessions on one time scale (whole session), intensity up. All pairs stand in the table.",
      "Size: 2 of 3 pairs told apart: Long over Short, Bare over Short. Long (4 x 30 s at 60%, rest 90 s, 3/week, 12 weeks, long, knee): average 4.2% (1.1 to 7.3%), a new group −2.4 to 11.6%, a single person −8.7 to 21.9%; Short (4 x 6 x 3 s at 95%, 2/week, 10 weeks, middle, knee): average 2.7% (0.6 to 4.9%), a new group −3.1 to 8.2%, a single person −9.3 to 18.6%; Bare (5 x 20 s at 50%, 9 weeks): average 1.3% (0.2 to 2.6%), a new group −3.7 to 6.1%, a single person −10.4 to 15.7%. Long against Short: Long is better, made up. Rests on 2 head-to-head trials and the model. Those trials by themselves give 2.4% (−1.7 to 6.7%) for arms that lie 0.5 to 1.8 steps away, the model 1.6% (−0.9 to 4.1%). Long against Bare: cannot be told, made up. Rests on 1 head-to-head trial and the model. That trial by itself gives −2.9% (−4.7 to −1.1%) for arms that lie 0.2 to 1.1 steps away, the model 2.8% (0.4 to 5.3%); the two point opposite ways. Short against Bare: Bare is better, made up. Rests on indirect evidence: no trial of the file compares two such arms.",
      "protocol | prescription | weeks | averagePercent | averageLowPercent | averageHighPercent | newGroupLowPercent | newGroupHighPercent | personLowPercent | personHighPercent | overFirstLogRatio | overFirstLow | overFirstHigh | probabilityBetterThanFirst",
      "Long | 4 x 30 s at 60%, rest 90 s, 3/week, 12 weeks, long, knee | 12 | 4.21 | 1.11 | 7.31 | -2.39 | 11.61 | -8.69 | 21.91 | null | null | null | null",
      "Short | 4 x 6 x 3 s at 95%, 2/week, 10 weeks, middle, knee | 10 | 2.71 | 0.61 | 4.91 | -3.09 | 8.21 | -9.29 | 18.61 | -0.0159 | -0.0402 | 0.009 | 0.126",
      "Bare | 5 x 20 s at 50%, 9 weeks | 9 | 1.31 | 0.21 | 2.61 | -3.69 | 6.11 | -10.39 | 15.71 | -0.0276 | -0.0516 | -0.004 | 0.014",
    ]);
    expect(
      encoded(
        figure,
        "sessions: rests",
        "sessions: strong",
        "sessions: small",
        "gains: ranges",
        "gains: middles",
        "gains: no change",
        "gains: pooled-strong",
        "gains: small",
        "differences: ranges",
        "differences: middles",
        "differences: pooled-strong",
        "differences: small",
        "differences: heading",
      ),
    ).toEqual([
      "sessions: rests: 30 to 120 | 96; 150 to 240 | 96; 270 to 360 | 96; 3 to 6 | 208; 9 to 12 | 208; 15 to 18 | 208; 21 to 24 | 208; 27 to 30 | 208; 156 to 159 | 208; 162 to 165 | 208; 168 to 171 | 208; 174 to 177 | 208; 180 to 183 | 208; 309 to 312 | 208; 315 to 318 | 208; 321 to 324 | 208; 327 to 330 | 208; 333 to 336 | 208; 462 to 465 | 208; 468 to 471 | 208; 474 to 477 | 208; 480 to 483 | 208; 486 to 489 | 208",
      'sessions: strong: 0 | 27 "Long"; 0 | 139 "Short"; 0 | 251 "Bare"',
      'sessions: small: 0 | 41 "4 x 30 s at 60%, rest 90 s, 3/week, 12 weeks,"; 0 | 55 "long, knee"; 0 | 107 "6 min 30 s; to spare"; 0 | 153 "4 x 6 x 3 s at 95%, 2/week, 10 weeks, middle,"; 0 | 167 "knee"; 0 | 219 "8 min 12 s; maximal: no grade"; 0 | 265 "5 x 20 s at 50%, 9 weeks"; 0 | 279 "rests or intensity missing; hold not judged"',
      "gains: ranges: -8.7 to 21.9 | 36 to 58 a single person; -2.4 to 11.6 | 39.1 to 54.9 a new group; 1.1 to 7.3 | 42.4 to 51.6 the average; -9.3 to 18.6 | 148 to 170 a single person; -3.1 to 8.2 | 151.1 to 166.9 a new group; 0.6 to 4.9 | 154.4 to 163.6 the average; -10.4 to 15.7 | 260 to 282 a single person; -3.7 to 6.1 | 263.1 to 278.9 a new group; 0.2 to 2.6 | 266.4 to 275.6 the average",
      "gains: middles: 4.2 | 43.1 to 50.9; 2.7 | 155.1 to 162.9; 1.3 | 267.1 to 274.9",
      "gains: no change: 0 | 34 to 60; 0 | 146 to 172; 0 | 258 to 284",
      'gains: pooled-strong: -11.7 | 27 "4.2% (1.1 to 7.3%)"; -11.7 | 139 "2.7% (0.6 to 4.9%)"; -11.7 | 251 "1.3% (0.2 to 2.6%)"',
      'gains: small: -11.7 | 67 "a new group −2.4 to 11.6%"; -11.7 | 81 "a single person −8.7 to 21.9%"; -11.7 | 179 "a new group −3.1 to 8.2%"; -11.7 | 193 "a single person −9.3 to 18.6%"; -11.7 | 291 "a new group −3.7 to 6.1%"; -11.7 | 305 "a single person −10.4 to 15.7%"',
      "differences: ranges: -7.7 to 4.8 | 151.1 to 166.9 a new group; -3.9 to 0.9 | 154.4 to 163.6 the average; -8.8 to 3.3 | 263.1 to 278.9 a new group; -5 to -0.4 | 266.4 to 275.6 the average",
      "differences: middles: -1.6 | 155.1 to 162.9; -2.7 | 267.1 to 274.9",
      'differences: pooled-strong: -9.4 | 139 "−1.6% (−3.9 to 0.9%)"; -9.4 | 251 "−2.7% (−5.0 to −0.4%)"',
      'differences: small: -9.4 | 27 "the others are set against this one"; -9.4 | 179 "24% that Long gives over 2.5% more"; -9.4 | 193 "Long is better; direct evidence"; -9.4 | 291 "56% that Long gives over 2.5% more"; -9.4 | 305 "cannot be told; direct evidence"',
      'differences: heading: -9.4 | 6 "Each minus Long, 95% ranges"',
    ]);
  });

  test("on a slide, another confidence, no smallest worthwhile difference: sessions make room", () => {
    const figure = sound(
      comparisonFigure(
        {
          comparison: { ...madeUpComparison, smallestWorthwhilePercent: 0 },
          prepared: madeUpReady,
          timelines,
          confidence: 0.9,
          id: "x",
        },
        roomOf("slide"),
      ),
    );
    expect(toldBy(figure).slice(0, 3)).toEqual([
      "Size: 2 of 3 pairs told apart: Long over Short, Bare over Short. [x]",
      'drawn as [["Size: 2 of 3 pairs told apart: Long over Short, Bare over Short."],["3 protocols, against no exercise."]]',
      "Bars hold 90%, with the middle cut out; of a difference the tinted one is what a new trial would show. Differences are ratios of end scores, and surer than the gains look beside each other, since what two protocols share cancels. One is called better from a chance of 90% on. All pairs stand in the table.",
    ]);
    expect(
      encoded(figure, "sessions: rests", "gains: strong", "differences: pooled-strong"),
    ).toEqual([
      "sessions: rests: no such layer",
      'gains: strong: -11.7 | 27 "Long: 4.2% (1.1 to 7.3%)"; -11.7 | 73 "Short: 2.7% (0.6 to 4.9%)"; -11.7 | 119 "Bare: 1.3% (0.2 to 2.6%)"',
      'differences: pooled-strong: -9.4 | 73 "−1.6% (−3.9 to 0.9%): Long is better"; -9.4 | 119 "−2.7% (−5.0 to −0.4%): cannot be told"',
    ]);
  });
});

describe("a frontier", () => {
  test("on a page", () => {
    const figure = sound(frontierFigure({ frontier: madeUpFrontier, prepared: madeUpReady }));
    expect(toldBy(figure)).toEqual([
      "Size: 1.5% for 3 min a week, 3.4% for 26 min, on average. [frontier]",
      'drawn as [["Size: 1.5% for 3 min a week, 3.4% for 26 min, on average."],["Up to 15.5 min a session, 4 a week, 85% of MVC, knee, 12 weeks. All listed: 12 weeks, long, knee."]]',
      "Grey dots: 3 candidates that fit the limits, can be held and lie near evidence. Those above the line take longer than the numbered protocol before them and give hardly more, too little for a step. Numbered: those for which no other takes less time and gives as much; bars hold 95% of the average over such studies. The best of many is somewhat flattered; a single person's range is far wider than any bar here.",
      "Size: 1.5% for 3 min a week, 3.4% for 26 min, on average. Up to 15.5 min a session, 4 a week, 85% of MVC, knee, 12 weeks. 1,203 candidates within 15.5 min a session, 4 sessions a week and 85% of MVC: 3 can be held and lie near evidence; 704 take too long, 415 cannot be held, 81 lie outside what was studied. At the short end, 2 x 20 s at 50%, rest 60 s, 2/week, 12 weeks, long, knee takes 3 min 26 s a week and is expected to give 1.5% on average (95% range 0.4 to 2.6%; a single person −6.3 to 10.9%); at the long end, 5 x 30 s at 70%, rest 90 s, 3/week, 12 weeks, long, knee takes 25 min 32 s a week and is expected to give 3.4% on average (95% range 1.3 to 5.7%; a single person −7.2 to 15.4%).",
      "number | protocol | minutesPerSession | minutesPerWeek | canBeHeld | averagePercent | averageLowPercent | averageHighPercent | personLowPercent | personHighPercent | probabilityAddsToPrevious",
      "1 | 2 x 20 s at 50%, rest 60 s, 2/week, 12 weeks, long, knee | 1.72 | 3.44 | to spare | 1.51 | 0.41 | 2.61 | -6.29 | 10.91 | null",
      "2 | 5 x 30 s at 70%, rest 90 s, 3/week, 12 weeks, long, knee | 8.51 | 25.53 | hard | 3.41 | 1.31 | 5.71 | -7.19 | 15.41 | 0.973",
    ]);
    expect(
      encoded(
        figure,
        "frontier: candidates",
        "frontier: no change",
        "frontier: ranges",
        "frontier: frontier",
        "frontier: points",
        "frontier: numbers",
        "list: heading",
        "list: strong",
        "list: body",
        "list: pooled",
        "list: small",
      ),
    ).toEqual([
      "frontier: candidates: 3.4 | 1.5 other protocols that fit; 25.5 | 3.4 other protocols that fit; 14 | 2.1 other protocols that fit",
      "frontier: no change: 0 to 26.6 | 0",
      "frontier: ranges: 3.3 to 3.6 | 0.4 to 2.6; 25.4 to 25.7 | 1.3 to 5.7",
      "frontier: frontier: 3.4 | 1.5; 25.5 | 1.5; 25.5 | 3.4",
      "frontier: points: 3.4 | 1.5 the most for its time; 25.5 | 3.4 the most for its time",
      'frontier: numbers: 3.4 | 2.8 "1"; 25.5 | 5.9 "2"',
      'list: heading: 18 | 6 "The most for its time: average, 95% range"',
      'list: strong: 18 | 24 "1"; 18 | 73 "2"',
      'list: body: 40 | 24 "2 x 20 s at 50%, rest 60 s, 2/week"; 40 | 73 "5 x 30 s at 70%, rest 90 s, 3/week"',
      'list: pooled: 40 | 38 "1.7 min a session: 1.5% (0.4 to 2.6%)"; 40 | 87 "8.5 min a session: 3.4% (1.3 to 5.7%); 97% that it adds"',
      'list: small: 40 | 52 "a single person −6.3 to 10.9%"; 40 | 101 "a single person −7.2 to 15.4%"',
    ]);
  });

  test("on a slide, another confidence: minutes and gain stand before each protocol", () => {
    const figure = sound(
      frontierFigure(
        { frontier: madeUpFrontier, prepared: madeUpReady, confidence: 0.9, id: "x" },
        roomOf("slide"),
      ),
    );
    expect(toldBy(figure).slice(0, 3)).toEqual([
      "Size: 1.5% for 3 min a week, 3.4% for 26 min, on average. [x]",
      'drawn as [["Size: 1.5% for 3 min a week, 3.4% for 26 min, on average."],["Up to 15.5 min a session, 4 a week, 85% of MVC, knee, 12 weeks. All listed: 12 weeks, long, knee."]]',
      "Grey dots: 3 candidates that fit the limits, can be held and lie near evidence. Those above the line take longer than the numbered protocol before them and give hardly more, too little for a step. Numbered: those for which no other takes less time and gives as much; bars hold 90% of the average over such studies. The best of many is somewhat flattered; a single person's range is far wider than any bar here.",
    ]);
    expect(
      encoded(figure, "list: heading", "list: strong", "list: pooled-strong", "list: small"),
    ).toEqual([
      'list: heading: 18 | 6 "Minutes a session: average gain"',
      'list: strong: 18 | 24 "1"; 18 | 38 "2"',
      'list: pooled-strong: 38 | 24 "1.7: 1.5%"; 38 | 38 "8.5: 3.4%"',
      'list: small: 116 | 24 "2 x 20 s at 50%, rest 60 s, 2/week"; 116 | 38 "5 x 30 s at 70%, rest 90 s, 3/week"',
    ]);
  });
});
