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
  // Each in a panel of its own, along one axis of minutes.
  const ink = [1, 2].map((panel) =>
    rowsOf(figure, `session ${panel}: holds`).map(({ x, x2 }) => (x2 ?? x) - x),
  );
  expect(ink.map(({ length }) => length)).toEqual([4, 20]);
  for (const lengths of ink)
    expect(lengths.reduce((sum, each) => sum + each, 0)).toBeCloseTo(120 / 60, 8);
  expect(rowsOf(figure, "session 1: hold seconds").map(({ text }) => text)).toEqual(
    Array.from({ length: 4 }, () => "30 s"),
  );
  // 4 x 30 + 3 x 15 s, and 20 x 6 + 19 x 6 s.
  expect(figure.title).toBe(
    "4 × 30 s takes 2 min 45 s, 2 min of it under tension; 20 × 6 s 3 min 54 s, 2 min of it",
  );
  expect(figure.data).toHaveLength(four.length + twenty.length);
});

test("a part of a session is said to be one", () => {
  const long = session({ sets: 60, repetitions: 10, hold: 1, rest: 1, setRest: 120, effort: 80 });
  const figure = holdStripFigure({ title: "Long", sessions: [{ label: "long", timeline: long }] });
  expectSoundFigure(figure);
  expect(figure.caption).toContain("one set");
  expect(rowsOf(figure, "session 1: summary")[0]?.text).toContain("one set shown");
});

test("refuses none and more than six sessions", () => {
  const sessions = Array.from({ length: 7 }, () => ({ label: "x", timeline: four }));
  expect(() => holdStripFigure({ title: "t", sessions })).toThrow(/one to six sessions, got 7/);
  expect(() => holdStripFigure({ title: "t", sessions: [] })).toThrow(/got 0/);
});
