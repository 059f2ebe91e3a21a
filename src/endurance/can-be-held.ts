/**
 * Whether a session can be held: graded, with a band, and with what the answer rests on. Longer than
 * most files because the result is described here field by field.
 */
import type { NoteCode, Note } from "../errors.js";
import { contractionsPerSession } from "../protocol/derived-quantities.js";
import { doseNotes } from "../protocol/dose-notes.js";
import { checkPrescription, type Joint, type Prescription } from "../protocol/prescription.js";
import { sessionTimeline, type TimelinePart } from "../protocol/session-timeline.js";
import {
  assessmentCases,
  preferCurveAbovePercent,
  type AssessmentCases,
  type ParameterSet,
  type WhichCurve,
} from "./assessment-cases.js";
import { enduranceTimeDefaults, fittedRangePercent, type EnduranceTime } from "./endurance-time.js";
import {
  holdingModifier,
  holdingStudy,
  restMultiplierAssumed,
  type HoldingModifier,
} from "./fatigue-parameters.js";
import { regionOf, type EnduranceRegion } from "./regions.js";
import { sessionCourse, type FailurePoint, type SessionCourse } from "./session-course.js";

export const holdGrades = [
  "comfortable",
  "near the limit",
  "beyond what the model allows",
] as const;
export type HoldGrade = (typeof holdGrades)[number];

/** Capacity left at one time, percent of MVC: for one who tires sooner, a typical person, one who tires later. */
export type CapacityPoint = Readonly<{
  seconds: number;
  low: number;
  central: number;
  high: number;
}>;

export type HoldAssessment = Readonly<{
  grade: HoldGrade;
  /** Where a typical person runs out; absent when it does not. */
  failsAt?: FailurePoint;
  /** Where the one who tires sooner, and the one who tires later, run out. */
  failsAtLow?: FailurePoint;
  failsAtHigh?: FailurePoint;
  /** Capacity along the session with its band; the first point is the fresh muscle. */
  capacity: readonly CapacityPoint[];
  /** Least of capacity − load over the ends of the holds, percent of MVC. */
  smallestReservePercent: Readonly<{ low: number; central: number; high: number }>;
  demandPercent: number;
  /** True when the load is whatever can be produced, so that there is no load to fail at. */
  maximal: boolean;
  region: EnduranceRegion;
  /** True when the joint has no curve of its own and the general one stands in. */
  fellBack: boolean;
  whichCurve: WhichCurve;
  parameters: ParameterSet;
  /** How long one fresh hold at this effort lasts by the empirical curve. */
  oneHold: EnduranceTime;
  /** The same by the model, s; null when it lasts for ever. */
  oneHoldModelSeconds: number | null;
  /** Where a range is prescribed: the grade with its high ends. */
  gradeAtHighEnd?: HoldGrade;
  /** When a load is held: the published modifier, and what the grade would be with it. Not applied. */
  holding?: HoldingModifier & Readonly<{ gradeIfApplied: HoldGrade }>;
  statements: readonly Note[];
}>;

export type CanBeHeldOptions = Readonly<{
  /** Joint or region to judge by; the prescription's own joint when left out. */
  joint?: Joint | EnduranceRegion;
  /** Half-width of the band about published endurance times, as a share. */
  spread?: number;
  /** Published set of rates; `alternative` has rates for ankle, knee, elbow and hand only. */
  parameters?: ParameterSet;
  /** Points of the capacity series in each hold and each rest. */
  samplesPerPart?: number;
}>;
export const canBeHeldDefaults = {
  spread: enduranceTimeDefaults.spread,
  parameters: "default",
  samplesPerPart: 4,
} as const satisfies Omit<Required<CanBeHeldOptions>, "joint">;

/** A session and the cases it is tried on. */
type Trial = Readonly<{
  timeline: readonly TimelinePart[];
  cases: AssessmentCases;
  region: EnduranceRegion;
  fellBack: boolean;
  /** The effort of its first hold, percent of MVC. */
  demandPercent: number;
  /** The length of its first hold. */
  holdSeconds: number;
}>;

const trial = (p: Prescription, options: CanBeHeldOptions, timeFactor: number): Trial => {
  const timeline = sessionTimeline(p);
  const [first] = timeline;
  const demandPercent = Math.min(first?.intensityPercent ?? 0, 100);
  const { region, fellBack } = regionOf(options.joint ?? p.joint);
  const cases = assessmentCases(demandPercent, contractionsPerSession(p) === 1, region, {
    spread: options.spread ?? canBeHeldDefaults.spread,
    parameters: options.parameters ?? canBeHeldDefaults.parameters,
    timeFactor,
  });
  const holdSeconds = first === undefined ? 0 : first.endSeconds - first.startSeconds;
  return { timeline, cases, region, fellBack, demandPercent, holdSeconds };
};

