/**
 * The three kinds of failure and the one kind of doubt.
 *
 * Bad data is a list of located issues; a bad call names the function, what it needs and what it got;
 * a fit that did not settle says what to try. A doubt that does not stop the work is a `Note`, a value
 * in the result, so that every surface can show it.
 */

/** How bad an issue is: a refused row cannot be used, a warned row is used but should be looked at. */
export type Severity = "error" | "warning";

/** One problem in the user's table, located. `line` is the file's own line number, from 1. */
export type Issue = Readonly<{
  /** Stable word for the kind of problem, e.g. `not-a-number`. */
  code: string;
  severity: Severity;
  /** Line of the file the row starts on (header is line 1). 0 when the problem is the whole file's. */
  line: number;
  /** Column as the file names it; empty when the problem is the whole row's. */
  column: string;
  /** The offending value as it stands in the file. */
  value: string;
  /** What is wrong: lower case, no full stop. */
  message: string;
  /** How to mend it. */
  mend: string;
}>;

/** A doubt that does not stop the work. */
export type Note = Readonly<{
  /** Stable word for the kind of doubt, e.g. `few-studies`. */
  code: string;
  /** One plain sentence without a full stop. */
  message: string;
  study?: string;
}>;

/** As much of a value as tells which it is. */
const shownValue = (value: string): string =>
  value.length > 80 ? `${value.slice(0, 79)}…` : value;

/** The sentence an issue makes: place, problem, value, mend. */
export const issueText = (issue: Issue): string => {
  const place = issue.line > 0 ? `line ${issue.line}` : "file";
  const column = issue.column === "" ? "" : `, column ${issue.column}`;
  const value = issue.value === "" ? "" : ` (got "${shownValue(issue.value)}")`;
  return `${place}${column}: ${issue.message}${value}; ${issue.mend}`;
};

/** The user's table cannot be used as it is; every problem found is listed. */
export class DataError extends Error {
  override readonly name = "DataError";
  readonly issues: readonly Issue[];
  constructor(issues: readonly Issue[]) {
    super(issues.map(issueText).join("\n"));
    this.issues = issues;
  }
}

/** The call cannot be answered: what the function requires and what it got. */
export class CallError extends Error {
  override readonly name = "CallError";
  readonly code: string;
  readonly where: string;
  constructor(
    failure: Readonly<{ code: string; where: string; needs: string; got: string; try?: string }>,
  ) {
    const hint = failure.try === undefined ? "" : `; ${failure.try}`;
    super(`${failure.where} requires ${failure.needs}, got ${failure.got}${hint}`);
    this.code = failure.code;
    this.where = failure.where;
  }
}

/** An iterative method gave up: how far it came, and what to try. */
export class ConvergenceError extends Error {
  override readonly name = "ConvergenceError";
  readonly where: string;
  readonly iterations: number;
  readonly lastChange: number;
  readonly tolerance: number;
  constructor(
    failure: Readonly<{
      where: string;
      iterations: number;
      lastChange: number;
      tolerance: number;
      try: string;
    }>,
  ) {
    super(
      `${failure.where} did not converge after ${failure.iterations} iterations ` +
        `(last change ${failure.lastChange}, tolerance ${failure.tolerance}); ${failure.try}`,
    );
    this.where = failure.where;
    this.iterations = failure.iterations;
    this.lastChange = failure.lastChange;
    this.tolerance = failure.tolerance;
  }
}

/** An answer that cannot be given, as a value: what is missing, and what would help. */
export type Refusal = Readonly<{
  kind: "refusal";
  /** Stable word for the kind of refusal, e.g. `one-study`. */
  code: string;
  /** What is missing: lower case, no full stop. */
  reason: string;
  /** What would help. */
  try?: string;
}>;

/** A refusal by its code and reason. */
export const refusal = (code: Refusal["code"], reason: string): Refusal => ({
  kind: "refusal",
  code,
  reason,
});
