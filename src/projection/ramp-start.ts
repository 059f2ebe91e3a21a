/**
 * Where a working-up begins, how large its steps may be for each kind of person, and the prescription of a week. Longer
 * than most files because numbers and levels are read together.
 */
import {
  effectiveHoldSeconds,
  effectiveIntensityPercent,
  nearMaximalAbovePercent,
} from "../protocol/derived-quantities.js";
import type { Prescription } from "../protocol/prescription.js";

export const rampFroms = ["deconditioned", "returning after injury", "trained"] as const;
/** Where the person is now. It is a choice of the user's, not a finding about anybody. */
export type RampFrom = (typeof rampFroms)[number];

/** The numbers a working-up is made with; each can be changed. */
export type RampRule = Readonly<{
  /** Effort of the first week, percent of MVC, unless the target is lower. */
  startEffortPercent: number;
  /** Share of the target's holds (sets where there are several, else repetitions) to begin with. */
  startHoldsShare: number;
  /** Share of the target's hold length to begin with; short holds begin as they are. */
  startHoldLengthShare: number;
  /** Largest rise of effort from one week to the next, points of MVC. */
  largestEffortStepPercent: number;
  /** Largest rise of torque–time from one week to the next, as a share. */
  largestWeeklyRise: number;
  /** Step of the joint angle towards the target's, degrees. */
  angleStepDegrees: number;
}>;

/** Holds shorter than this are not shortened further at the start, s. Chosen here, no source. */
export const shortestShortenedHoldSeconds = 10;

/** The same for everybody: common practice, no source. */
const common = { largestWeeklyRise: 0.15, angleStepDegrees: 10 } as const;

/** The rule for each kind of person: chosen here, no source. */
export const rampRules: Readonly<Record<RampFrom, RampRule>> = {
  deconditioned: {
    startEffortPercent: 40,
    startHoldsShare: 0.5,
    startHoldLengthShare: 0.5,
    largestEffortStepPercent: 15,
    ...common,
  },
  "returning after injury": {
    startEffortPercent: 30,
    startHoldsShare: 0.5,
    startHoldLengthShare: 0.5,
    largestEffortStepPercent: 10,
    ...common,
  },
  trained: {
    startEffortPercent: 60,
    startHoldsShare: 0.75,
    startHoldLengthShare: 1,
    largestEffortStepPercent: 20,
    ...common,
  },
};

/** The work of one session. */
export type Work = Readonly<{
  sets: number;
  repetitions: number;
  holdSeconds: number;
  effortPercent: number;
}>;

/** A week of the way: what its sessions are. */
export type RampLevel = Readonly<{
  /** The sessions near the middle of the range; all sessions once the target's length is reached. */
  main: Work;
  sessionsPerWeek: number | undefined;
  atTargetLength: boolean;
  /** Sessions that alternate with them at long length: how many, and how many angle steps on. */
  long?: Work & Readonly<{ sessions: number; step: number }>;
  /** False while force is built up slowly on the way to a faster intent or to failure. */
  withTargetIntent: boolean;
}>;

/** Intents that come last: until then force is ramped up and sustained. */
const lateIntents: readonly string[] = ["as fast as possible", "to failure"];

/** The level of the target itself; the effort must be known in percent of MVC. */
export const targetLevel = (target: Prescription): RampLevel => ({
  main: {
    sets: target.sets,
    repetitions: target.repetitions,
    holdSeconds: effectiveHoldSeconds(target),
    effortPercent: effectiveIntensityPercent(target) ?? 0,
  },
  sessionsPerWeek: target.sessionsPerWeek,
  atTargetLength: true,
  withTargetIntent: true,
});

/** The level of the first week: never above the target's in anything. */
export const startLevel = (
  target: Prescription,
  from: RampFrom | Prescription,
  rule: RampRule,
): RampLevel => {
  const goal = targetLevel(target);
  const { main } = goal;
  const fewer = (holds: number): number => Math.max(1, Math.ceil(holds * rule.startHoldsShare));
  const grain = main.holdSeconds >= 30 ? 5 : 1;
  const shortened = Math.max(
    grain,
    Math.round((main.holdSeconds * rule.startHoldLengthShare) / grain) * grain,
  );
  const own = typeof from === "string" ? undefined : from;
  const start: Work =
    own === undefined
      ? {
          sets: main.sets > 1 ? fewer(main.sets) : 1,
          repetitions: main.sets > 1 ? main.repetitions : fewer(main.repetitions),
          holdSeconds:
            main.holdSeconds < shortestShortenedHoldSeconds ? main.holdSeconds : shortened,
          effortPercent: Math.min(rule.startEffortPercent, nearMaximalAbovePercent),
        }
      : targetLevel(own).main;
  const capped: Work = {
    sets: Math.min(main.sets, start.sets),
    repetitions: Math.min(main.repetitions, start.repetitions),
    holdSeconds: Math.min(main.holdSeconds, start.holdSeconds),
    effortPercent: Math.min(main.effortPercent, start.effortPercent),
  };
  return {
    main: own === undefined ? capped : asMuchAs(start, capped, main),
    sessionsPerWeek:
      goal.sessionsPerWeek === undefined
        ? undefined
        : Math.min(goal.sessionsPerWeek, own?.sessionsPerWeek ?? goal.sessionsPerWeek),
    // Middle and short lengths need no approach; one who trains at the target's length is there.
    atTargetLength: target.muscleLength !== "long" || own?.muscleLength === "long",
    withTargetIntent: !lateIntents.includes(target.effortIntent ?? ""),
  };
};

