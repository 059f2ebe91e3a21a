import { CallError } from "../errors.js";
import { escapeHtml } from "../tables/escape-html.js";
import { judgedAnswer } from "./exercise.js";
import { exercises } from "./exercises/exercises.js";
import { show } from "./show-on.js";

/**
 * Nothing; shows below the cell whether an answer is right and, where it is not, what may have gone wrong.
 * The right answer is never shown.
 *
 * @param id    the exercise's number as the notebook gives it, e.g. "2.1"
 * @param value what you found; `undefined` until then
 * @throws {CallError} "unknown-exercise"
 * @source none: a comparison
 */
export const checkAnswer = (id: string, value: unknown): void => {
  const exercise = exercises.find((each) => each.id === id);
  if (exercise === undefined)
    throw new CallError({
      code: "unknown-exercise",
      where: "checkAnswer",
      needs: `an exercise among ${exercises.map((each) => each.id).join(", ")}`,
      got: JSON.stringify(id),
    });
  const { right, message } = judgedAnswer(exercise, value);
  const colour = right ? "#1d6b3a" : value === undefined ? "#566270" : "#8a4b00";
  show(
    "text/html",
    `<p style="border-left:4px solid ${colour};padding-left:0.7em"><strong>Exercise ${escapeHtml(id)}.</strong> ${escapeHtml(message)}</p>`,
  );
};
