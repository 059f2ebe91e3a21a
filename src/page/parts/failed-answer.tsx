import type { FailedAnswerState } from "../app.js";

/** Why there is no answer, and a way to ask again. */
export const FailedAnswer = ({ answer }: Readonly<{ answer: FailedAnswerState }>) => {
  const { failure, again } = answer;
  return (
    <div class="row">
      <p {...(failure.kind === "data" ? {} : { role: "alert" })}>
        {failure.kind === "cancelled"
          ? "Cancelled, so there is nothing to show yet."
          : failure.message}
      </p>
      <button type="button" onClick={again}>
        {failure.kind === "cancelled" ? "Compute it" : "Try again"}
      </button>
    </div>
  );
};
