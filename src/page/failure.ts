import { CallError, ConvergenceError, DataError, type Issue } from "../errors.js";

/** Why a job gave no result, as plain data that can cross from the worker. */
export type Failure = Readonly<{
  kind: "data" | "call" | "convergence" | "cancelled" | "fault";
  message: string;
  issues: readonly Issue[];
}>;

/** A failure as an error that can be thrown on this side. */
export class JobError extends Error {
  override readonly name = "JobError";
  readonly failure: Failure;
  constructor(failure: Failure) {
    super(failure.message);
    this.failure = failure;
  }
}

/** An option of a command line in the words of a page, which has no command line: `--by` is “by”. */
const withoutFlags = (message: string): string =>
  message.replace(
    /(^|[\s("“])--([a-z][a-z-]*)/g,
    (_all, before: string, name: string) => `${before}“${name.replaceAll("-", " ")}”`,
  );

/** Anything thrown, as a failure. */
export const failureOf = (error: unknown): Failure => {
  if (error instanceof JobError) return error.failure;
  if (error instanceof DataError)
    return { kind: "data", message: error.message, issues: error.issues };
  if (error instanceof CallError)
    return { kind: "call", message: withoutFlags(error.message), issues: [] };
  if (error instanceof ConvergenceError)
    return { kind: "convergence", message: error.message, issues: [] };
  const what = error instanceof Error ? `${error.name}: ${error.message}` : String(error);
  return {
    kind: "fault",
    message: `This could not be answered: Holdbook met something it was not made for (${what}).`,
    issues: [],
  };
};

/** What a cancelled job ends with. */
export const cancelled: Failure = { kind: "cancelled", message: "cancelled", issues: [] };
