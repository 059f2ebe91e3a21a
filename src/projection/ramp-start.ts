/** Where a working-up begins and how large its steps may be, for each kind of person. */
import {
  effectiveHoldSeconds,
  effectiveIntensityPercent,
  nearMaximalAbovePercent,
} from "../protocol/derived-quantities.js";
import type { Prescription } from "../protocol/prescription.js";

export const rampFroms = ["deconditioned", "returning after injury", "trained"] as const;
/** Where the person is now. It is a choice of the user's, not a finding about anybody. */
export type RampFrom = (typeof rampFroms)[number];

/**
 * The numbers a working-up is made with. That one begins at middle length and moderate effort and
 * changes one thing at a time is common practice; the numbers themselves are chosen here and have no
 * source, so each can be changed.
 */
export type RampRule = Readonly<{
  /** Effort of the first week, percent of MVC, unless the target is lower. */
  startEffortPercent: number;
  /** Share of the target's holds (sets where there are several, else repetitions) to begin with. */
  startHoldsShare: number;
  /** Share of the target's hold length to begin with; short holds begin as they are. */
  startHoldLengthShare: number;
  /** Sessions a week to begin with, unless the target has fewer. */
  startSessionsPerWeek: number;
  /** Effort at which a short or long muscle length is first taken up, unless the target is lower. */
  effortBeforeLengthPercent: number;
  /** Largest rise of effort from one week to the next, points of MVC. */
  largestEffortStepPercent: number;
  /** Largest rise of holds or of hold length in a week, as a share of the target's. */
  largestVolumeStepShare: number;
}>;

/** Holds shorter than this are not shortened further at the start, s. Chosen here, no source. */
export const shortestShortenedHoldSeconds = 10;

/** The rule for each kind of person: chosen here, no source. */
export const rampRules: Readonly<Record<RampFrom, RampRule>> = {
  deconditioned: {
    startEffortPercent: 40,
    startHoldsShare: 0.5,
    startHoldLengthShare: 0.5,
    startSessionsPerWeek: 2,
    effortBeforeLengthPercent: 75,
    largestEffortStepPercent: 15,
    largestVolumeStepShare: 0.25,
  },
  "returning after injury": {
    startEffortPercent: 30,
    startHoldsShare: 0.5,
    startHoldLengthShare: 0.5,
    startSessionsPerWeek: 2,
    effortBeforeLengthPercent: 60,
    largestEffortStepPercent: 10,
    largestVolumeStepShare: 0.25,
  },
  trained: {
    startEffortPercent: 60,
    startHoldsShare: 0.75,
    startHoldLengthShare: 1,
    startSessionsPerWeek: 3,
    effortBeforeLengthPercent: 75,
    largestEffortStepPercent: 20,
    largestVolumeStepShare: 0.5,
  },
};

/** How far each variable has come. */
export type RampLevel = Readonly<{
  sets: number;
  repetitions: number;
  holdSeconds: number;
  sessionsPerWeek: number | undefined;
  effortPercent: number;
  /** False while the muscle is held at middle length on the way to another. */
  atTargetLength: boolean;
  /** False while force is built up slowly on the way to a faster intent or to failure. */
  withTargetIntent: boolean;
}>;

/** Intents that come last: until then force is ramped up and sustained. */
const lateIntents: readonly string[] = ["as fast as possible", "to failure"];

/** The levels of the target itself; the effort must be known in percent of MVC. */
export const targetLevel = (target: Prescription): RampLevel => ({
  sets: target.sets,
  repetitions: target.repetitions,
  holdSeconds: effectiveHoldSeconds(target),
  sessionsPerWeek: target.sessionsPerWeek,
  effortPercent: effectiveIntensityPercent(target) ?? 0,
  atTargetLength: true,
  withTargetIntent: true,
});

/** The levels of the first week: never above the target's in anything. */
export const startLevel = (target: Prescription, rule: RampRule): RampLevel => {
  const goal = targetLevel(target);
  const fewer = (holds: number): number => Math.max(1, Math.ceil(holds * rule.startHoldsShare));
  const grain = goal.holdSeconds >= 30 ? 5 : 1;
  const shortened = Math.max(
    grain,
    Math.round((goal.holdSeconds * rule.startHoldLengthShare) / grain) * grain,
  );
  return {
    sets: goal.sets > 1 ? fewer(goal.sets) : 1,
    repetitions: goal.sets > 1 ? goal.repetitions : fewer(goal.repetitions),
    holdSeconds:
      goal.holdSeconds < shortestShortenedHoldSeconds
        ? goal.holdSeconds
        : Math.min(goal.holdSeconds, shortened),
    sessionsPerWeek:
      goal.sessionsPerWeek === undefined
        ? undefined
        : Math.min(goal.sessionsPerWeek, rule.startSessionsPerWeek),
    effortPercent: Math.min(goal.effortPercent, rule.startEffortPercent, nearMaximalAbovePercent),
    atTargetLength: target.muscleLength === undefined || target.muscleLength === "middle",
    withTargetIntent: !lateIntents.includes(target.effortIntent ?? ""),
  };
};

/**
 * The prescription of one week. At the target's own levels it is the target, without its number of
 * weeks; on the way there a range of efforts or holds stands as one number, and the training angle
 * waits for the muscle length it belongs to.
 */
export const prescriptionAtLevel = (target: Prescription, level: RampLevel): Prescription => {
  const goal = targetLevel(target);
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
    ...optional("sessionsPerWeek", level.sessionsPerWeek),
    ...optional("muscleLength", level.atTargetLength ? muscleLength : "middle"),
    ...optional("trainingAngleDegrees", trainingAngleDegrees, level.atTargetLength),
    ...optional("effortIntent", level.withTargetIntent ? effortIntent : "ramped and sustained"),
  };
};
