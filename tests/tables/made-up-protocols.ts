/** A projection, a comparison and a frontier made up so that no two numbers in them are the same. */
import type {
  ComparedProtocol,
  ProtocolComparison,
} from "../../src/projection/compare-protocols.js";
import type { Frontier } from "../../src/projection/explore-protocols.js";
import type { ReadyProjection } from "../../src/projection/prepare-projection.js";
import type { Projection, Support } from "../../src/projection/project-protocol.js";
import { parsePrescription } from "../../src/protocol/written-form.js";
import { rangeOfPercent } from "./all-different.js";

export const madeUpSupport: Support = {
  nearArms: 3,
  nearStudies: 2,
  nearPeople: 47,
  nearest: [
    {
      study: "Elm 2011",
      arm: "long holds",
      citation: "Elm A (2011) J Made Up",
      doi: "10.1/elm",
      lines: [12, 15],
      participants: 19,
      distance: 0.72,
      written: "4 x 30 s at 60%",
      meanEffect: Math.log(1.083),
    },
    {
      study: "Oak 2014",
      arm: "Oak 2014 short holds",
      citation: "Oak B (2014)",
      lines: [31],
      participants: 28,
      distance: 1.44,
      meanEffect: Math.log(0.951),
    },
  ],
  priorSensitivity: { halved: 3.7, doubled: 4.9 },
  extrapolates: false,
  reasons: [],
};

export const madeUpReady = {
  kind: "ready",
  goal: "size",
  contrast: "against-control",
  contrastWords: "trained arm over its control",
  individual: {
    points: [],
    deviation: Math.log(1.041),
    interval: { low: Math.log(1.022), high: Math.log(1.064) },
    comparisons: 6,
    source: "the file's trained and control arms",
  },
  measurement: { deviation: Math.log(1.027), source: "test–retest of Ash 2001" },
  courseIsIdentified: true,
  weeksStudied: { low: 5, high: 16, usual: 11 },
  effects: 34,
  studies: 9,
  people: 211,
  notes: [
    { code: "one-time", message: "all tests stand at one week" },
    { code: "few-studies", message: "few studies" },
  ],
} as unknown as ReadyProjection;

const written = "4 x 30 s at 60%, rest 90 s, 3/week, 12 weeks, long, knee";

export const madeUpProjection: Projection = {
  kind: "projection",
  goal: "size",
  prescription: parsePrescription(written),
  written,
  weeks: 12,
  ranges: {
    average: { ...rangeOfPercent(1.1, 4.2, 7.3, 0.981), probabilityWorthwhile: 0.713 },
    newGroup: { ...rangeOfPercent(-2.4, 4.5, 11.6, 0.862), probabilityWorthwhile: 0.594 },
    person: { ...rangeOfPercent(-8.7, 4.8, 21.9, 0.743), probabilityWorthwhile: 0.465 },
  },
  course: [
    {
      weeks: 0,
      studied: false,
      average: rangeOfPercent(0, 0, 0),
      newGroup: rangeOfPercent(0, 0, 0),
      person: rangeOfPercent(0, 0, 0),
    },
    {
      weeks: 3,
      studied: false,
      average: rangeOfPercent(0.3, 1.4, 2.5),
      newGroup: rangeOfPercent(-1.6, 1.7, 3.8),
      person: rangeOfPercent(-5.2, 1.9, 9.1),
    },
    {
      weeks: 8,
      studied: true,
      average: rangeOfPercent(0.7, 3.2, 5.4),
      newGroup: rangeOfPercent(-2.1, 3.5, 8.8),
      person: rangeOfPercent(-7.9, 3.9, 17.5),
    },
    {
      weeks: 18,
      studied: false,
      average: rangeOfPercent(1.2, 5.1, 9.4),
      newGroup: rangeOfPercent(-3.3, 5.6, 14.7),
      person: rangeOfPercent(-9.8, 5.9, 25.2),
    },
  ],
  support: madeUpSupport,
  parts: {
    moved: ["intensity", "tension time in a session"],
    still: [
      { name: "hold length", label: "hold length", why: "seldom coded", reason: "made up" },
      { name: "frequency", label: "sessions a week", why: "all alike", reason: "all arms have 3" },
      { name: "muscle length", label: "muscle length", why: "seldom coded", reason: "made up" },
      { name: "build-up", label: "build-up of force", why: "follows from others", reason: "" },
    ],
    stillWhy: "made up; and why",
    ofProtocol: true,
  },
  assumed: [{ code: "assumption", message: "the joint is not said" }],
  notes: [],
};

