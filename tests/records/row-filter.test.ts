import { describe, expect, test } from "vitest";
import { meetsRowFilter, parseRowFilter } from "../../src/records/row-filter.js";

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
