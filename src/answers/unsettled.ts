/** What a search or a sum that settles on no number means to somebody who asked for an answer. */
import { CallError, ConvergenceError, refusal, type Refusal } from "../errors.js";

/**
 * The refusal in place of an answer whose numbers do not settle; anything else that went wrong is thrown on.
 *
 * @param error what a fit has thrown
 */
export const unsettled = (error: unknown): Refusal => {
  if (
    error instanceof ConvergenceError ||
    (error instanceof CallError && error.code === "not-identified")
  )
    return refusal(
      "no-convergence",
      "its sums settle on no number; look for a mean, a spread, a dose or a number of people that lies far from all others",
    );
  throw error;
};
