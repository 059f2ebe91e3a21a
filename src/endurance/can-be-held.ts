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
  asMeasured,
  assessmentCases,
  maximalFromPercent,
  maximalIntermittentStudy,
  type AssessmentCases,
  type ParameterSet,
  type TimeFactors,
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

/** From easy to hard; a maximal effort and a session of over an hour have none. */
export const holdGrades = [
  "to spare",
  "hard",
  "most will not finish",
  "not possible as written",
] as const;
export type HoldGrade = (typeof holdGrades)[number];

/** Why a session has no grade. */
export type Ungraded = "maximal" | "over an hour";

/** Capacity left at one time, percent of MVC: for one who tires early, a typical person, one who tires late. */
export type CapacityPoint = Readonly<{
  seconds: number;
  low: number;
  central: number;
  high: number;
}>;

export type HoldAssessment = Readonly<{
  /** Null where `ungraded` says why there is none. */
  grade: HoldGrade | null;
  ungraded?: Ungraded;
  /** Where a typical person runs out; absent when it does not. */
  failsAt?: FailurePoint;
  /** Where the one who tires early, and the one who tires late, run out. */
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
  parameters: ParameterSet;
  /** How long one fresh hold at this intensity lasts, as measured. */
  oneHold: EnduranceTime;
  /** Whether a load is held, a stop is pushed, or it is not said. */
  action: Prescription["action"] | "not said";
  /** How much sooner a held load fails, where the grade has it in: a load held, or an action not said. */
  holding?: HoldingModifier;
  /** Where a range is prescribed: the grade with its low and its high ends. */
  gradeAtLowEnd?: HoldGrade | null;
  gradeAtHighEnd?: HoldGrade | null;
  /** Whether mean load above what was sustained intermittently keeps it from being graded as to spare. */
  aboveCriticalTorque: boolean;
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

/** Sessions longer than this were not measured; they are not judged. */
export const longestJudgedSeconds = 3600;

/** Points of MVC that those who tire early have left where a session is to spare. */
export const sparePoints = 5;

/**
 * The mean load that intermittent work settles at, and the tension time from which it rules.
 *
 * @source Burnley (2009): torque sustained at a duty cycle of 60% was 0.295 of fresh, a mean load of 0.18; five
 *   minutes of it hold 180 s of tension. Quadriceps; taken for every joint.
 */
export const criticalLoad = {
  meanShare:
    (maximalIntermittentStudy.endNewtonMetres / maximalIntermittentStudy.freshNewtonMetres) * 0.6,
  tensionSeconds: 180,
} as const;

/** A session and the cases it is tried on. */
type Trial = Readonly<{
  p: Prescription;
  timeline: readonly TimelinePart[];
  cases: AssessmentCases;
  region: EnduranceRegion;
  fellBack: boolean;
  /** The intensity of its holds, percent of MVC. */
  demandPercent: number;
}>;

/**
 * How long holds last beside the measured curve, by what is done. A stop that is pushed: as measured. A load that is
 * held: by the published ratio, its interval widening the band. Not said: the band of both, the typical case as measured.
 */
const factorsOf = (action: Prescription["action"], spread: number): TimeFactors => {
  if (action === "pushing") return asMeasured;
  const { ratio, low, high } = holdingModifier();
  // Two independent uncertainties, laid together on the logarithm, and taken off the edge the band has already.
  const edge = (band: number, bound: number): number =>
    ratio * Math.exp(Math.sign(band) * Math.hypot(band, Math.log(bound / ratio)) - band);
  const held = {
    low: edge(Math.log1p(-spread), low),
    central: ratio,
    high: Math.min(1, edge(Math.log1p(spread), high)),
  };
  return action === "holding" ? held : { low: held.low, central: 1, high: 1 };
};

const trial = (p: Prescription, options: CanBeHeldOptions): Trial => {
  const timeline = sessionTimeline(p);
  const [first] = timeline;
  const demandPercent = Math.min(first?.intensityPercent ?? 0, 100);
  const { region, fellBack } = regionOf(options.joint ?? p.joint);
  const spread = options.spread ?? canBeHeldDefaults.spread;
  const cases = assessmentCases(demandPercent, region, {
    spread,
    parameters: options.parameters ?? canBeHeldDefaults.parameters,
    factors: demandPercent >= maximalFromPercent ? asMeasured : factorsOf(p.action, spread),
  });
  // From 95% on the load is whatever can be produced.
  const asked = timeline.map((part) =>
    part.kind === "hold" && part.intensityPercent >= maximalFromPercent
      ? { ...part, intensityPercent: 100 }
      : part,
  );
  return { p, timeline: asked, cases, region, fellBack, demandPercent };
};

/** Whether repeated holds load a muscle above what intermittent work was sustained at, for long enough to tell. */
const isAboveCriticalTorque = ({ p, timeline, demandPercent }: Trial): boolean => {
  const [first] = timeline;
  const { repetitions, sets } = p;
  if (first === undefined || contractionsPerSession(p) === 1) return false;
  const hold = first.endSeconds - first.startSeconds;
  const within = p.restBetweenRepetitionsSeconds ?? 0;
  const between = p.restBetweenSetsSeconds ?? 0;
  // Sets with no more rest between them than between holds are one run of work.
  const [rest, count] =
    repetitions === 1
      ? [between, sets]
      : between <= within
        ? [within, repetitions * sets]
        : [within, repetitions];
  return (
    count * hold > criticalLoad.tensionSeconds &&
    ((demandPercent / 100) * hold) / (hold + rest) > criticalLoad.meanShare
  );
};

const ungradedOf = ({ timeline, demandPercent }: Trial): Ungraded | undefined =>
  demandPercent >= maximalFromPercent
    ? "maximal"
    : (timeline.at(-1)?.endSeconds ?? 0) > longestJudgedSeconds
      ? "over an hour"
      : undefined;

/**
 * The grade of a trial. The rule:
 *
 * - *not possible as written*: even those who tire late (the high edge of the band) run out;
 * - *most will not finish*: a typical person runs out;
 * - *to spare*: those who tire early finish with at least five points of MVC left, and repeated holds do not load the
 *   muscle above what intermittent work was sustained at;
 * - *hard*: all between.
 *
 * Null for a maximal effort, which has no load to run out at, and beyond an hour.
 */
const gradeOf = (t: Trial): HoldGrade | null => {
  if (ungradedOf(t) !== undefined) return null;
  const course = (which: "low" | "central" | "high"): SessionCourse =>
    sessionCourse(t.timeline, t.cases[which], { untilFailure: true });
  const low = course("low");
  if (low.failsAt === undefined)
    return low.smallestReservePercent >= sparePoints && !isAboveCriticalTorque(t)
      ? "to spare"
      : "hard";
  if (course("central").failsAt === undefined) return "hard";
  return course("high").failsAt === undefined ? "most will not finish" : "not possible as written";
};

/** The session at one end of its ranges; undefined when it has none. */
const atEnd = (p: Prescription, end: "low" | "high"): Prescription | undefined => {
  const { holdSecondsHigh, intensityPercentHigh, ...rest } = p;
  if (holdSecondsHigh === undefined && intensityPercentHigh === undefined) return undefined;
  return end === "low"
    ? rest
    : {
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
export const holdGrade = (p: Prescription, options: CanBeHeldOptions = {}): HoldGrade | null =>
  gradeOf(trial(p, options));

/** Whether most people finish a session: what has no grade is not ruled out. */
export const mostFinish = (grade: HoldGrade | null): boolean =>
  grade !== "most will not finish" && grade !== "not possible as written";

/**
 * Whether a session can be held, by published endurance times and the fatigue model.
 *
 * The session is run through the three-compartment model three times, each with the fatigue rate at which one fresh
 * hold lasts as long as the measured curve and the edges of its band say (see `assessmentCases`). So the first hold ends
 * when it ends by itself, harder, longer and more is never easier, and more rest is never harder. The grade follows from
 * which of the three runs out (see `gradeOf`): it is a reading of a model of average healthy adults, not of a person.
 *
 * @throws {CallError} when the prescription is unsound, or lacks a rest or an intensity in percent of MVC
 * @source Frey Law & Avin (2010); Frey-Law, Looft & Heitsman (2012); Looft, Herkert & Frey-Law (2018); Burnley (2009);
 *   Schaefer & Bittmann (2017)
 * @example canBeHeld(parsePrescription("4 x 20 s at 70%, rest 60 s, knee, pushing")).grade
 */
export const canBeHeld = (p: Prescription, options: CanBeHeldOptions = {}): HoldAssessment => {
  checkPrescription(p, "canBeHeld");
  const perPart = options.samplesPerPart ?? canBeHeldDefaults.samplesPerPart;
  const t = trial(p, options);
  const course = (which: keyof Courses): SessionCourse =>
    sessionCourse(t.timeline, t.cases[which], { samplesPerPart: perPart });
  const courses = { low: course("low"), central: course("central"), high: course("high") };
  const ungraded = ungradedOf(t);
  const maximal = ungraded === "maximal";
  const [lower, upper] = [atEnd(p, "low"), atEnd(p, "high")];
  const failure = (key: "failsAt" | "failsAtLow" | "failsAtHigh", course: SessionCourse): object =>
    ungraded !== undefined || course.failsAt === undefined ? {} : { [key]: course.failsAt };
  const assessment = {
    grade: gradeOf(t),
    ...(ungraded === undefined ? {} : { ungraded }),
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
    parameters: options.parameters ?? canBeHeldDefaults.parameters,
    oneHold: t.cases.curve,
    action: p.action ?? ("not said" as const),
    ...(p.action === "pushing" || maximal ? {} : { holding: holdingModifier() }),
    ...(lower === undefined || upper === undefined
      ? {}
      : { gradeAtLowEnd: holdGrade(lower, options), gradeAtHighEnd: holdGrade(upper, options) }),
    aboveCriticalTorque: isAboveCriticalTorque(t),
  } satisfies Omit<HoldAssessment, "statements">;
  return { ...assessment, statements: holdStatements(p, assessment) };
};

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
    const m = maximalIntermittentStudy;
    const left = ((100 * m.endNewtonMetres) / m.freshNewtonMetres).toFixed(0);
    add(
      "maximal-repeated-weakness",
      `how fast maximal efforts recover between holds is set so that ${m.contractions} knee extensions of ${m.holdSeconds} s with ${m.restSeconds} s rest leave the ${left}% of fresh torque that was measured (Burnley 2009, n = ${m.participants}); the published rates leave about half`,
    );
  }
  if (a.ungraded === "over an hour")
    add("over-an-hour", "sessions of over an hour were not measured, so this one is not judged");
  if (a.aboveCriticalTorque)
    add(
      "critical-torque",
      `intermittent work at a mean load above ${(100 * criticalLoad.meanShare).toFixed(0)}% of MVC was not sustained for longer than five minutes (Burnley 2009, quadriceps), so the grade is hard at best`,
    );
  if (!a.oneHold.inFittedRange)
    add(
      "below-fitted-range",
      `below ${fittedRangePercent.low}% of MVC the endurance curve is stretched past its data`,
    );
  if (a.holding !== undefined) {
    const { ratio, low, high } = a.holding;
    const published = `a load that is held fails sooner than the same force pushed, after ${ratio.toFixed(2)} of the time (95% interval ${low.toFixed(2)} to ${high.toFixed(2)}; elbow extensors at ${holdingStudy.intensityPercent}%, n = ${holdingStudy.participants}, Schaefer & Bittmann 2017)`;
    if (a.action === "holding") add("holding-modifier", `${published}; the grade has it in`);
    else
      add(
        "action-unknown",
        `it is not said whether a load is held or a stop is pushed, so the band holds both: ${published}`,
      );
  }
  if (a.gradeAtHighEnd !== undefined && a.gradeAtHighEnd !== a.grade)
    add(
      "high-end",
      `at the high end of the prescribed range the grade is ${a.gradeAtHighEnd ?? "none, as the effort is maximal"}`,
    );
  if (a.parameters === "alternative")
    add(
      "alternative-parameters",
      "recovers by the rates of Rakshit 2021, to see how much rests on the choice",
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
