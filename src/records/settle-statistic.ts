import type { Issue } from "../errors.js";
import { boundText } from "./cell-reading.js";
import type { OutcomeRow } from "./outcome-row.js";
import { peopleUnknown, printedForm, printsItsError } from "./printed-form.js";
import type { RowFate } from "./record-set.js";

/** A row's fate while it is still being decided, with the reasons so far. */
export type Verdict = { fate: RowFate["fate"]; reasons: string[] };

/** Assumptions counted over the file and told once. */
export type AssumptionCounts = { inferred: number; spreadAssumed: number };

/** Lets a row be used with one more reason to look at it. */
export const warn = (verdict: Verdict, reason: string): void => {
  if (verdict.fate === "used") verdict.fate = "used with a warning";
  verdict.reasons.push(reason);
};

/**
 * A row with its statistic settled, or undefined when it prints no change to analyse.
 *
 * A blank statistic is taken from the filled columns and counted; one whose columns are not filled is
 * replaced and told. What keeps the row from being weighted is added to its verdict.
 */
export const settleStatistic = (
  row: OutcomeRow,
  verdict: Verdict,
  counts: AssumptionCounts,
  issues: Issue[],
): OutcomeRow | undefined => {
  const form = printedForm(row, row.statistic);
  if (form.kind === "no change") {
    verdict.fate = "set aside";
    verdict.reasons = ["no change to analyse: the number columns are blank or hold one time only"];
    return undefined;
  }
  if (row.statistic !== undefined && row.statistic !== form.statistic) {
    issues.push({
      code: "statistic-not-filled",
      severity: "warning",
      line: row.line,
      column: "statistic",
      value: row.statistic,
      message: `the columns of this form are not filled; the row is read as ${form.statistic}`,
      mend: "fill the columns the statistic needs, or correct the statistic",
    });
    warn(verdict, `statistic: read as ${form.statistic}`);
  } else if (row.statistic === undefined) counts.inferred += 1;
  if (form.kind === "no spread") {
    warn(
      verdict,
      row.pBound === undefined
        ? "no spread, interval or test statistic, so the row has no weight of its own"
        : `no spread or interval, and of p only the bound ${boundText(row.pBound)}, so the row has no weight of its own`,
    );
  } else if (
    peopleUnknown(row) &&
    form.statistic !== "effect computed elsewhere" &&
    !printsItsError(row, form)
  ) {
    warn(verdict, "n_start and n_end are blank, so the row cannot be weighted");
  }
  if ((form.statistic === "F value" || form.statistic === "p value") && directionUnknown(row)) {
    warn(verdict, `the ${form.statistic} has no direction, so the sign of the change is not known`);
  }
  const hasSpread =
    row.preSpread !== undefined || row.postSpread !== undefined || row.changeSpread !== undefined;
  if (row.spreadKind === undefined && hasSpread) counts.spreadAssumed += 1;
  // The reader copies the row above when it makes the next one, so rows are never written to here.
  return row.statistic === form.statistic ? row : { ...row, statistic: form.statistic };
};

const directionUnknown = (row: OutcomeRow): boolean =>
  row.direction === undefined &&
  row.changeMean === undefined &&
  (row.preMean === undefined || row.postMean === undefined);
