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
import type { Figure } from "../../src/figures/figure.js";
import { encoded, toldBy } from "./drawn.js";
import { expectSoundFigure, rowsOf } from "./figure-checks.js";

/** Rows of the chart: what each is called, its range and middle on the axis, its mark and its words. */
const rows = (figure: Figure): readonly string[] => {
  type Range = Readonly<
    Record<"label" | "kind" | "word" | "stands", string> &
      Record<"from" | "estimate" | "to", number>
  >;
  return (rowsOf(figure, "ranges") as unknown as readonly Range[]).map(
    ({ label, from, estimate, to, kind, stands, word }) =>
      `${label} | ${[from, estimate, to].map((value) => Number(value.toFixed(3))).join(" ")} | ${[kind, stands].filter(Boolean).join(", ")} | ${word}`,
  );
};

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
    expectSoundFigure(figure);
    expect([...toldBy(figure), ...rows(figure)]).toEqual([
      "Strength at equal tension time: longer minus shorter holds, 2.5% (0.4 to 4.6). [equal-tension-hold-length-strength]",
      'drawn as [["Strength at equal tension time: longer minus shorter holds, 2.5% (0.4 to 4.6)."],["2 pairs of arms from 2 studies, each with the same tension time within 12%; torque. The average is of 1 pair (all pairs, 1 study). A further study like these is expected between −5.8 and 11.3%."]]',
      "A row a pair: how much more the arm with the longer holds gained than the other arm of its study, with its 90% interval, the middle cut out. Hollow: listed, and not in the average. Sessions: whole sessions, the longer above the shorter; height is intensity; blank where rests or intensity are not coded. a: also differs in rest. b: follows from other pairs of its study; not in the average.",
      "Strength at equal tension time: longer minus shorter holds, 2.5% (0.4 to 4.6). 2 pairs of arms from 2 studies, each with the same tension time within 12%; torque. The average is of 1 pair (all pairs, 1 study). A further study like these is expected between −5.8 and 11.3%.",
      "study | outcome | moreArm | lessArm | moreHoldSeconds | lessHoldSeconds | moreIntensityPercent | lessIntensityPercent | moreTotal | lessTotal | totalOver | estimate | low | high | shownEstimate | averaged | alsoDiffer",
      "Elm | torque (60°) | Elm long | Elm short | 30 | 5 | 61 | 62 | 722 | 705 | week | 0.0325 | -0.0243 | 0.0871 | 3.3 | yes | rest",
      "Oak | torque (90°) | Oak long | Oak short | 20 | 4 | 71 | 72 | 613 | 608 | session | -0.0171 | -0.0921 | 0.0545 | -1.7 | no | ",
      "Average over such studies | 0.4 2.5 4.6 | average, in the average | 2.5% (0.4 to 4.6)",
      "Elm: 30 s for 5 s, 60° | -2.4 3.3 9.1 | a pair of arms, in the average | 3.3% (−2.4 to 9.1) a",
      "Oak: 20 s for 4 s, 90° | -8.8 -1.7 5.6 | a pair of arms, listed only | −1.7% (−8.8 to 5.6) b",
    ]);
    expect(encoded(figure, "sessions: rests", "sessions: holds")).toEqual([
      "sessions: rests: 30 to 90 | 27.7; 5 to 10 | 36.5; 15 to 20 | 36.5; 25 to 30 | 36.5; 35 to 40 | 36.5; 45 to 50 | 36.5; 55 to 60 | 36.5; 65 to 70 | 36.5; 75 to 80 | 36.5; 85 to 90 | 36.5; 95 to 100 | 36.5; 105 to 110 | 36.5",
      "sessions: holds: 0 to 30 | 23.3 to 27.7; 90 to 120 | 23.3 to 27.7; 0 to 5 | 32 to 36.5; 10 to 15 | 32 to 36.5; 20 to 25 | 32 to 36.5; 30 to 35 | 32 to 36.5; 40 to 45 | 32 to 36.5; 50 to 55 | 32 to 36.5; 60 to 65 | 32 to 36.5; 70 to 75 | 32 to 36.5; 80 to 85 | 32 to 36.5; 90 to 95 | 32 to 36.5; 100 to 105 | 32 to 36.5; 110 to 115 | 32 to 36.5",
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
    expectSoundFigure(figure);
    expect([...toldBy(figure), ...rows(figure)]).toEqual([
      "Strength at equal tension time: no average of higher minus lower intensity. [equal-tension-intensity-strength]",
      'drawn as [["Strength at equal tension time: no average of higher minus lower intensity."],["2 pairs of arms from 2 studies, each with the same tension time within 12%; torque. No average: one study."]]',
      "A row a pair: how much more the arm with the higher intensity gained than the other arm of its study, with its 90% interval, the middle cut out. a: also differs in rest. b: follows from other pairs of its study; not in the average.",
      "Strength at equal tension time: no average of higher minus lower intensity. 2 pairs of arms from 2 studies, each with the same tension time within 12%; torque. No average: one study.",
      "study | outcome | moreArm | lessArm | moreHoldSeconds | lessHoldSeconds | moreIntensityPercent | lessIntensityPercent | moreTotal | lessTotal | totalOver | estimate | low | high | shownEstimate | averaged | alsoDiffer",
      "Elm | torque (60°) | Elm long | Elm short | 30 | 5 | 61 | 62 | 722 | 705 | week | 0.0325 | -0.0243 | 0.0871 | 0.0325 | yes | rest",
      "Oak | torque (90°) | Oak long | Oak short | 20 | 4 | 71 | 72 | 613 | 608 | session | -0.0171 | -0.0921 | 0.0545 | -0.0171 | no | ",
      "Elm: 61% for 62%, 60° | -0.024 0.032 0.087 | a pair of arms | 0.03 (−0.02 to 0.09) a",
      "Oak: 71% for 72%, 90° | -0.092 -0.017 0.054 | a pair of arms | −0.02 (−0.09 to 0.05) b",
    ]);
  });
});
