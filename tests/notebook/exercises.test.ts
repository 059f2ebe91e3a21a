/** The exercises of the notebooks: right answers, slips that are recognised, and nothing given away. */
import { expect, test } from "vitest";
import { judgedAnswer, judgedAttempt, type Exercise } from "../../src/notebook/exercise.js";
import { exercises } from "../../src/notebook/exercises/exercises.js";

const shownDigits = (answer: number | string): string =>
  typeof answer === "number" ? String(Number(answer.toPrecision(3))) : answer;

/** What a learner types who rounded to the decimals asked for. */
const typed = ({ decimals = 0 }: Exercise, answer: number | string): number | string =>
  typeof answer === "number" ? Number(answer.toFixed(decimals)) : answer;

test.each(exercises.map((exercise) => [exercise.id, exercise] as const))(
  "%s: the answer, rounded as asked, is right; each slip is named and gives nothing away",
  (_, exercise) => {
    const answer = exercise.answer();
    if (typeof answer === "number") {
      expect(Number.isFinite(answer)).toBe(true);
      expect(answer).not.toBe(0);
    } else expect(answer).not.toBe("");
    expect(judgedAnswer(exercise, typed(exercise, answer))).toEqual({
      right: true,
      message: "Right.",
    });
    expect(exercise.slips.length).toBeGreaterThan(0);
    for (const slip of exercise.slips) {
      const judged = judgedAnswer(exercise, typed(exercise, slip.answer()));
      expect([judged.right, judged.message]).toEqual([false, `Not yet. ${slip.because}`]);
    }
    const messages = [...exercise.slips.map(({ because }) => because), exercise.hint];
    for (const message of messages) expect(message).not.toContain(shownDigits(answer));
  },
);

test("ids are unique and follow the notebooks", () => {
  const ids = exercises.map(({ id }) => id);
  expect(new Set(ids).size).toBe(ids.length);
  expect([...ids].sort((a, b) => parseInt(a, 10) - parseInt(b, 10))).toEqual(ids);
  for (const id of ids) expect(id).toMatch(/^(?:[1-9]|1[01])\.[1-9]$/);
});

const sample: Exercise = {
  id: "9.9",
  decimals: 2,
  answer: () => 4.25,
  slips: [{ answer: () => 7, because: "seven" }],
  hint: "think",
  reason: "because",
};

test.each([
  [undefined, /^No answer yet/],
  ["4.25", /A number is asked for/],
  [-4.25, /sign/],
  [425, /one hundred/],
  [0.0425, /one hundred/],
  [4.25 ** 2, /square/],
  [4.3, /Very near/],
  [Number.NaN, /not a finite number/],
  [7, /seven/],
  [1234, /think/],
])("an answer of %s is told apart", (value, message) => {
  const judged = judgedAnswer(sample, value);
  expect(judged.right).toBe(false);
  expect(judged.message).toMatch(message);
  expect(judged.message).not.toContain("4.25");
});

test.each([
  [undefined, 4.25, false, /^Predict first/],
  [3, undefined, false, /^No answer yet/],
  [3, 4.3, false, /^Not yet/],
  [3, 4.25, true, /^Right; you predicted 3, 1.25 too low. Now explain/],
  [5, 4.25, true, /you predicted 5, 0.75 too high/],
  [4.25, 4.25, true, /as you predicted/],
])("a prediction of %s and a find of %s", (predicted, found, right, message) => {
  const judged = judgedAttempt(sample, predicted, found);
  expect(judged.right).toBe(right);
  expect(judged.message).toMatch(message);
});

test("a word is right in any spelling of its spaces and capitals", () => {
  const word = { ...sample, answer: () => "rest_between" };
  expect(judgedAnswer(word, " Rest between ").right).toBe(true);
  expect(judgedAttempt(word, "rest", "rest between").message).toContain("you predicted rest.");
  expect(judgedAnswer(word, 3).message).toMatch(/word in quotation marks/);
});
