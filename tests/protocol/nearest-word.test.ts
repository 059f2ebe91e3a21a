import { expect, test } from "vitest";
import { nearestWord } from "../../src/protocol/nearest-word.js";

const words = ["isometric", "dynamic", "other exercise", "no exercise"];

test("nearestWord: one edit in three letters, swaps of neighbours counted once", () => {
  expect(nearestWord("isometrc", words)).toBe("isometric");
  expect(nearestWord("dyanmic", words)).toBe("dynamic");
  expect(nearestWord("NO EXERCISES", words)).toBe("no exercise");
});

test("nearestWord: nothing near is nothing", () => {
  expect(nearestWord("stretching", words)).toBeUndefined();
  expect(nearestWord("", words)).toBeUndefined();
  expect(nearestWord("x".repeat(10_000), words)).toBeUndefined();
  expect(nearestWord("isometric", [])).toBeUndefined();
});
