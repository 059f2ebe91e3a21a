import { describe, expect, test } from "vitest";

import { estimatesFigure } from "../../src/figures/estimates-figure.js";
import type { Figure } from "../../src/figures/figure.js";
import { figureTheme } from "../../src/figures/theme.js";
import { drawFigure } from "../../src/host/draw-figure.js";

const nasty = '<script>alert(1)</script> & "x" id="clip0" role="graphics-object"';
const figureNamed = (study: string): Figure =>
  estimatesFigure({
    id: "small",
    title: "Small",
    scale: "log-ratio-of-means",
    effects: [
      { study, label: "knee", estimate: 0.1, low: 0, high: 0.2 },
      { study: "Birch", label: "", estimate: 0.2, low: 0.1, high: 0.3 },
    ],
  });

/** Width and height that a PNG states in its header (bytes 16 to 24). */
const pngSize = (png: Uint8Array): readonly [number, number] => {
  const view = new DataView(png.buffer, png.byteOffset, png.byteLength);
  return [view.getUint32(16), view.getUint32(20)];
};

test("the same figure gives the same bytes, also when several are drawn at once", async () => {
  const figure = figureNamed("Ash");
  const [first, dark, second] = await Promise.all([
    drawFigure(figure),
    drawFigure(figure, { mode: "dark" }),
    drawFigure(figure),
  ]);
  expect(second?.svg).toBe(first?.svg);
  expect(Buffer.from(second?.png ?? []).equals(Buffer.from(first?.png ?? []))).toBe(true);
  expect(dark?.svg).not.toBe(first?.svg);
});

test("light and dark differ in colours only", async () => {
  const figure = figureNamed("Ash");
  const [light, dark] = await Promise.all([
    drawFigure(figure, { mode: "light" }),
    drawFigure(figure, { mode: "dark" }),
  ]);
  const shapes = (svg: string) => svg.replace(/#[0-9a-f]{6}/g, "#");
  expect(shapes(dark.svg)).toBe(shapes(light.svg));
  expect(light.svg).toContain(figureTheme.modes.light.background);
  expect(dark.svg).toContain(figureTheme.modes.dark.background);
});

test("a PNG has the drawing's size times the width scale", async () => {
  const { svg, png } = await drawFigure(figureNamed("Ash"), { widthScale: 3 });
  const size = /width="(\d+)" height="(\d+)"/.exec(svg);
  expect(pngSize(png)).toEqual([3 * Number(size?.[1]), 3 * Number(size?.[2])]);
});

test("a drawing of a thousand rows is a picture of ten million points at most, a short one is twice as fine as drawn", async () => {
  const effects = Array.from({ length: 1000 }, (_, row) => ({
    ...{ study: `Study ${row}`, label: "", estimate: 0.1, low: 0, high: 0.2 },
  }));
  const sizes = async (rows: number) => {
    const figure = estimatesFigure({
      ...{ id: "rows", title: "Rows", scale: "log-ratio-of-means" },
      effects: effects.slice(0, rows),
    });
    const { svg, png } = await drawFigure(figure);
    const [, width, height] = /width="([\d.]+)" height="([\d.]+)"/.exec(svg)!.map(Number);
    const [across, down] = pngSize(png);
    return {
      drawn: width! / height!,
      scale: across / width!,
      picture: across / down,
      points: across * down,
    };
  };
  expect((await sizes(3)).scale).toBe(2);
  const long = await sizes(1000);
  expect(long.points).toBeLessThan(10.01e6);
  expect(long.points).toBeGreaterThan(9e6);
  expect(long.picture / long.drawn).toBeCloseTo(1, 1);
});

test("text is drawn: a figure with names has more ink than the same without", async () => {
  const [named, blank] = await Promise.all([
    drawFigure(figureNamed("Ash Birch Cedar Elm")),
    drawFigure(figureNamed("\u2009")),
  ]);
  expect(named.png.length).toBeGreaterThan(blank.png.length + 500);
});

test("a user's text is text: escaped, whole, and never touched by the finishing", async () => {
  const { svg } = await drawFigure(figureNamed(nasty.slice(0, 22)));
  expect(svg).not.toContain("<script");
  expect(svg).toContain("&lt;script&gt;alert(1)");
  const odd = await drawFigure(figureNamed('a id="clip0" b'));
  expect(odd.svg).toContain('>a id="clip0" b<');
});

test("one image with a title and a description, and no ids another drawing could share", async () => {
  const { svg } = await drawFigure(figureNamed("Ash"));
  expect(svg).toMatch(/^<svg[^>]* role="img" aria-labelledby="small-title small-description">/);
  expect(svg).toContain('<title id="small-title">Small</title>');
  for (const [, id] of svg.matchAll(/ id="([^"]*)"/g)) expect(id).toMatch(/^small-/);
  expect(svg).not.toContain("aria-roledescription");
});

test("long text is shortened to its column, by the real width of its letters", async () => {
  const wide = await drawFigure(figureNamed("W".repeat(80)));
  const narrow = await drawFigure(figureNamed("i".repeat(80)));
  const letters = (svg: string, letter: string) =>
    (new RegExp(`>(${letter}+)\u2026<`).exec(svg)?.[1] ?? "").length;
  expect(letters(wide.svg, "W")).toBeGreaterThan(5);
  expect(letters(narrow.svg, "i")).toBeGreaterThan(2.5 * letters(wide.svg, "W"));
});

describe("refuses", () => {
  test("a specification that compiles with a warning", async () => {
    const figure: Figure = {
      ...figureNamed("Ash"),
      specification: {
        data: { values: [{ a: 1 }] },
        mark: "bar",
        encoding: { x: { field: "a", type: "quantitative" }, shape: { field: "a" } },
      },
    };
    await expect(drawFigure(figure)).rejects.toThrow(/compiles without a warning, got warning/);
    await expect(drawFigure(figureNamed("Ash"))).resolves.toBeDefined();
  });
  test("a scale of nothing and an id that is no file name", async () => {
    await expect(drawFigure(figureNamed("Ash"), { widthScale: 0 })).rejects.toThrow(/got 0/);
    await expect(drawFigure({ ...figureNamed("Ash"), id: "../x" })).rejects.toThrow(/figure id/);
  });
});
