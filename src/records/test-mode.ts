import { familyRecord } from "./outcome-families.js";
import type { OutcomeRow } from "./outcome-row.js";

export type TestMode = NonNullable<OutcomeRow["testMode"]>;

/** How the muscle worked in a row's test: as coded, and isometric where the cell is blank or says "not reported". */
export const testModeOf = (row: Pick<OutcomeRow, "testMode">): TestMode =>
  row.testMode ?? "isometric";

/**
 * Whether a blank test mode leaves something open: in outcomes of what a muscle can do, and not in its size,
 * its tendon or symptoms, where the codebook asks for a blank.
 */
export const testModeMatters = ({ outcomeFamily }: Pick<OutcomeRow, "outcomeFamily">): boolean =>
  familyRecord(outcomeFamily).hasTestMode;
