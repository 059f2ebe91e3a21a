import { expect, test } from "vitest";

import { figureFonts } from "../../src/host/figure-fonts.js";
import { readWidths, textWidthOf, writeWidths } from "../../src/host/letter-widths.js";

test("widths as data measure every letter as the font's own file does", async () => {
  const fonts = await figureFonts();
  const measure = textWidthOf(fonts.letterWidths());
  for (const strong of [false, true]) {
    for (let code = 0x20; code < 0x11000; code += 1) {
      const letter = String.fromCodePoint(code);
      if (measure(letter, 11, strong) !== fonts.textWidth(letter, 11, strong))
        throw new Error(`width of U+${code.toString(16)} differs`);
    }
    for (const text of ["", "Größe 3–10%", "τ² = 0.04", "漢字 abc", "\u{1f600}"])
      expect(measure(text, 13, strong)).toBe(fonts.textWidth(text, 13, strong));
  }
});

test("widths come back from their text", () => {
  const known = new Map([
    [32, 600],
    [33, 700],
    [65, 1400],
    [0x10000, 2048],
  ]);
  const text = writeWidths({ missing: 1344, known });
  expect(readWidths(text)).toEqual({ missing: 1344, known });
  // The second run begins where a code point was left out (base 36: 65 is "1t").
  expect(text.split(";")).toHaveLength(4);
});
