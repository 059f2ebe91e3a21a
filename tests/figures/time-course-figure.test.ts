/** Kinds of evidence: the published schema, and identities between the drawing and the answer. */
import { describe, expect, test } from "vitest";
import { timeCourse } from "../../src/dose/time-course.js";
import { timeCourseFigure } from "../../src/figures/time-course-figure.js";
import { randomStream } from "../../src/numeric/random-stream.js";
import { handMadeSet } from "../dose/hand-made-set.js";
import { simulatedSet } from "../dose/simulated-set.js";
import { expectSoundFigure, rowsOf } from "./figure-checks.js";

const made = (studies: number) => {
  const set = simulatedSet(
    Array.from({ length: studies }, (_, number) => ({
      study: `S${number}`,
      arms: [{ arm: "a", weeks: [2, 4, 8, 12] }],
    })),
    randomStream(12),
  );
  const answer = timeCourse(set);
  return { answer, figure: timeCourseFigure({ answer, family: "strength", scale: set.scale }) };
};

describe.each([
  ["one study", made(1)],
  ["eight studies", made(8)],
] as const)("%s", (_name, { answer, figure }) => {
  test("is sound, with every effect, and weeks of one arm joined", () => {
    expectSoundFigure(figure);
    expect(rowsOf(figure, "course: effects")).toHaveLength(answer.points.length);
    // Four weeks make three lines.
    expect(rowsOf(figure, "course: weeks of one arm")).toHaveLength((answer.points.length * 3) / 4);
  });
});

test("the course starts from nothing and the shares stand below their weeks", () => {
  const { answer, figure } = made(8);
  expect(rowsOf(figure, "course: course")[0]).toMatchObject({ x: 0, y: 0 });
  const shares = rowsOf(figure, "weeks: shares");
  expect(shares.map(({ text }) => text)).toEqual(
    answer.shares.map(({ share }) => `${Math.round(100 * share)}%`),
  );
  const numbers = new Map(rowsOf(figure, "weeks: week numbers").map(({ text, x }) => [text, x]));
  answer.shares.forEach(({ week }, index) => {
    expect(shares[index]!.x).toBeCloseTo(numbers.get(String(week))!, 9);
  });
});

test("without an answer the lines stand alone and the reason is said", () => {
  const { figure } = made(1);
  expect(rowsOf(figure, "course: course")).toEqual([]);
  expect(figure.description).toContain(
    "How fast the gain comes cannot be told: 1 study measured an arm",
  );
});

test("without an arm measured more than once there is nothing to draw", () => {
  const answer = timeCourse(handMadeSet([]));
  expect(() =>
    timeCourseFigure({ answer, family: "strength", scale: "log-ratio-of-means" }),
  ).toThrow(/two weeks or more/);
});