/** Shorter holds than are done now, but as many as make up the same time under tension, as far as the target has them. */
const asMuchAs = (now: Work, capped: Work, goal: Work): Work => {
  const time = ({ sets, repetitions, holdSeconds }: Work): number =>
    sets * repetitions * holdSeconds;
  const fits = (work: Work): boolean => time(work) <= time(now);
  let work = capped;
  for (;;) {
    const more = [
      { ...work, repetitions: work.repetitions + 1 },
      { ...work, sets: work.sets + 1 },
    ].find((next) => next.repetitions <= goal.repetitions && next.sets <= goal.sets && fits(next));
    if (more === undefined) return work;
    work = more;
  }
};

/**
 * Angle near the middle of the range where a start names none, degrees of flexion: knee as in trials of middle length; the
 * elbow's strongest angle, which is 90° counted from either end.
 *
 * @source elbow: Allen TJ and others, Journal of Applied Physiology (abstract); facts of trials, not of a person
 */
const middleAngles: Partial<Record<NonNullable<Prescription["joint"]>, number>> = {
  knee: 60,
  elbow: 90,
};
/** Steps from the middle to the target's length where angles are not known. */
const stepsWithoutAngles = 3;

/** The way from the middle of the range to the target's length, in steps; every angle of the target has its own. */
export type AngleWay = Readonly<{ steps: number; middle?: number; targets?: readonly number[] }>;
export const angleWay = (
  target: Prescription,
  from: RampFrom | Prescription,
  rule: RampRule,
  greatest = Infinity,
): AngleWay => {
  const { joint, trainingAngleDegrees: targets } = target;
  const own = typeof from === "string" ? undefined : from.trainingAngleDegrees;
  const usual = own?.length === 1 ? own[0] : joint === undefined ? undefined : middleAngles[joint];
  if (targets === undefined || usual === undefined) return { steps: stepsWithoutAngles };
  // One who cannot bend as far as the middle begins where they can.
  const middle = Math.min(usual, greatest);
  const furthest = Math.max(...targets.map((angle) => Math.abs(angle - middle)));
  return { steps: Math.max(1, Math.ceil(furthest / rule.angleStepDegrees)), middle, targets };
};

/** The angles after some steps; undefined where angles are not known. */
export const anglesAt = (
  { steps, middle, targets }: AngleWay,
  step: number,
): readonly number[] | undefined =>
  middle === undefined || targets === undefined
    ? undefined
    : [...new Set(targets.map((angle) => Math.round(middle + ((angle - middle) * step) / steps)))];

/**
 * The prescription of one week. At the target's own levels it is the target, without its number of
 * weeks; on the way there a range of efforts or holds stands as one number, and the training angle
 * waits for the muscle length it belongs to.
 */
export const prescriptionAt = (
  target: Prescription,
  level: Work,
  place: Readonly<{
    sessionsPerWeek: number | undefined;
    atTargetLength: boolean;
    withTargetIntent: boolean;
    /** Its angles; none where it waits for the target's, which it has where this is left out. */
    angles?: readonly number[] | undefined;
  }>,
): Prescription => {
  const { main: goal } = targetLevel(target);
  const {
    weeks: _weeks,
    holdSeconds,
    holdSecondsHigh,
    intensityPercent,
    intensityPercentHigh,
    effortRating,
    intensityBasis,
    restBetweenRepetitionsSeconds,
    restBetweenSetsSeconds,
    sessionsPerWeek: _sessions,
    muscleLength,
    trainingAngleDegrees,
    effortIntent,
    ...rest
  } = target;
  const atEffort = level.effortPercent === goal.effortPercent;
  const basisOnTheWay =
    intensityBasis === "maximal effort" ? "percent of MVC at the training angle" : intensityBasis;
  const optional = <Key extends keyof Prescription>(
    key: Key,
    value: Prescription[Key],
    wanted = true,
  ): Partial<Prescription> => (value === undefined || !wanted ? {} : { [key]: value });
  const effort: Partial<Prescription> = atEffort
    ? {
        ...optional("intensityPercent", intensityPercent),
        ...optional("intensityPercentHigh", intensityPercentHigh),
        ...optional("effortRating", effortRating),
        ...optional("intensityBasis", intensityBasis),
      }
    : effortRating === undefined
      ? {
          intensityPercent: level.effortPercent,
          ...optional("intensityBasis", basisOnTheWay),
        }
      : {
          effortRating: Number((level.effortPercent / 10).toFixed(3)),
          ...optional("intensityBasis", intensityBasis),
        };
  const atHold = level.holdSeconds === goal.holdSeconds;
  return {
    ...rest,
    sets: level.sets,
    repetitions: level.repetitions,
    holdSeconds: atHold ? holdSeconds : level.holdSeconds,
    ...optional("holdSecondsHigh", holdSecondsHigh, atHold),
    ...effort,
    ...optional(
      "restBetweenRepetitionsSeconds",
      restBetweenRepetitionsSeconds,
      level.repetitions > 1 || target.repetitions === 1,
    ),
    ...optional(
      "restBetweenSetsSeconds",
      restBetweenSetsSeconds,
      level.sets > 1 || target.sets === 1,
    ),
    ...optional("sessionsPerWeek", place.sessionsPerWeek),
    ...optional("muscleLength", place.atTargetLength ? muscleLength : "middle"),
    ...optional(
      "trainingAngleDegrees",
      place.angles ?? trainingAngleDegrees,
      place.angles === undefined ? place.atTargetLength : place.angles.length > 0,
    ),
    ...optional("effortIntent", place.withTargetIntent ? effortIntent : "ramped and sustained"),
  };
};
