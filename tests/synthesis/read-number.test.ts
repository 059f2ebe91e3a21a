import { expect, test } from "vitest";
import fc from "fast-check";
import { readNumber } from "../../src/synthesis/read-number.js";

test.each([
  ["0.42", 0.42],
  [" -3 ", -3],
  ["−0.25", -0.25],
  ["1e-3", 0.001],
  [".5", 0.5],
  ["+2.", 2],
])("%s is a number", (text, value) => {
  expect(readNumber(text)).toEqual({ value, decimalComma: false });
});

test("one comma between digits is a decimal comma, and said so", () => {
  expect(readNumber("0,42")).toEqual({ value: 0.42, decimalComma: true });
});

test.each(["", "abc", "1,234.5", "1 2", "0x10", "Infinity", "NaN", "1e999", "--1", "1,2,3", "5%"])(
  "%s is not a number",
  (text) => {
    expect(readNumber(text)).toBeUndefined();
  },
);

test("property: every finite number survives being written and read", () => {
  fc.assert(
    fc.property(fc.double({ noNaN: true, noDefaultInfinity: true }), (value) => {
      expect(readNumber(String(value))!.value).toBe(Number(String(value)));
    }),
    { numRuns: 500, seed: 3 },
  );
});
