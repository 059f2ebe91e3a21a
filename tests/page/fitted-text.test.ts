import { expect, test } from "vitest";
import { fittedText } from "../../src/page/fitted-text.js";

/** Every letter as wide as half its size, strong ones as wide as their size. */
const measure = (text: string, size: number, strong: boolean): number =>
  text.length * size * (strong ? 1 : 0.5);

test("each text is told the width it was laid out for, by its own size and weight", () => {
  // By hand: 4 letters at half of 10; 3 letters (one of them written as an entity) at 12, strong.
  const svg = `<svg><text font-size="10px" fill="#000">wide</text><text font-weight="600" font-size="12px">a&amp;b</text></svg>`;
  expect(fittedText(svg, measure)).toBe(
    `<svg><text font-size="10px" fill="#000" textLength="20.00" lengthAdjust="spacingAndGlyphs">wide</text>` +
      `<text font-weight="600" font-size="12px" textLength="36.00" lengthAdjust="spacingAndGlyphs">a&amp;b</text></svg>`,
  );
});

test("texts without a size and everything else stay as they are", () => {
  const svg = `<svg><title>t</title><text fill="#000">x</text><path d="M0,0"/></svg>`;
  expect(fittedText(svg, measure)).toBe(svg);
});
