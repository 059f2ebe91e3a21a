import type { NoteCode, Note } from "../errors.js";
import { CallError } from "../errors.js";
import type { OutcomeRow } from "../records/outcome-row.js";

/** Why a row gives no effect, worded as the rest of a sentence about the row. */
export type Refusal = Readonly<{
  refused: string;
  /** What the row tells all the same, in its own direction, where only the spread is missing. */
  estimate?: number;
}>;

/**
 * Whether a formula's or reader's answer is a refusal.
 *
 * @source none: bookkeeping
 */
export const isRefusal = (value: object): value is Refusal => "refused" in value;

/**
 * A note about one row: its line first, tied to its study.
 *
 * @source none: wording of this project
 */
export const rowNote = (row: OutcomeRow, code: NoteCode, message: string): Note => ({
  code,
  message: `line ${row.line}: ${message}`,
  study: row.study,
});

/**
 * What a step gives, or its refusal; a formula that cannot be answered for one row's numbers (a value that
 * overflows, a spread beyond all bounds) refuses that row and not the whole file.
 *
 * @source none: bookkeeping
 */
export const orRefusal = <Result extends object>(
  step: () => Result | Refusal,
): Result | Refusal => {
  try {
    return step();
  } catch (failure) {
    if (failure instanceof CallError) {
      // The place of the formula and the machine's own words say nothing to who wrote the row.
      const said = failure.message
        .replace(failure.where, "what follows from them")
        .replace(/-?\bInfinity\b|\bNaN\b/g, "a number beyond computing");
      return { refused: `its numbers cannot be used: ${said}` };
    }
    throw failure;
  }
};
