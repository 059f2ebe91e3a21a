import fc from "fast-check";
import { expect, test } from "vitest";
import { decimalMarksOf, numberText } from "../../src/records/number-text.js";

const point = { point: true, comma: false };
const comma = { point: false, comma: true };
const neither = { point: false, comma: false };
const value = (text: string, marks = neither) => {
  const read = numberText(text, marks);
  return read.kind === "number" ? read.value : read.kind;
};

test("numberText: printing a number in any of the forms in use and reading it returns it", () => {
  const grouped = (text: string, mark: string): string =>
    text.replace(/\B(?=(\d{3})+(?!\d))/g, mark);
  fc.assert(
    fc.property(
      fc.integer({ min: 0, max: 9_999_999 }),
      fc.integer({ min: 0, max: 99 }),
      fc.boolean(),
      fc.constantFrom(" ", "'", "’", ",", "."),
      (whole, hundredths, negative, mark) => {
        const decimals = String(hundredths).padStart(2, "0");
        const decimalMark = mark === "." ? "," : ".";
        const sign = negative ? "−" : "";
        const text = `${sign}${grouped(String(whole), mark)}${decimalMark}${decimals}`;
        const expected = Number(`${negative ? "-" : ""}${whole}.${decimals}`);
        const marks = mark === "." ? comma : point;
        expect(value(text, marks)).toBeCloseTo(expected, 10);
      },
    ),
    { seed: 31, numRuns: 300 },
  );
});

test("numberText: what String prints of any finite number is read back exactly", () => {
  fc.assert(
    fc.property(fc.double({ noNaN: true, noDefaultInfinity: true }), (number) => {
      expect(value(String(number), point)).toBe(Object.is(number, -0) ? 0 : number);
    }),
    { seed: 32, numRuns: 500 },
  );
});

test("numberText: nothing but a finite number is a number", () => {
  fc.assert(
    fc.property(
      fc.string({ maxLength: 12 }),
      fc.constantFrom(point, comma, neither),
      (text, marks) => {
        const read = numberText(text, marks);
        if (read.kind === "number") expect(Number.isFinite(read.value)).toBe(true);
      },
    ),
    { seed: 33, numRuns: 500 },
  );
  for (const text of [
    "",
    "-",
    ".",
    ",",
    "1e999",
    "1.2.3",
    "12,34,5",
    "1 23",
    "0x10",
    "Infinity",
    "NaN",
  ]) {
    expect([text, value(text)]).toEqual([text, "no number"]);
  }
});

test("numberText: three digits after one mark are read by the file's own habit", () => {
  expect(value("1,234", point)).toBe(1234);
  expect(value("1,234", comma)).toBe(1.234);
  expect(value("1,234", neither)).toBe("ambiguous");
  expect(value("1.234", neither)).toBe(1.234);
  expect(value("1.234", comma)).toBe("ambiguous");
  expect(value("0,234", neither)).toBe(0.234);
});

test("decimalMarksOf: only cells with one reading count", () => {
  const marks = (...cells: string[]) =>
    decimalMarksOf(
      [{ cells }],
      cells.map((_, i) => i),
    );
  expect(marks("1,234", "1.234")).toEqual(neither);
  expect(marks("1,5")).toEqual(comma);
  expect(marks("1,234.5")).toEqual(point);
  expect(marks("1,5", "1.5")).toEqual({ point: true, comma: true });
});
