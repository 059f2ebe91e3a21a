import fc from "fast-check";
import { expect, test } from "vitest";

import { wrapText } from "../../src/figures/wrap-text.js";

test("breaks at spaces, and inside a word that is longer than a line", () => {
  const options = { width: 60, fontSize: 10, lines: 5 };
  expect(wrapText("one two three four", options)).toEqual(["one two", "three four"]);
  expect(wrapText("x".repeat(30), options).length).toBeGreaterThan(1);
  expect(wrapText("x".repeat(30), options).join("")).toBe("x".repeat(30));
  expect(wrapText("x".repeat(30), { ...options, lines: 1 })).toEqual(["x".repeat(30)]);
});

test("no letter is lost and no more lines are made than allowed", () => {
  fc.assert(
    fc.property(fc.string({ unit: "grapheme" }), fc.integer({ min: 1, max: 5 }), (text, lines) => {
      const wrapped = wrapText(text, { width: 50, fontSize: 10, lines });
      expect(wrapped.length).toBeLessThanOrEqual(lines);
      expect(wrapped.join("").replace(/[\s\p{Cc}]/gu, "")).toBe(text.replace(/[\s\p{Cc}]/gu, ""));
    }),
    { seed: 3, numRuns: 200 },
  );
});
