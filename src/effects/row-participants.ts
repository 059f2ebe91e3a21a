import type { Note } from "../errors.js";
import type { OutcomeRow } from "../records/outcome-row.js";
import {
  peopleUnknown,
  printedForm,
  printsItsError,
  type Statistic,
} from "../records/printed-form.js";
import type { Refusal } from "./refusal.js";
import { rowNote } from "./refusal.js";

/**
 * People a row is read with where it prints its own error and not how many were measured: so many that Student's t is
 * normal, and that the error stands as printed. It is never shown, and no deviation may be taken out of it.
 */
export const manyPeople = 1e7;

/**
 * People a row's change is read with, `manyPeople` where only its error is printed.
 *
 * @param row  a row whose numbers are of the change within its arm
 * @returns participants and notes, or why the row cannot be used
 * @source none: convention of this project
 */
export const readingParticipants = (row: OutcomeRow): ReturnType<typeof rowParticipants> => {
  const { statistic } = printedForm(row, row.statistic) as { statistic?: Statistic };
  const stands =
    peopleUnknown(row) && statistic !== undefined && printsItsError(row, { statistic });
  if (!stands) return rowParticipants(row);
  const what = statistic === "change with interval" ? "interval (normal)" : "standard error";
  const message = `how many people were measured is not given; the printed ${what} is used as it stands`;
  return { participants: manyPeople, notes: [rowNote(row, "people-unknown", message)] };
};

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
