import { describe, expect, test } from "vitest";
import type { OutcomeRow } from "../../src/records/outcome-row.js";
import { meetsRowFilter, parseRowFilter, rowsThatMeet } from "../../src/records/row-filter.js";

const meets = (text: string, row: Record<string, string | number | undefined>) =>
  meetsRowFilter(parseRowFilter(text), (column) => row[column]);

test("a row filter reads columns, operators and alternatives", () => {
  expect(parseRowFilter("Muscle length = long|middle, weeks>=8")).toEqual([
    { column: "muscle_length", operator: "=", values: ["long", "middle"] },
    { column: "weeks", operator: ">=", values: ["8"] },
  ]);
});

test("all conditions must hold, and case does not matter", () => {
  const row = { muscle_length: "long", weeks: 8 };
  expect(meets("muscle_length=LONG, weeks>=8", row)).toBe(true);
  expect(meets("muscle_length=long, weeks>8", row)).toBe(false);
  expect(meets("muscle_length!=short", row)).toBe(true);
  expect(meets("weeks<9, weeks<=8, weeks=8", row)).toBe(true);
});

test("a blank meets no bound and no equality, but is different from any value", () => {
  expect(meets("weeks<100", {})).toBe(false);
  expect(meets("weeks=8", {})).toBe(false);
  expect(meets("weeks!=8", {})).toBe(true);
});

describe("refuses", () => {
  test("a part that is not a condition", () => {
    expect(() => parseRowFilter("weeks")).toThrow(/weeks>=8, got "weeks"/);
  });
  test("a bound that is not a number", () => {
    expect(() => meets("weeks>many", { weeks: 3 })).toThrow(/number after >, got "many"/);
  });
});

test("between holds both of its ends", () => {
  expect(parseRowFilter("weeks between 7 and 16")).toEqual([
    { column: "weeks", operator: ">=", values: ["7"] },
    { column: "weeks", operator: "<=", values: ["16"] },
  ]);
  for (const [weeks, met] of [
    [6, false],
    [7, true],
    [16, true],
    [17, false],
  ] as const)
    expect(meets("weeks between 7 and 16", { weeks })).toBe(met);
  expect(() => meets("weeks between 7 and many", { weeks: 9 })).toThrow(/got "many"/);
});

test("what follows from a prescription stands in a condition as a column does", () => {
  const row = (more: object) =>
    ({ line: 2, study: "A", arm: "a", outcome: "torque", ...more }) as unknown as OutcomeRow;
  const rows = [
    // 4 × 3 × 5 s at 75 to 95%: 60 s of tension, of which a quarter (95 − 90 of 20 points) is near-maximal.
    row({
      sets: 4,
      repetitions: 3,
      holdSeconds: 5,
      intensityPercent: 75,
      intensityPercentHigh: 95,
    }),
    // 2 × 6 × 10 s at maximal effort: 120 s, all near-maximal.
    row({ sets: 2, repetitions: 6, holdSeconds: 10, intensityBasis: "maximal effort" }),
    // Only the intensity is coded.
    row({ intensityPercent: 40 }),
    row({ sets: 9, repetitions: 9, holdSeconds: 9, intensityPercent: 95, armKind: "dynamic" }),
  ];
  const kept = (where: string) => rowsThatMeet(rows, where).map((one) => rows.indexOf(one));
  expect(kept("tension per session between 50 and 70")).toEqual([0]);
  expect(kept("tension-time in a session>=100")).toEqual([1]);
  expect(kept("near-maximal share=25")).toEqual([0]);
  expect(kept("near_maximal_per_session between 15 and 15")).toEqual([0]);
  expect(kept("near_maximal_seconds=120")).toEqual([1]);
  expect(kept("intensity<=40")).toEqual([2]);
  expect(kept("holds per session=12")).toEqual([0, 1]);
  expect(() => kept("tension_per_sesion>2")).toThrow(/tension_per_session/);
});
