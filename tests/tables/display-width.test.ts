import fc from "fast-check";
import { expect, test } from "vitest";
import { displayWidth, wrapToWidth } from "../../src/tables/display-width.js";

test("plain letters take one cell, wide ones two, marks none", () => {
  expect(displayWidth("torque")).toBe(6);
  expect(displayWidth("筋力")).toBe(4);
  expect(displayWidth("e\u0301")).toBe(1);
  expect(displayWidth("τ² −")).toBe(4);
  expect(displayWidth("🙂")).toBe(2);
  expect(displayWidth("")).toBe(0);
});

test("of all characters of two bytes, those that join the one before take no cell", () => {
  const joins = /^[\p{Mn}\p{Me}\p{Cf}]$/u;
  const different: string[] = [];
  for (let code = 0; code < 0x10000; code += 1) {
    const character = String.fromCharCode(code);
    if (joins.test(character) !== (displayWidth(character) === 0)) different.push(character);
  }
  // A soft hyphen is counted as the hyphen that a terminal shows for it.
  expect(different).toEqual(["\u00ad"]);
});

test("words are kept whole where they fit", () => {
  expect(wrapToWidth("long muscle length", 11)).toEqual(["long muscle", "length"]);
  expect(wrapToWidth("", 5)).toEqual([""]);
});

test("identity: no line is wider than asked, and no letter is lost", () => {
  fc.assert(
    fc.property(fc.string({ unit: "binary" }), fc.integer({ min: 2, max: 30 }), (text, width) => {
      const lines = wrapToWidth(text, width);
      for (const line of lines) expect(displayWidth(line)).toBeLessThanOrEqual(width);
      expect(lines.join("").replaceAll(" ", "")).toBe(text.replaceAll(" ", ""));
    }),
  );
});
