import { expect, test } from "vitest";

import { holdStripFigure } from "../../src/figures/hold-strip-figure.js";
import { expectSoundFigure, rowsOf, session } from "./figure-checks.js";

const four = session({ sets: 1, repetitions: 4, hold: 30, rest: 15, setRest: 0, effort: 70 });
const twenty = session({ sets: 1, repetitions: 20, hold: 6, rest: 6, setRest: 0, effort: 70 });

test("sessions stand on one time scale: equal tension, equal ink", () => {
  const figure = holdStripFigure({
    title: "Two ways to 120 s",
    sessions: [
      { label: "4 × 30 s", timeline: four, summary: "120 s of tension" },
      { label: "20 × 6 s", timeline: twenty },
    ],
  });
  expectSoundFigure(figure);
  const holds = rowsOf(figure, "sessions: holds");
  expect(holds).toHaveLength(24);
  const tops = [...new Set(holds.map(({ y }) => y))];
  const ink = tops.map((top) =>
    holds.filter(({ y }) => y === top).reduce((sum, { x, x2 }) => sum + ((x2 ?? x) - x), 0),
  );
  expect(ink[0]).toBeCloseTo(ink[1] ?? 0, 8);
  expect(
    rowsOf(figure, "sessions: hold seconds").filter(({ text }) => text === "30 s"),
  ).toHaveLength(4);
  expect(figure.data).toHaveLength(four.length + twenty.length);
});

test("a part of a session is said to be one", () => {
  const long = session({ sets: 60, repetitions: 10, hold: 1, rest: 1, setRest: 120, effort: 80 });
  const figure = holdStripFigure({ title: "Long", sessions: [{ label: "long", timeline: long }] });
  expectSoundFigure(figure);
  expect(figure.caption).toContain("one set");
  expect(rowsOf(figure, "sessions: summaries")[0]?.text).toContain("one set shown");
});

test("refuses none and more than six sessions", () => {
  const sessions = Array.from({ length: 7 }, () => ({ label: "x", timeline: four }));
  expect(() => holdStripFigure({ title: "t", sessions })).toThrow(/one to six sessions, got 7/);
  expect(() => holdStripFigure({ title: "t", sessions: [] })).toThrow(/got 0/);
});