const compared = (
  name: string,
  form: string,
  weeks: number,
  ranges: Projection["ranges"],
  others: Partial<ComparedProtocol>,
): ComparedProtocol => ({
  name,
  prescription: parsePrescription(form),
  written: form,
  projection: { ...madeUpProjection, written: form, weeks, ranges },
  feasibility: { kind: "not judged", needs: ["rest"] },
  tensionTimeSeconds: 0,
  soreness: [],
  ...others,
});

const judged = (
  grade: string | null,
  maximal: boolean,
  smallestReservePercent: Readonly<{ low: number; central: number; high: number }>,
): ComparedProtocol["feasibility"] =>
  ({
    kind: "judged",
    assessment: { grade, maximal, smallestReservePercent },
  }) as unknown as ComparedProtocol["feasibility"];

export const madeUpComparison: ProtocolComparison = {
  kind: "comparison",
  goal: "size",
  smallestWorthwhilePercent: 2.5,
  notes: [],
  protocols: [
    compared("Long", written, 12, madeUpProjection.ranges, {
      feasibility: judged("to spare", false, { low: 13, central: 24, high: 35 }),
      sessionSeconds: 390,
      tensionTimeSeconds: 120.04,
      torqueTime: 7200.4,
    }),
    compared(
      "Short",
      "4 x 6 x 3 s at 95%, 2/week, 10 weeks, middle, knee",
      10,
      {
        average: rangeOfPercent(0.6, 2.7, 4.9),
        newGroup: rangeOfPercent(-3.1, 2.9, 8.2),
        person: rangeOfPercent(-9.3, 3.4, 18.6),
      },
      {
        feasibility: judged(null, true, { low: 1, central: 2, high: 3 }),
        sessionSeconds: 511,
        tensionTimeSeconds: 72,
      },
    ),
    compared(
      "Bare",
      "5 x 20 s at 50%, 9 weeks",
      9,
      {
        average: rangeOfPercent(0.2, 1.3, 2.6),
        newGroup: rangeOfPercent(-3.7, 1.8, 6.1),
        person: rangeOfPercent(-10.4, 2.2, 15.7),
      },
      { tensionTimeSeconds: 100 },
    ),
  ],
  differences: [
    {
      first: 0,
      second: 1,
      average: rangeOfPercent(-0.9, 1.6, 4.1),
      newTrial: rangeOfPercent(-4.6, 1.7, 8.3),
      probabilityFirstBetter: 0.874,
      probabilityFirstWorthwhile: 0.235,
      probabilitySecondWorthwhile: 0.016,
      probabilityWithin: 0.749,
      toldApart: true,
      unseen: [],
      verdict: {
        call: "first is better",
        short: "Long is better",
        words: "Long is better, made up",
      },
      headToHead: {
        trials: [
          {
            study: "Elm 2011",
            citation: "Elm A (2011)",
            doi: "10.1/elm",
            lines: [12],
            firstArm: "long holds",
            secondArm: "short holds",
            firstDistance: 0.52,
            secondDistance: 1.33,
            estimate: Math.log(1.031),
            standardError: 0.02,
            interval: { low: Math.log(0.992), high: Math.log(1.072) },
            readings: 4,
          },
          {
            study: "Oak 2014",
            citation: "Oak B (2014)",
            lines: [31],
            firstArm: "slow",
            secondArm: "fast",
            firstDistance: 0.91,
            secondDistance: 1.78,
            estimate: Math.log(1.013),
            standardError: 0.03,
            interval: { low: Math.log(0.954), high: Math.log(1.076) },
            readings: 2,
          },
        ],
        pooled: {
          estimate: Math.log(1.024),
          interval: { low: Math.log(0.983), high: Math.log(1.067) },
          method: "two trials weighed by their variances",
        },
      },
      evidence: "head-to-head trials and the model",
    },
    {
      first: 0,
      second: 2,
      average: rangeOfPercent(0.4, 2.8, 5.3),
      newTrial: rangeOfPercent(-3.2, 3.1, 9.7),
      probabilityFirstBetter: 0.986,
      probabilityFirstWorthwhile: 0.557,
      probabilitySecondWorthwhile: 0.003,
      probabilityWithin: 0.442,
      toldApart: true,
      unseen: [],
      verdict: { call: "tie", short: "cannot be told", words: "cannot be told, made up" },
      headToHead: {
        trials: [
          {
            study: "Fir 1999",
            citation: "Fir C (1999)",
            lines: [7],
            firstArm: "x",
            secondArm: "y",
            firstDistance: 1.12,
            secondDistance: 0.23,
            estimate: Math.log(0.971),
            standardError: 0.01,
            interval: { low: Math.log(0.953), high: Math.log(0.989) },
            readings: 1,
          },
        ],
        pooled: {
          estimate: Math.log(0.971),
          interval: { low: Math.log(0.953), high: Math.log(0.989) },
          method: "one trial",
        },
      },
      evidence: "head-to-head trials and the model",
    },
    {
      first: 1,
      second: 2,
      average: rangeOfPercent(-1.4, 1.2, 3.6),
      newTrial: rangeOfPercent(-5.8, 1.5, 7.7),
      probabilityFirstBetter: 0.795,
      probabilityFirstWorthwhile: 0.144,
      probabilitySecondWorthwhile: 0.028,
      probabilityWithin: 0.828,
      toldApart: true,
      unseen: [],
      verdict: {
        call: "second is better",
        short: "Bare is better",
        words: "Bare is better, made up",
      },
      headToHead: { trials: [] },
      evidence: "indirect: no trial compares two such arms",
    },
  ],
};