/**
 * The grade of a trial. The rule:
 *
 * - *comfortable*: not even the one who tires sooner (the low edge of the band) runs out;
 * - *beyond what the model allows*: even the one who tires later (the high edge) runs out;
 * - *near the limit*: all between, whether a typical person runs out or not.
 *
 * A maximal effort has no load to run out at. It is *near the limit* by its nature, and *beyond* when
 * one hold is longer than the high edge of the empirical curve at 100%.
 */
const gradeOf = (t: Trial): HoldGrade => {
  if (t.demandPercent >= 100)
    return t.holdSeconds > t.cases.curve.highSeconds
      ? "beyond what the model allows"
      : "near the limit";
  const runsOut = (which: "low" | "high"): boolean =>
    sessionCourse(t.timeline, t.cases[which], { untilFailure: true }).failsAt !== undefined;
  if (!runsOut("low")) return "comfortable";
  return runsOut("high") ? "beyond what the model allows" : "near the limit";
};

/** The high ends of a prescription's ranges; undefined when it has none. */
const highEnd = (p: Prescription): Prescription | undefined => {
  const { holdSecondsHigh, intensityPercentHigh, ...rest } = p;
  if (holdSecondsHigh === undefined && intensityPercentHigh === undefined) return undefined;
  return {
    ...rest,
    ...(holdSecondsHigh === undefined ? {} : { holdSeconds: holdSecondsHigh }),
    ...(intensityPercentHigh === undefined ? {} : { intensityPercent: intensityPercentHigh }),
  };
};

type Courses = Readonly<Record<"low" | "central" | "high", SessionCourse>>;

const capacitySeries = (
  timeline: readonly TimelinePart[],
  courses: Courses,
  perPart: number,
): readonly CapacityPoint[] => [
  { seconds: 0, low: 100, central: 100, high: 100 },
  ...timeline.flatMap((part, index) =>
    Array.from({ length: perPart }, (_, sample): CapacityPoint => {
      const place = index * perPart + sample;
      const share = (sample + 1) / perPart;
      return {
        seconds: part.startSeconds + (part.endSeconds - part.startSeconds) * share,
        low: courses.low.samplesPercent[place] ?? NaN,
        central: courses.central.samplesPercent[place] ?? NaN,
        high: courses.high.samplesPercent[place] ?? NaN,
      };
    }),
  ),
];

/** The grade alone, for searches and sliders. */
export const holdGrade = (p: Prescription, options: CanBeHeldOptions = {}): HoldGrade =>
  gradeOf(trial(p, options, 1));

/**
 * Whether a session can be held, by published endurance times and the fatigue model.
 *
 * The session is run through the three-compartment model three times: on published rates, and on
 * rates set so that one fresh hold lasts as long as the edges of the published band of endurance times
 * (see `assessmentCases`). The grade follows from which of the three runs out (see `gradeOf`): it is
 * a reading of a model of average healthy adults, not of a person.
 *
 * @throws CallError when the prescription is unsound, or lacks a rest or an effort in %MVC
 * @source Frey Law & Avin (2010); Frey-Law, Looft & Heitsman (2012); Looft, Herkert & Frey-Law (2018)
 * @example canBeHeld(parsePrescription("4 x 20 s at 70%, rest 60 s, knee")).grade
 */
export const canBeHeld = (p: Prescription, options: CanBeHeldOptions = {}): HoldAssessment => {
  checkPrescription(p, "canBeHeld");
  const perPart = options.samplesPerPart ?? canBeHeldDefaults.samplesPerPart;
  const t = trial(p, options, 1);
  const course = (which: keyof Courses): SessionCourse =>
    sessionCourse(t.timeline, t.cases[which], { samplesPerPart: perPart });
  const courses = { low: course("low"), central: course("central"), high: course("high") };
  const maximal = t.demandPercent >= 100;
  const grade = gradeOf(t);
  const upper = highEnd(p);
  const modifier = p.action === "holding" && !maximal ? holdingModifier() : undefined;
  const failure = (key: "failsAt" | "failsAtLow" | "failsAtHigh", course: SessionCourse): object =>
    maximal || course.failsAt === undefined ? {} : { [key]: course.failsAt };
  const assessment = {
    grade,
    ...failure("failsAt", courses.central),
    ...failure("failsAtLow", courses.low),
    ...failure("failsAtHigh", courses.high),
    capacity: capacitySeries(t.timeline, courses, perPart),
    smallestReservePercent: {
      low: courses.low.smallestReservePercent,
      central: courses.central.smallestReservePercent,
      high: courses.high.smallestReservePercent,
    },
    demandPercent: t.demandPercent,
    maximal,
    region: t.region,
    fellBack: t.fellBack,
    whichCurve: t.cases.whichCurve,
    parameters: options.parameters ?? canBeHeldDefaults.parameters,
    oneHold: t.cases.curve,
    oneHoldModelSeconds: Number.isFinite(t.cases.modelSeconds) ? t.cases.modelSeconds : null,
    ...(upper === undefined ? {} : { gradeAtHighEnd: holdGrade(upper, options) }),
    ...(modifier === undefined
      ? {}
      : {
          holding: {
            ...modifier,
            gradeIfApplied: gradeOf(trial(p, options, modifier.ratio)),
          },
        }),
  } satisfies Omit<HoldAssessment, "statements">;
  return { ...assessment, statements: holdStatements(p, assessment) };
};

