/** Answers about doses made up so that no two numbers in them are the same; only what tables and figures read. */
import type { DoseCurve, NoDoseCurve } from "../../src/dose/dose-response.js";
import { doseAxisOf, type DoseAxisName } from "../../src/dose/dose-axes.js";
import type { Coefficient } from "../../src/synthesis/synthesis-results.js";
import { coefficientOfPercent } from "./all-different.js";

export const axis = (name: DoseAxisName) => doseAxisOf(name);

/** A slope that for `step` units is the percentages given. */
export const slopeOfPercent = (
  step: number,
  percent: readonly [number, number, number],
  others: readonly [number, number, number],
): Coefficient => {
  const { estimate, interval, ...rest } = coefficientOfPercent("slope", percent, others);
  return {
    ...rest,
    estimate: estimate / step,
    interval: { low: interval.low / step, high: interval.high / step },
  };
};

const slope = (...given: Parameters<typeof slopeOfPercent>) => {
  const robust = slopeOfPercent(...given);
  return { kind: "told" as const, robust, model: { ...robust, estimate: 9, p: 0.5 } };
};

const at = (
  dose: number,
  percent: readonly [number, number, number],
  supported = true,
): DoseCurve["curve"][number] => {
  const { estimate, interval } = coefficientOfPercent("", percent, [0.01, 7, 0.5]);
  return {
    dose,
    estimate,
    standardError: 0.01,
    interval,
    simultaneous: coefficientOfPercent(
      "",
      [percent[0] - 0.9, percent[1], percent[2] + 1.3],
      [0, 0, 0],
    ).interval,
    supported,
  };
};

/** Effort from 25 to 95% of MVC, compared from 35 to 85. */
export const madeUpCurve = {
  kind: "told",
  axis: axis("intensityPercent"),
  scale: "log-ratio-of-means",
  contrast: "against-control",
  confidence: 0.95,
  slopes: {
    axis: axis("intensityPercent"),
    confidence: 0.95,
    within: slope(10, [1.2, 2.3, 3.4], [0.001, 5.6, 0.0123]),
    between: slope(10, [-0.7, 1.8, 4.3], [0.002, 8.4, 0.234]),
    difference: slope(10, [-2.6, -0.5, 1.6], [0.003, 3.2, 0.456]),
    notes: [{ code: "n", message: "a doubt about slopes" }],
  },
  support: {
    effects: 33,
    studies: 12,
    lowest: 25,
    highest: 95,
    doses: [
      { dose: 25, arms: 1, studies: 1 },
      { dose: 35, arms: 4, studies: 3 },
      { dose: 60, arms: 11, studies: 8 },
      { dose: 85, arms: 2, studies: 2 },
      { dose: 95, arms: 1, studies: 1 },
    ],
    studiesWithin: 6,
    linked: { low: 35, high: 85, studies: 6, endsCompared: true },
  },
  points: [],
  effects: 33,
  studies: 12,
  people: 401,
  notes: [],
  form: "one-stage",
  evidence: "within studies",
  evidenceWords: "made up",
  range: { low: 35, high: 85 },
  shapes: [
    {
      name: "no effect",
      label: "no effect",
      meaning: "",
      kind: "told",
      logLikelihood: -11.5,
      parameters: 3,
      criterion: 30.25,
      weight: 0.128,
    },
    {
      name: "plateau",
      label: "plateau",
      meaning: "",
      kind: "told",
      logLikelihood: -8.5,
      parameters: 5,
      criterion: 28.1,
      weight: 0.516,
      parameter: {
        label: "half-way dose",
        value: 41,
        text: "half-way dose 41% of MVC",
        atBound: true,
      },
    },
    {
      name: "logarithm",
      label: "logarithm",
      meaning: "",
      kind: "told",
      logLikelihood: -9.25,
      parameters: 4,
      criterion: 28.9,
      weight: 0.356,
      parameter: { label: "shift", value: 2, text: "shift 2% of MVC", atBound: false },
    },
    {
      name: "peak",
      label: "peak",
      meaning: "",
      kind: "refusal",
      code: "x",
      reason: "needs four doses",
    },
  ],
  curve: [
    at(25, [1.5, 3.1, 4.7], false),
    at(35, [2.8, 4.4, 6.2]),
    at(50, [4.6, 6.5, 8.4]),
    at(62, [5.7, 7.9, 9.9]),
    at(85, [6.9, 9.1, 11.3]),
    at(95, [7.1, 9.8, 12.6], false),
  ],
  simultaneousMultiple: 2.9,
  verdict: { verdict: "worth testing", side: "more", reason: "made up" },
  readOffs: {
    best: {
      kind: "told",
      dose: 85,
      gain: at(85, [6.9, 9.1, 11.3]),
      interval: { low: 57, high: 85 },
      drawsWithoutBest: 0,
      atEnd: "highest",
    },
    ninetyPercent: {
      kind: "told",
      share: 0.9,
      dose: 66,
      interval: { low: 48, high: 81 },
      drawsWithoutGain: 0,
    },
    notDistinguishable: [
      { low: 54, high: 59 },
      { low: 74, high: 85 },
    ],
    whole: { from: 35, to: 85, added: { ...at(85, [1.1, 4.9, 8.7]), degreesOfFreedom: 6.2 } },
    steps: [
      { from: 40, to: 50, step: 10, added: at(50, [0.8, 1.7, 2.6]) },
      { from: 70, to: 80, step: 10, added: at(80, [-0.2, 0.6, 1.4]) },
    ],
  },
  twoStage: {
    kind: "told",
    slope: slopeOfPercent(10, [0.9, 2.1, 3.3], [0.004, 4, 0.0345]),
    studies: 5,
    betweenDeviation: 0.1,
  },
} as unknown as DoseCurve;

export const madeUpNoCurve = {
  kind: "refusal",
  axis: axis("holdSeconds"),
  scale: "standardised-mean-difference",
  code: "x",
  reason: "two studies are too few",
  slopes: {
    within: { kind: "refusal", code: "x", reason: "one study compares" },
    between: slope(1, [-1, 1, 2], [0.1, 2.5, 0.5]),
    difference: { kind: "refusal", code: "x", reason: "no slope within" },
    notes: [],
  },
  support: { effects: 4, studies: 2, lowest: 5, highest: 30, doses: [], studiesWithin: 1 },
  points: [],
  notes: [],
} as unknown as NoDoseCurve;