const point = (
  form: string,
  minutesPerSession: number,
  minutesPerWeek: number,
  ranges: Projection["ranges"],
): Frontier["points"][number] => ({
  prescription: parsePrescription(form),
  written: form,
  minutesPerSession,
  minutesPerWeek,
  grade: "to spare",
  projection: { ...madeUpProjection, written: form, ranges },
});

export const madeUpFrontier: Frontier = {
  kind: "frontier",
  goal: "size",
  limits: {
    minutesPerSession: 15.5,
    sessionsPerWeek: 4,
    effortCeilingPercent: 85,
    weeks: 12,
    joint: "knee",
  },
  points: [
    point("2 x 20 s at 50%, rest 60 s, 2/week, 12 weeks, long, knee", 1.72, 3.44, {
      average: rangeOfPercent(0.4, 1.5, 2.6),
      newGroup: rangeOfPercent(-2.2, 1.6, 4.7),
      person: rangeOfPercent(-6.3, 1.8, 10.9),
    }),
    {
      ...point("5 x 30 s at 70%, rest 90 s, 3/week, 12 weeks, long, knee", 8.51, 25.53, {
        average: rangeOfPercent(1.3, 3.4, 5.7),
        newGroup: rangeOfPercent(-1.9, 3.6, 8.1),
        person: rangeOfPercent(-7.2, 3.8, 15.4),
      }),
      grade: "hard",
      overPrevious: { difference: rangeOfPercent(0.2, 1.9, 3.1), probabilityBetter: 0.973 },
    },
  ],
  candidates: [
    { minutesPerWeek: 3.44, expectedPercent: 1.5, written: "a" },
    { minutesPerWeek: 25.53, expectedPercent: 3.4, written: "b" },
    { minutesPerWeek: 14, expectedPercent: 2.1, written: "c" },
  ],
  tried: 1203,
  excluded: { tooLong: 704, cannotBeHeld: 415, notSupported: 81 },
  notes: [{ code: "best-of-many", message: "the best of many is flattered" }],
};
