import type { FailedAnswerState } from "../app.js";
import type { Failure } from "../failure.js";
import { Skeleton } from "./hold-strip.js";

/** Why there is no answer, and a way to ask again. */
export const FailedAnswer = ({
  answer,
  stands = false,
}: Readonly<{
  answer: FailedAnswerState;
  /** Whether the answer before it stands below. */
  stands?: boolean;
}>) => {
  const { failure, again } = answer;
  return (
    <div class="row">
      <p {...(failure.kind === "data" ? {} : { role: "alert" })}>
        {failure.kind === "cancelled"
          ? stands
            ? "Cancelled. What follows is the last answer, as it was asked before."
            : "Cancelled, so there is nothing to show yet."
          : failure.message}
      </p>
      <button type="button" onClick={again}>
        {failure.kind === "cancelled" ? "Compute it" : "Try again"}
      </button>
    </div>
  );
};

/** What stands where an answer comes: its outline while it is worked out, or why there is none. */
export const NoAnswerYet = ({
  failure,
  again,
}: Readonly<{ failure: Failure | undefined; again: () => void }>) =>
  failure === undefined ? (
    <Skeleton />
  ) : (
    <FailedAnswer answer={{ state: "failed", failure, again }} />
  );
