/**
 * Tension time: seconds under tension, counting the holds and none of the rests. Ramps up to the
 * target are counted as hold. A range of hold lengths counts as its midpoint.
 */
import { contractionsPerSession, sessionsInProgramme } from "./contractions.js";
import { effectiveHoldSeconds } from "./effective-hold.js";
import type { Prescription } from "./prescription.js";

/** Tension time in one set, s: repetitions × hold. */
export const tensionTimePerSetSeconds = (p: Prescription): number =>
  p.repetitions * effectiveHoldSeconds(p);

/** Tension time in one session, s: sets × repetitions × hold. */
export const tensionTimePerSessionSeconds = (p: Prescription): number =>
  contractionsPerSession(p) * effectiveHoldSeconds(p);

/** Tension time in one week, s; undefined when the sessions a week are not known. */
export const tensionTimePerWeekSeconds = (p: Prescription): number | undefined =>
  p.sessionsPerWeek === undefined ? undefined : tensionTimePerSessionSeconds(p) * p.sessionsPerWeek;

/** Tension time over the whole programme, s; undefined when its sessions cannot be counted. */
export const tensionTimeProgrammeSeconds = (p: Prescription): number | undefined => {
  const sessions = sessionsInProgramme(p);
  return sessions === undefined ? undefined : tensionTimePerSessionSeconds(p) * sessions;
};
