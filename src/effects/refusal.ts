import type { Note } from "../errors.js";
import type { OutcomeRow } from "../records/outcome-row.js";

/** Why a row gives no effect, worded as the rest of a sentence about the row. */
export type Refusal = Readonly<{ refused: string }>;

/** Whether a formula's or reader's answer is a refusal. */
export const isRefusal = (value: object): value is Refusal => "refused" in value;

/** A note about one row: its line first, tied to its study. */
export const rowNote = (row: OutcomeRow, code: string, message: string): Note => ({
  code,
  message: `line ${row.line}: ${message}`,
  study: row.study,
});
