import { expect, test } from "vitest";

import { shownClock, shownDuration } from "../../src/tables/shown-duration.js";
import { timeTicks } from "../../src/figures/time-ticks.js";

test.each([
  [45, "45 s", "45 s"],
  [2.5, "2.5 s", "2.5 s"],
  [89, "89 s", "1:29"],
  [150, "2 min 30 s", "2:30"],
  [600, "10 min", "10:00"],
  [3599.7, "1 h", "1:00:00"],
  [3900, "1 h 5 min", "1:05:00"],
])("%s s in words and as a clock shows it", (seconds, words, clock) => {
  expect(shownDuration(seconds)).toBe(words);
  expect(shownClock(seconds)).toBe(clock);
});

test("time axes are marked at lengths people reckon in, from zero", () => {
  expect(timeTicks(165).map(({ label }) => label)).toEqual([
    "0",
    "30 s",
    "1:00",
    "1:30",
    "2:00",
    "2:30",
  ]);
  expect(timeTicks(7).map(({ seconds }) => seconds)).toEqual([0, 1, 2, 3, 4, 5, 6, 7]);
});
