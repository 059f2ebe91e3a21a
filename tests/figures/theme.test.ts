import { readFileSync } from "node:fs";

import { describe, expect, test } from "vitest";

import { evidenceMapCells } from "../../src/figures/evidence-map-cells.js";
import { evidenceMap } from "../../src/figures/evidence-map.js";
import { figureModes, figureTheme } from "../../src/figures/theme.js";

const channel = (value: number): number =>
  value <= 0.04045 ? value / 12.92 : ((value + 0.055) / 1.055) ** 2.4;

/** Relative luminance by the definition in WCAG 2.2. */
const luminance = (hex: string): number => {
  const [red = 0, green = 0, blue = 0] = [1, 3, 5].map((at) =>
    channel(Number.parseInt(hex.slice(at, at + 2), 16) / 255),
  );
  return 0.2126 * red + 0.7152 * green + 0.0722 * blue;
};

/** Contrast ratio by the definition in WCAG 2.2. */
const contrast = (a: string, b: string): number => {
  const [dark = 0, light = 0] = [luminance(a), luminance(b)].sort((x, y) => x - y);
  return (light + 0.05) / (dark + 0.05);
};

const channels = (hex: string): readonly number[] =>
  [1, 3, 5].map((at) => Number.parseInt(hex.slice(at, at + 2), 16) / 255);

/** How far a colour is from grey: its greatest channel less its least, 0 to 1. */
const chroma = (hex: string): number => Math.max(...channels(hex)) - Math.min(...channels(hex));

test("the theme in code and the theme file say the same", () => {
  const file: unknown = JSON.parse(
    readFileSync(new URL("../../shared/figure-theme.json", import.meta.url), "utf8"),
  );
  expect(figureTheme).toEqual(file);
});

test("contrast by the standard's own extremes: black on white is 21", () => {
  expect(contrast("#000000", "#ffffff")).toBeCloseTo(21, 10);
});

describe.each(figureModes)("in %s mode", (mode) => {
  const colour = figureTheme.modes[mode];

  test.each(["ink", "quiet", "pooledText", "empty", "changed"] as const)(
    "%s text reads on the ground and on bands (4.5 to 1)",
    (name) => {
      expect(contrast(colour[name], colour.background)).toBeGreaterThanOrEqual(4.5);
      expect(contrast(colour[name], colour.band)).toBeGreaterThanOrEqual(4.5);
    },
  );

  test.each([
    "mark",
    "markMiddle",
    "markOuter",
    "pooled",
    "hold",
    "rest",
    "changed",
    "zero",
    "empty",
  ] as const)("%s stands out from the ground and from bands (3 to 1)", (name) => {
    expect(contrast(colour[name], colour.background)).toBeGreaterThanOrEqual(3);
    expect(contrast(colour[name], colour.band)).toBeGreaterThanOrEqual(3);
  });

  test.each(["mark", "markMiddle", "markOuter"] as const)(
    "%s, what trials measured, is seen as blue and not as text",
    (name) => {
      const [red = 0, green = 0, blue = 0] = channels(colour[name]);
      expect(chroma(colour[name])).toBeGreaterThanOrEqual(0.3);
      expect(blue).toBeGreaterThan(green);
      expect(green).toBeGreaterThan(red);
      for (const text of [colour.ink, colour.quiet])
        expect(chroma(colour[name]) - chroma(text)).toBeGreaterThanOrEqual(0.2);
    },
  );

  test("numbers read on the darkest cell of the evidence map", () => {
    const arm = { study: "Ash", arm: "a", outcomeFamily: "strength" };
    const { specification } = evidenceMap({ map: evidenceMapCells([arm]) });
    const opacities = /"range":\[([\d.,]+)\]/.exec(JSON.stringify(specification))![1]!.split(",");
    const darkest = Math.max(...opacities.map(Number));
    const part = (hex: string, at: number) => Number.parseInt(hex.slice(at, at + 2), 16);
    const mixed = [1, 3, 5].map((at) =>
      Math.round(
        darkest * part(colour.markMiddle, at) + (1 - darkest) * part(colour.background, at),
      )
        .toString(16)
        .padStart(2, "0"),
    );
    expect(contrast(`#${mixed.join("")}`, colour.ink)).toBeGreaterThanOrEqual(4.5);
  });

  test("interval, estimate and pooled answer differ in lightness, not in hue alone", () => {
    expect(contrast(colour.mark, colour.markOuter)).toBeGreaterThanOrEqual(3);
    expect(contrast(colour.mark, colour.markMiddle)).toBeGreaterThanOrEqual(1.8);
  });
});
