import { contractionsPerSession } from "./contractions.js";
import { effectiveHoldSeconds } from "./effective-hold.js";
import type { Prescription } from "./prescription.js";
import { tensionTimePerSessionSeconds } from "./tension-time.js";

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
export const sessionLengthSeconds = (p: Prescription): number | undefined =>
  missingRests(p).length > 0
    ? undefined
    : tensionTimePerSessionSeconds(p) +
      p.sets * (p.repetitions - 1) * (p.restBetweenRepetitionsSeconds ?? 0) +
      (p.sets - 1) * (p.restBetweenSetsSeconds ?? 0);

/**
 * Duty cycle, 0–1: hold / (hold + the rest that follows it within the set). Where a set is one hold,
 * the rest is the one between sets.
 *
 * @returns a share, or undefined for a single hold (it has no cycle) or when the rest is not known
 */
export const dutyCycle = (p: Prescription): number | undefined => {
  if (contractionsPerSession(p) === 1) return undefined;
  const rest = p.repetitions > 1 ? p.restBetweenRepetitionsSeconds : p.restBetweenSetsSeconds;
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
