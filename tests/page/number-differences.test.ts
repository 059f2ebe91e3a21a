import { expect, test } from "vitest";
import { numberDifferences } from "./number-differences.js";

test("last bits may differ, words and shown numbers may not", () => {
  expect(numberDifferences("x 0.12345678901 y 5", "x 0.12345678902 y 5")).toEqual([]);
  expect(numberDifferences("at 73 and", "at 72.99999999999 and")).toEqual([]);
  expect(numberDifferences("x 0.123 y", "x 0.124 y")).toHaveLength(1);
  expect(numberDifferences("x 5 y", "x 8 y")).toHaveLength(1);
  expect(numberDifferences("x 0.12345678 y", "x 0.12346678 y")).toHaveLength(1);
  expect(numberDifferences("x 1 y", "z 1 y")).toHaveLength(1);
  expect(numberDifferences("x 1 y", "x 1 y 2 z")).toHaveLength(1);
});
