import type { IssueCode } from "../errors.js";

/** What is wrong with a cell and how to mend it; line and column are added where they are known. */
export type CellProblem = Readonly<{
  code: IssueCode;
  message: string;
  mend: string;
  /** Cells any of which would mend it, where they are known. */
  instead?: readonly string[];
}>;

/** A p value as a bound: p < 0.05 is below 0.05, p > 0.05 and "not significant" are above 0.05. */
export type PBound = Readonly<{ side: "below" | "above"; p: number }>;

/**
 * A bound as it is shown: < 0.05.
 *
 * @source none: wording of this project
 */
export const boundText = ({ side, p }: PBound): string => `${side === "below" ? "<" : ">"} ${p}`;

/** What a cell holds. `high` is the upper end when the cell held a range that the codebook accepts. */
export type CellReading =
  | Readonly<{ kind: "value"; value: unknown; high?: number; remark?: CellRemark }>
  | Readonly<{ kind: "bound"; bound: PBound }>
  | Readonly<{ kind: "blank" }>
  | Readonly<{ kind: "not reported" }>
  | Readonly<{ kind: "problem"; problem: CellProblem }>;

/** A harmless liberty taken with a cell, counted per column and told in a note. */
export type CellRemark = "unit word taken off" | "decimal comma" | "thousands separators" | "range";

export const blankCell: CellReading = { kind: "blank" };
export const notReportedCell: CellReading = { kind: "not reported" };

export const problemCell = (
  code: IssueCode,
  message: string,
  mend: string,
  instead?: readonly string[],
): CellReading => ({
  kind: "problem",
  problem: { code, message, mend, ...(instead === undefined ? {} : { instead }) },
});
