/** Sessions that trials of a file trained, written as a coach writes them. */
import { judgedSession } from "../answers/session.js";
import { isTraining } from "../effects/match-comparator.js";
import { writePrescription } from "../protocol/write-prescription.js";
import type { Prescription } from "../protocol/prescription.js";
import { typicalOf } from "../protocol/range-ends.js";
import type { OutcomeRow } from "../records/outcome-row.js";
import { prescriptionOf } from "../records/prescription-of.js";

export type TrainedSession = Readonly<{
  study: string;
  arm: string;
  line: number;
  written: string;
  /** Whether it asks for all a person has, so that no grade can be given. */
  maximal: boolean;
  people: number;
}>;

/** The session of a row with one number for every range; undefined where it cannot be laid out in time. */
const sessionOf = (row: OutcomeRow): TrainedSession | undefined => {
  const given = prescriptionOf(row);
  if (given === undefined) return undefined;
  const one: Prescription = typicalOf(given);
  const { timeline, assessment } = judgedSession(one);
  if (timeline === undefined || timeline.length < 3) return undefined;
  return {
    study: row.study,
    arm: row.arm,
    line: row.line,
    written: writePrescription(one),
    maximal: assessment === undefined || assessment.maximal,
    people: row.nEnd ?? row.nStart ?? 0,
  };
};

/**
 * Every session of several holds that can be laid out; each once.
 *
 * @param wanted lines of the rows spoken about: their sessions come first, then those of most people
 */
export const trainedSessions = (
  rows: readonly OutcomeRow[],
  wanted: readonly number[],
): readonly TrainedSession[] => {
  const first = new Set(wanted);
  const found = new Map<string, TrainedSession>();
  for (const row of [...rows].sort(
    (a, b) => Number(first.has(b.line)) - Number(first.has(a.line)),
  )) {
    const session = isTraining(row) ? sessionOf(row) : undefined;
    if (session !== undefined && !found.has(session.written)) found.set(session.written, session);
  }
  const rank = ({ line, people }: TrainedSession): number => (first.has(line) ? 1e6 : 0) + people;
  return [...found.values()].sort((a, b) => rank(b) - rank(a));
};
