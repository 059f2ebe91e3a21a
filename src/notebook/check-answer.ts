import { CallError } from "../errors.js";
import { escapeHtml } from "../tables/escape-html.js";
import { judgedAttempt } from "./exercise.js";
import { exercises } from "./exercises/exercises.js";
import { show } from "./show-on.js";

/** What a learner puts in: a guess made before anything is run, and what was found by running. */
export type Attempt = Readonly<{ predicted?: unknown; found?: unknown }>;

/**
 * Nothing; shows below the cell whether what was found is right and, where it is not, what may have gone wrong, and how
 * far the prediction was. The right answer is never shown, and nothing is judged before there is a prediction.
 *
 * @param id      the exercise's number as the notebook gives it, e.g. "2.1"
 * @param attempt your prediction and what you found; `undefined` until then
 * @throws {CallError} "unknown-exercise"
 * @source none: a comparison
 */
export const checkAnswer = (id: string, { predicted, found }: Attempt): void => {
  const exercise = exercises.find((each) => each.id === id);
  if (exercise === undefined)
    throw new CallError({
      code: "unknown-exercise",
      where: "checkAnswer",
      needs: `an exercise among ${exercises.map((each) => each.id).join(", ")}`,
      got: JSON.stringify(id),
    });
  const { right, message } = judgedAttempt(exercise, predicted, found);
  const colour = right
    ? "#1d6b3a"
    : predicted === undefined || found === undefined
      ? "#566270"
      : "#8a4b00";
  show(
    "text/html",
    `<p style="border-left:4px solid ${colour};padding-left:0.7em"><strong>Exercise ${escapeHtml(id)}.</strong> ${escapeHtml(message)}</p>`,
  );
};
