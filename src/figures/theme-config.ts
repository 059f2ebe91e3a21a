import type { Config } from "vega-lite";

import type { Figure } from "./figure.js";
import { figureTheme, type FigureMode } from "./theme.js";

/** How wide the outline of a range is, and how a bar is placed so that its outline ends where its range does. */
const edge = 1.4;
export const insideEnds = { xOffset: edge / 2, x2Offset: -edge / 2 } as const;

/**
 * The Vega-Lite configuration that gives every named style its look in one mode.
 *
 * Figures name styles ("effect-tick", "pooled-band") and hold no colours of their own, so the same
 * specification is drawn for paper and for a dark room by exchanging this configuration alone.
 *
 * @param mode  light or dark
 * @returns a configuration for the top of a specification
 */
export const themeConfig = (mode: FigureMode): Config => {
  const colour = figureTheme.modes[mode];
  const { sizes } = figureTheme;
  const text = (color: string, fontSize: number, fontWeight: 400 | 600 = 400) => ({
    color,
    fontSize,
    fontWeight,
    font: figureTheme.font,
  });
  const axisText = (of: "label" | "title", color: string, weight: 400 | 600 = 400) => ({
    [`${of}Color`]: color,
    [`${of}Font`]: figureTheme.font,
    [`${of}FontSize`]: sizes.small,
    [`${of}FontWeight`]: weight,
  });
  const box = (color: string, opacity = 1) => ({ color, opacity, strokeWidth: 0 });
  const line = (color: string, strokeWidth: number, strokeDash?: number[]) => ({
    color,
    strokeWidth,
    ...(strokeDash === undefined ? {} : { strokeDash }),
  });
  const dot = {
    filled: true,
    stroke: colour.mark,
    strokeWidth: 1.4,
    opacity: 1,
    shape: "circle" as const,
  };

  return {
    font: figureTheme.font,
    background: colour.background,
    padding: 14,
    view: { stroke: null },
    concat: { spacing: 0 },
    aria: false,
    title: {
      anchor: "start",
      frame: "group",
      offset: 14,
      color: colour.ink,
      font: figureTheme.headingFont,
      subtitleFont: figureTheme.font,
      fontSize: sizes.title,
      fontWeight: 600,
      lineHeight: 21,
      subtitleColor: colour.quiet,
      subtitleFontSize: sizes.subtitle,
      subtitleFontWeight: 400,
      subtitleLineHeight: 16,
      subtitlePadding: 5,
    },
    axis: {
      ...axisText("label", colour.quiet),
      ...axisText("title", colour.quiet, 600),
      titlePadding: 6,
      labelPadding: 4,
      domain: false,
      domainColor: colour.zero,
      gridColor: colour.grid,
      tickColor: colour.grid,
    },
    legend: {
      ...axisText("label", colour.ink),
      labelLimit: 0,
      offset: 8,
      symbolType: "square",
      symbolStrokeColor: colour.mark,
      symbolBaseFillColor: colour.mark,
      symbolStrokeWidth: 1.4,
      symbolSize: 110,
    },
    // The first kind of a scale is filled, the others are hollow.
    range: {
      category: [colour.mark, colour.background, colour.background],
      // What trials measured, and what was computed from them.
      ordinal: [colour.markMiddle, colour.pooled],
      // What is computed, from the narrowest range outwards, and the edges of all three.
      ramp: [colour.pooled, colour.pooledTint, "transparent"],
      diverging: [colour.pooled, colour.pooled, colour.pooled],
      // What nobody measured, and what was computed.
      heatmap: [colour.rest, colour.pooled],
      // A week of sessions, and what changed in it.
      symbol: [colour.rest, colour.changed],
    },
    style: {
      "text-body": text(colour.ink, sizes.body),
      "text-strong": text(colour.ink, sizes.body, 600),
      "text-quiet": text(colour.quiet, sizes.body),
      "text-heading": text(colour.quiet, sizes.heading, 600),
      "text-small": text(colour.quiet, sizes.small),
      "text-pooled": text(colour.pooledText, sizes.body),
      "text-pooled-strong": text(colour.pooledText, sizes.body, 600),
      "text-changed": text(colour.changed, sizes.body, 600),
      "text-empty": text(colour.empty, sizes.body),
      "text-on-hold": text(colour.background, sizes.body, 600),
      band: box(colour.band),
      ground: box(colour.background),
      grid: line(colour.grid, 1),
      zero: line(colour.zero, 1.2),
      zone: box(colour.grid, 0.45),
      "zone-edge": line(colour.empty, 1),
      range: { stroke: colour.mark, strokeWidth: edge, opacity: 1 },
      "hollow-tick": { color: colour.mark },
      "text-group": {
        ...text(colour.ink, sizes.body, 600),
        font: figureTheme.headingFont,
        fontSize: 12.5,
      },
      "effect-outer": box(colour.markOuter),
      "effect-middle": box(colour.markMiddle),
      "effect-tick": box(colour.mark),
      "arm-point": { color: colour.mark, strokeWidth: 1.4, opacity: 1, shape: "circle", size: 42 },
      "arm-line": line(colour.markOuter, 1),
      "open-point": { color: colour.mark, strokeWidth: 1.4, opacity: 1, shape: "circle", size: 78 },
      "trained-ring": {
        color: colour.ink,
        strokeWidth: 1.2,
        opacity: 1,
        shape: "circle",
        size: 130,
      },
      "curve-line": { color: colour.pooled, strokeCap: "butt" },
      "reach-line": line(colour.pooled, 5),
      "reach-tick": { color: colour.ink },
      "runs-on": { filled: true, color: colour.pooled, opacity: 1, size: 60 },
      "pair-line": line(colour.mark, 1.6),
      "moved-line": line(colour.changed, 2),
      "moved-point": { filled: true, strokeWidth: 1.4, opacity: 1, shape: "circle", size: 60 },
      "pair-interval": { ...line(colour.markMiddle, 1.4), opacity: 0.75 },
      "pair-point": dot,
      "pooled-band": box(colour.pooled, 0.18),
      "pooled-bar": box(colour.pooled),
      track: { color: colour.background, stroke: colour.rest, strokeWidth: 1, opacity: 1 },
      "pooled-tick": box(colour.ink),
      "pooled-line": line(colour.pooled, 1.6),
      // Through a few places of each hold and rest, without corners between them.
      "capacity-band": { ...box(colour.pooled, 0.18), interpolate: "monotone" },
      "capacity-edge": { ...line(colour.pooled, 0.9), opacity: 0.75, interpolate: "monotone" },
      "capacity-line": { ...line(colour.pooled, 1.6), interpolate: "monotone" },
      "runs-out": {
        filled: true,
        color: colour.changed,
        stroke: colour.background,
        strokeWidth: 0.8,
        opacity: 1,
        size: 60,
      },
      "prediction-band": box(colour.pooled, 0.05),
      "prediction-edge": line(colour.pooled, 1, [3, 3]),
      "prediction-bracket": line(colour.pooled, 1.8),
      "computed-range": { strokeWidth: edge, opacity: 1 },
      "range-tick": box(colour.background),
      "computed-mark": { color: colour.pooled },
      "computed-tick": line(colour.background, 1.8),
      "computed-tint": {
        color: colour.pooledTint,
        stroke: colour.pooled,
        strokeWidth: 1,
        opacity: 1,
      },
      "computed-line": line(colour.pooled, 2.2),
      "computed-broken": line(colour.pooled, 1.2, [3, 3]),
      studied: box(colour.rest),
      week: { strokeWidth: 0, opacity: 1 },
      graded: { color: colour.hold, stroke: colour.hold, strokeWidth: 1, opacity: 1 },
      "candidate-point": { filled: true, opacity: 1, strokeWidth: 0, shape: "circle" },
      "frontier-line": line(colour.pooled, 1.4),
      hold: box(colour.hold),
      "hold-quiet": box(colour.hold, 0.45),
      rest: line(colour.rest, 1),
      "rest-between-sets": line(colour.rest, 1, [1.5, 2.5]),
      "cell-studied": {
        color: colour.markMiddle,
        stroke: colour.markMiddle,
        strokeWidth: 1,
        opacity: 1,
      },
      "cell-empty": { color: colour.background, stroke: colour.grid, strokeWidth: 1 },
    },
  };
};

/** The same figure, to be drawn in the given mode. */
export const figureInMode = (figure: Figure, mode: FigureMode): Figure => ({
  ...figure,
  specification: { ...figure.specification, config: themeConfig(mode) },
});
