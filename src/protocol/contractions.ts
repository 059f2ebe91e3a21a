import type { Prescription } from "./prescription.js";

/** Holds in one session: sets × repetitions. */
export const contractionsPerSession = (p: Prescription): number => p.sets * p.repetitions;

/** Holds in one week, or undefined when the sessions a week are not known. */
export const contractionsPerWeek = (p: Prescription): number | undefined =>
  p.sessionsPerWeek === undefined ? undefined : contractionsPerSession(p) * p.sessionsPerWeek;

/** Sessions in the whole programme, or undefined when weeks or sessions a week are not known. */
export const sessionsInProgramme = (p: Prescription): number | undefined =>
  p.sessionsPerWeek === undefined || p.weeks === undefined
    ? undefined
    : p.sessionsPerWeek * p.weeks;
