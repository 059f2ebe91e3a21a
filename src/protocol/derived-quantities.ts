/**
 * Every quantity that follows from a prescription: counts of holds and sessions, the one hold length and the one
 * effort that stand for it, tension time, torque–time and the length of a session.
 */
import type { Prescription } from "./prescription.js";
import { typicalOf } from "./range-ends.js";

/** Holds in one session: sets × repetitions; of ranges the middle, as everywhere here. */
export const contractionsPerSession = (p: Prescription): number => {
  const { sets, repetitions } = typicalOf(p);
  return sets * repetitions;
};

const weekly = (p: Prescription): number | undefined => typicalOf(p).sessionsPerWeek;

/** Holds in one week, or undefined when the sessions a week are not known. */
export const contractionsPerWeek = (p: Prescription): number | undefined => {
  const sessions = weekly(p);
  return sessions === undefined ? undefined : contractionsPerSession(p) * sessions;
};

/** Sessions in the whole programme, or undefined when weeks or sessions a week are not known. */
export const sessionsInProgramme = (p: Prescription): number | undefined => {
  const { sessionsPerWeek, weeks } = typicalOf(p);
  return sessionsPerWeek === undefined || weeks === undefined ? undefined : sessionsPerWeek * weeks;
};

/** The one hold length that stands for a prescription, s: itself, or the midpoint of a range. */
export const effectiveHoldSeconds = (p: Prescription): number =>
  p.holdSecondsHigh === undefined ? p.holdSeconds : (p.holdSeconds + p.holdSecondsHigh) / 2;

/** Percent of MVC that one step of a 0–10 rating stands for: common practice, no source. */
export const percentPerRatingStep = 10;

/**
 * The one effort that stands for a prescription, percent of MVC at the training angle.
 *
 * A single percentage is itself; a range is its midpoint; a rating is ten times itself (common
 * practice, no source); `maximal effort` without a number is 100. `doseNotes` says which of these
 * was done.
 *
 * @returns percent of MVC, or undefined when no effort is given or it is a percentage of something
 *   that does not convert: a one-repetition maximum, or MVC at another angle
 */
export const effectiveIntensityPercent = (p: Prescription): number | undefined => {
  if (
    p.intensityBasis === "percent of one-repetition maximum" ||
    p.intensityBasis === "percent of MVC at another angle"
  )
    return undefined;
  if (p.effortRating !== undefined)
    return (percentPerRatingStep * (p.effortRating + (p.effortRatingHigh ?? p.effortRating))) / 2;
  if (p.intensityPercent !== undefined)
    return p.intensityPercentHigh === undefined
      ? p.intensityPercent
      : (p.intensityPercent + p.intensityPercentHigh) / 2;
  return p.intensityBasis === "maximal effort" ? 100 : undefined;
};

/** Above this percentage of MVC an effort is called near-maximal: common practice, no source. */
export const nearMaximalAbovePercent = 90;

/**
 * The word for an effort, for labels only; no calculation rests on it.
 *
 * `maximal` when the prescription says so or reaches 100%; `near-maximal` above 90% (common
 * practice, no source); otherwise `submaximal`; undefined when the effort is not known in %MVC.
 */
export const effortLabel = (
  p: Prescription,
): "maximal" | "near-maximal" | "submaximal" | undefined => {
  const intensity = effectiveIntensityPercent(p);
  if (p.intensityBasis === "maximal effort" || (intensity !== undefined && intensity >= 100))
    return "maximal";
  if (intensity === undefined) return undefined;
  return intensity > nearMaximalAbovePercent ? "near-maximal" : "submaximal";
};

// Tension time: seconds under tension, counting the holds and none of the rests. Ramps up to the target are counted
// as hold. A range of hold lengths counts as its midpoint.

/** Tension time in one set, s: repetitions × hold. */
export const tensionTimePerSetSeconds = (p: Prescription): number =>
  typicalOf(p).repetitions * effectiveHoldSeconds(p);

/** Tension time in one session, s: sets × repetitions × hold. */
export const tensionTimePerSessionSeconds = (p: Prescription): number =>
  contractionsPerSession(p) * effectiveHoldSeconds(p);

/** Tension time in one week, s; undefined when the sessions a week are not known. */
export const tensionTimePerWeekSeconds = (p: Prescription): number | undefined => {
  const sessions = weekly(p);
  return sessions === undefined ? undefined : tensionTimePerSessionSeconds(p) * sessions;
};

