import fc from "fast-check";
import { expect, test } from "vitest";
import { readTable } from "../../src/csv/read-table.js";
import { writeTable } from "../../src/csv/write-table.js";
import { CallError } from "../../src/errors.js";

test("writeTable: quotes only where it must", () => {
  expect(
    writeTable(
      ["a", "b"],
      [
        ["x", 'y "z"'],
        ["1,5", "p\nq"],
      ],
    ),
  ).toBe('a,b\nx,"y ""z"""\n"1,5","p\nq"\n');
});

test("writeTable: a formula in a cell is text when it comes back into a spreadsheet", () => {
  expect(writeTable(["a"], [["=1+1"]])).toBe("a\n'=1+1\n");
});

// Lone surrogates have no UTF-8; line breaks of all kinds, quotes and delimiters are all drawn.
const cell = fc
  .oneof(
    fc.string({ unit: "grapheme", maxLength: 8 }),
    fc.stringMatching(/^[",;|\n\r\t '=+\-@a0]{0,6}$/),
    // A quote before lines that look like rows is taken for a stray one; `readTable` says so.
  )
  .filter((text) => !/^".*[\n\r]/s.test(text));
const table = fc
  .integer({ min: 1, max: 5 })
  .chain((width) =>
    fc.tuple(
      fc.array(fc.stringMatching(/^[a-z]{1,6}$/), { minLength: width, maxLength: width }),
      fc.array(fc.array(cell, { minLength: width, maxLength: width }), { maxLength: 6 }),
    ),
  );

test("writeTable: reading what was written returns the same cells, for every delimiter", () => {
  fc.assert(
    fc.property(table, fc.constantFrom(",", ";", "\t", "|"), ([header, rows], delimiter) => {
      const back = readTable(writeTable(header, rows, { delimiter }), { delimiter });
      expect(back.header).toEqual(header);
      expect(back.rows.map(({ cells }) => cells)).toEqual(rows);
    }),
    { seed: 12, numRuns: 150 },
  );
});

test("writeTable refuses rows that are not as long as the header", () => {
  expect(() => writeTable(["a", "b"], [["1"]])).toThrow(CallError);
});
