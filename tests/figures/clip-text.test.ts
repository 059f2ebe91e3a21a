/** Kind of evidence: hand arithmetic. */
import { expect, test } from "vitest";
import { clipText } from "../../src/figures/wrap-text.js";

test("both ends are kept, in so many letters at most", () => {
  expect(clipText("short", 10)).toBe("short");
  // Ten letters: one is the ellipsis; of nine, 65 % rounded up are 6 in front and 3 behind.
  expect(clipText("abcdefghijklmnop", 10)).toBe("abcdef…nop");
});

test("letters outside the basic plane count once and are not cut in two", () => {
  expect([...clipText("🦵🦵🦵🦵🦵🦵🦵🦵", 5)]).toEqual(["🦵", "🦵", "🦵", "…", "🦵"]);
});

test("line breaks and spaces become one space", () => {
  expect(clipText("a\n  b", 10)).toBe("a b");
});
