import { expect, test } from "vitest";
import { findDelimiter } from "../../src/csv/parse-records.js";

test("findDelimiter: decimal commas do not outvote the semicolon of the header", () => {
  expect(findDelimiter("a;b;c\n1,5;2,5;3,5\n1,5;2,5;3,5\n")).toBe(";");
});

test("findDelimiter: a delimiter inside quotes does not count", () => {
  expect(findDelimiter('"a, first, and last";b\n1;2\n')).toBe(";");
});

test("findDelimiter: one column and no text at all are split by commas", () => {
  expect(findDelimiter("study\nx\n")).toBe(",");
  expect(findDelimiter("")).toBe(",");
});
