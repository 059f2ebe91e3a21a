/** Kinds of evidence: hand arithmetic on small sessions, and identities of a drawing to scale. */
import { describe, expect, test } from "vitest";
import { parsePrescription } from "../../src/protocol/written-form.js";
import { sessionTimeline } from "../../src/protocol/session-timeline.js";
import { displayWidth } from "../../src/tables/display-width.js";
import { holdStripText } from "../../src/tables/hold-strip-text.js";

const strip = (text: string, width = 100, height = 4): string =>
  holdStripText(sessionTimeline(parsePrescription(text)), { width, height });
const lines = (drawn: string): readonly string[] => drawn.split("\n").map((line) => line.slice(5));
/** Columns of the lowest line that are not blank. */
const filled = (drawn: string, height = 4): number =>
  [...(lines(drawn)[height - 1] ?? "")].filter((sign) => sign !== " ").length;

test("a hold of 20 s and a rest of 10 s, a column a second: 20 full columns, 10 empty, 20 full", () => {
  const [only] = lines(strip("2 x 20 s at 100%, rest 10 s", 100, 1));
  expect(only).toBe(`${"█".repeat(20)}${" ".repeat(10)}${"█".repeat(20)}`);
});

test("effort runs up: 50% of four lines is two full ones, 25% one", () => {
  const half = lines(strip("1 x 20 s at 50%"));
  expect(half.slice(0, 4).map((line) => [...line][0] ?? " ")).toEqual([" ", " ", "█", "█"]);
  const quarter = lines(strip("1 x 20 s at 25%"));
  expect(quarter.slice(0, 4).map((line) => [...line][0] ?? " ")).toEqual([" ", " ", " ", "█"]);
});

test("equal tension time takes equal room at one scale", () => {
  // 120 s of tension each; at 2 s a column that is 60 columns.
  const four = strip("4 x 30 s at 70%, rest 10 s", 100);
  const twelve = strip("12 x 10 s at 70%, rest 4 s", 100);
  expect(four).toContain("one column is 2 s");
  expect(twelve).toContain("one column is 2 s");
  expect(filled(four)).toBe(60);
  expect(filled(twelve)).toBe(60);
});

describe("what is drawn is said", () => {
  test.each([
    ["4 x 30 s at 70%, rest 60 s", "the whole session"],
    ["10 x (5 x 3 s) at 90%, rests 5 s and 2 min", "the first set"],
    ["1 x 300 x 1 s at 80%, rest 1 s, 2 min between sets", "the beginning of the first set"],
  ])("%s: %s", (text, words) => {
    expect(strip(text)).toContain(`To scale: ${words}`);
  });
});

test("no line is wider than asked", () => {
  for (const width of [30, 60, 100])
    for (const text of [
      "4 x 30 s at 70%, rest 60 s",
      "10 x (5 x 3 s) at 90%, rests 5 s and 2 min",
      "1 x 3600 s at 10%",
    ])
      for (const line of strip(text, width).split("\n").slice(0, -1))
        expect(displayWidth(line)).toBeLessThanOrEqual(width);
});