/** Tension time over the whole programme, s; undefined when its sessions cannot be counted. */
export const tensionTimeProgrammeSeconds = (p: Prescription): number | undefined => {
  const sessions = sessionsInProgramme(p);
  return sessions === undefined ? undefined : tensionTimePerSessionSeconds(p) * sessions;
};

// Torque–time: effort × tension time, in percent of MVC × seconds. It is the relative impulse of the holds were the
// target met exactly; trials that call protocols equal in work mean this.

const times = (p: Prescription, seconds: number | undefined): number | undefined => {
  const intensity = effectiveIntensityPercent(p);
  return intensity === undefined || seconds === undefined ? undefined : intensity * seconds;
};

/** Torque–time of one session, %MVC·s; undefined when the effort is not known in %MVC. */
export const torqueTimePerSession = (p: Prescription): number | undefined =>
  times(p, tensionTimePerSessionSeconds(p));

/** Torque–time of one week, %MVC·s; undefined when effort or sessions a week are not known. */
export const torqueTimePerWeek = (p: Prescription): number | undefined =>
  times(p, tensionTimePerWeekSeconds(p));

/** Torque–time of the whole programme, %MVC·s; undefined when a needed field is not known. */
export const torqueTimeProgramme = (p: Prescription): number | undefined =>
  times(p, tensionTimeProgrammeSeconds(p));

// Near-maximal: the part of the work above 90% of MVC; of a range of intensities, the part of the range.

/** Share of the work that is near-maximal, percent; undefined when the intensity is not known in percent of MVC. */
export const nearMaximalSharePercent = (p: Prescription): number | undefined => {
  const typical = effectiveIntensityPercent(p);
  if (typical === undefined) return undefined;
  const { intensityPercent: low = typical, intensityPercentHigh: high = low } = p;
  if (!(high > low)) return typical > nearMaximalAbovePercent ? 100 : 0;
  return (100 * Math.max(0, high - Math.max(low, nearMaximalAbovePercent))) / (high - low);
};

/** Near-maximal tension time in one session, s: tension time in a session × its near-maximal share. */
export const nearMaximalTimePerSessionSeconds = (p: Prescription): number | undefined => {
  const share = nearMaximalSharePercent(p);
  return share === undefined ? undefined : (tensionTimePerSessionSeconds(p) * share) / 100;
};

/** The rests a session needs to be laid out in time and that this prescription does not give. */
export const missingRests = (
  p: Prescription,
): readonly ("restBetweenRepetitionsSeconds" | "restBetweenSetsSeconds")[] => [
  ...(p.repetitions > 1 && p.restBetweenRepetitionsSeconds === undefined
    ? (["restBetweenRepetitionsSeconds"] as const)
    : []),
  ...(p.sets > 1 && p.restBetweenSetsSeconds === undefined
    ? (["restBetweenSetsSeconds"] as const)
    : []),
];

/**
 * Length of a session, s, from the start of the first hold to the end of the last: no warm-up, and
 * no rest after the last hold.
 *
 * Holds + sets × (repetitions − 1) rests within sets + (sets − 1) rests between sets.
 *
 * @returns seconds, or undefined when a rest that is needed is not known
 */
export const sessionLengthSeconds = (p: Prescription): number | undefined => {
  if (missingRests(p).length > 0) return undefined;
  const one = typicalOf(p);
  return (
    tensionTimePerSessionSeconds(p) +
    one.sets * (one.repetitions - 1) * (one.restBetweenRepetitionsSeconds ?? 0) +
    (one.sets - 1) * (one.restBetweenSetsSeconds ?? 0)
  );
};

/**
 * Duty cycle, 0–1: hold / (hold + the rest that follows it within the set). Where a set is one hold,
 * the rest is the one between sets.
 *
 * @returns a share, or undefined for a single hold (it has no cycle) or when the rest is not known
 */
export const dutyCycle = (p: Prescription): number | undefined => {
  if (contractionsPerSession(p) === 1) return undefined;
  const { repetitions, restBetweenRepetitionsSeconds, restBetweenSetsSeconds } = typicalOf(p);
  const rest = repetitions > 1 ? restBetweenRepetitionsSeconds : restBetweenSetsSeconds;
  const hold = effectiveHoldSeconds(p);
  return rest === undefined ? undefined : hold / (hold + rest);
};

/**
 * Share of the whole session spent under tension, 0–1: tension time / session length, so that rests
 * between sets count too.
 */
export const sessionTensionShare = (p: Prescription): number | undefined => {
  const length = sessionLengthSeconds(p);
  return length === undefined ? undefined : tensionTimePerSessionSeconds(p) / length;
};
