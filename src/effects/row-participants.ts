import type { Note } from "../errors.js";
import type { OutcomeRow } from "../records/outcome-row.js";
import type { Refusal } from "./refusal.js";
import { rowNote } from "./refusal.js";

/**
 * People behind a row's numbers: those measured, else those at the start, with a note.
 *
 * @param row  any row
 * @returns participants (at least 2) and notes, or why the row cannot be used
 * @source none: convention of this project
 */
export const rowParticipants = (
  row: OutcomeRow,
): Readonly<{ participants: number; notes: readonly Note[] }> | Refusal => {
  const participants = row.nEnd ?? row.nStart;
  if (participants === undefined) return { refused: "how many people were measured is not given" };
  if (!Number.isInteger(participants) || participants < 2) {
    return { refused: `at least two people are needed, and the row gives ${participants}` };
  }
  const notes: Note[] = [];
  if (row.nEnd === undefined) {
    notes.push(
      rowNote(
        row,
        "people-at-start",
        `only the people at the start are given (${participants}); they are taken as measured`,
      ),
    );
  } else if (row.nStart !== undefined && row.nStart > row.nEnd) {
    notes.push(
      rowNote(
        row,
        "people-lost",
        `${row.nStart} people started and ${row.nEnd} were measured; the numbers are taken as of those measured`,
      ),
    );
  }
  return { participants, notes };
};