const seconds = (value: number | null): string =>
  value === null ? "for ever" : `${value < 100 ? value.toFixed(1) : value.toFixed(0)} s`;

/**
 * Sixty maximal knee extensions, 3 s on and 2 s off: torque fell to 77.8 of 263.9 N·m.
 *
 * @source Burnley M (2009) J Appl Physiol 106:975–983 (abstract); n = 8 men
 */
export const maximalIntermittentStudy = {
  participants: 8,
  contractions: 60,
  holdSeconds: 3,
  restSeconds: 2,
  freshNewtonMetres: 263.9,
  endNewtonMetres: 77.8,
} as const;

/** The statements that go with an assessment, most general last; the notes on the dose follow them. */
export const holdStatements = (
  p: Prescription,
  a: Omit<HoldAssessment, "statements">,
): readonly Note[] => {
  const notes: Note[] = [];
  const add = (code: NoteCode, message: string): void => {
    notes.push({ code, message });
  };
  if (a.fellBack)
    add(
      "general-curve",
      p.joint === undefined
        ? "no joint is named, so the curve pooled over all joints is used; joints differ several-fold"
        : `there is no published curve for the ${p.joint}; the curve pooled over all joints is used`,
    );
  if (a.maximal)
    add(
      "maximal-effort",
      `a maximal effort has no load to fail at: force falls with what is left, to ${(100 + a.smallestReservePercent.central).toFixed(0)}% of MVC by the weakest hold (${(100 + a.smallestReservePercent.low).toFixed(0)}–${(100 + a.smallestReservePercent.high).toFixed(0)}% over the band)`,
    );
  if (a.maximal && contractionsPerSession(p) > 1) {
    const s = maximalIntermittentStudy;
    const left = ((100 * s.endNewtonMetres) / s.freshNewtonMetres).toFixed(0);
    add(
      "maximal-repeated-weakness",
      `repeated maximal efforts cost more than the model says: ${s.contractions} knee extensions of ${s.holdSeconds} s with ${s.restSeconds} s rest left ${left}% of fresh torque (Burnley 2009, n = ${s.participants}), and the model leaves about half`,
    );
  }
  if (a.demandPercent > preferCurveAbovePercent && !a.maximal)
    add(
      "high-effort-weakness",
      a.whichCurve === "endurance-time curve"
        ? `above ${preferCurveAbovePercent}% of MVC the model is known to fail too soon (here ${seconds(a.oneHoldModelSeconds)}), so this single hold is judged by measured endurance times (${seconds(a.oneHold.centralSeconds)})`
        : `above ${preferCurveAbovePercent}% of MVC the model is known to fail too soon: it gives one fresh hold ${seconds(a.oneHoldModelSeconds)}, measured endurance times ${seconds(a.oneHold.centralSeconds)}; repeated holds may be better tolerated than the line of a typical person says`,
    );
  if (!a.oneHold.inFittedRange)
    add(
      "below-fitted-range",
      `below ${fittedRangePercent.low}% of MVC the endurance curve is stretched past its data`,
    );
  if (a.holding !== undefined)
    add(
      "holding-modifier",
      `a load that is held fails sooner than the same force pushed: ${a.holding.ratio.toFixed(2)} of the time (95% interval ${a.holding.low.toFixed(2)}–${a.holding.high.toFixed(2)}; elbow extensors at ${holdingStudy.intensityPercent}%, n = ${holdingStudy.participants}, Schaefer & Bittmann 2017); not applied here, and with it the grade would be ${a.holding.gradeIfApplied}`,
    );
  else if (p.action === undefined && !a.maximal)
    add(
      "action-unknown",
      "it is not said whether a load is held or a stop is pushed; a held load fails sooner",
    );
  if (a.gradeAtHighEnd !== undefined && a.gradeAtHighEnd !== a.grade)
    add("high-end", `at the high end of the prescribed range the grade is ${a.gradeAtHighEnd}`);
  if (a.parameters === "alternative")
    add(
      "alternative-parameters",
      "run on the rates of Rakshit 2021 to see how much rests on the choice; their endurance times stray from the measured ones",
    );
  else if (restMultiplierAssumed.includes(a.region) && contractionsPerSession(p) > 1)
    add(
      "rest-multiplier-assumed",
      `how fast the ${a.region === "general" ? "general" : a.region} set recovers at rest was never fitted; 15 times the rate under load is assumed, as for ankle, knee and elbow`,
    );
  add(
    "band",
    "the band is the published 29–47% about measured endurance times, taken at its wide end; it is about groups in studies, and single people spread further",
  );
  add(
    "no-person-terms",
    "curve and model describe healthy adults of 18–50 years on average: they have no term for training, age, sex or muscle length",
  );
  return [...notes, ...doseNotes(p)];
};
