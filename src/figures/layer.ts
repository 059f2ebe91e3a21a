import type { TopLevelSpec } from "vega-lite";

/** One layer of marks, and one panel of layers, as Vega-Lite names them. */
export type Layer = Extract<TopLevelSpec, { layer: unknown }>["layer"][number];
export type Panel = Extract<TopLevelSpec, { hconcat: unknown }>["hconcat"][number];

/** A rectangle, or a line from one point to another, in the panel's own coordinates. */
export type Stroke = Readonly<{ x: number; x2: number; y: number; y2: number }>;
/** A piece of text at a point; `full` is what a pointer held over it shows. */
export type Words = Readonly<{ x: number; y: number; text: string; full?: string }>;
export type Point = Readonly<{ x: number; y: number; full?: string }>;
/** The ground between two heights at one place along. */
export type Reach = Readonly<{ x: number; y: number; y2: number }>;

export type PanelFrame = Readonly<{
  width: number;
  height: number;
  /** Values at the left and the right edge. */
  x: readonly [number, number];
  /** Values at the top and the bottom edge. */
  y: readonly [number, number];
}>;

export type WordsOptions = Readonly<{
  align?: "left" | "center" | "right";
  baseline?: "top" | "middle" | "bottom";
  /** Longest width drawn, in drawing units; longer text ends in an ellipsis. */
  limit?: number;
  fontSize?: number;
  angle?: number;
}>;

const scaleOf = (domain: readonly [number, number], swap: boolean) => {
  const [first, last] = domain;
  const reverse = last < first;
  return {
    domain: reverse ? [last, first] : [first, last],
    reverse: swap ? !reverse : reverse,
    zero: false,
    nice: false,
  };
};

/**
 * Makers of layers that share one frame, and of the panel that holds them.
 *
 * Names of layers begin with the panel's, since a name may stand only once in a specification.
 * Every layer carries its own rows under the fixed field names x, x2, y, y2, text and full, so nothing
 * a user wrote is ever used as a field name, an expression or markup. How a layer looks is named by a
 * style, which the theme fills with colours for the mode it is drawn in. Nothing is computed by the
 * drawing: no aggregation, no bins.
 */
export const panelDrawing = (panelName: string, frame: PanelFrame) => {
  const xScale = scaleOf(frame.x, false);
  const yScale = scaleOf(frame.y, true);
  const x = { field: "x", type: "quantitative" as const, scale: xScale, axis: null, title: null };
  const y = { field: "y", type: "quantitative" as const, scale: yScale, axis: null, title: null };
  const x2 = { field: "x2" };
  const y2 = { field: "y2" };
  const full = { field: "full", type: "nominal" as const };
  const tooltip = (rows: readonly Readonly<{ full?: string }>[]) =>
    rows.some((row) => row.full !== undefined) ? { tooltip: full } : {};

  return {
    boxes: (name: string, style: string, rows: readonly Stroke[]): Layer => ({
      name: `${panelName}: ${name}`,
      data: { values: [...rows] },
      mark: { type: "rect", style },
      encoding: { x, x2, y, y2 },
    }),
    lines: (name: string, style: string, rows: readonly Stroke[]): Layer => ({
      name: `${panelName}: ${name}`,
      data: { values: [...rows] },
      mark: { type: "rule", style },
      encoding: { x, x2, y, y2 },
    }),
    points: (name: string, style: string, rows: readonly Point[]): Layer => ({
      name: `${panelName}: ${name}`,
      data: { values: [...rows] },
      mark: { type: "point", style },
      encoding: { x, y, ...tooltip(rows) },
    }),
    areas: (name: string, style: string, rows: readonly Reach[]): Layer => ({
      name: `${panelName}: ${name}`,
      data: { values: [...rows] },
      mark: { type: "area", style },
      encoding: { x, y, y2 },
    }),
    words: (
      name: string,
      style: string,
      rows: readonly Words[],
      options: WordsOptions = {},
    ): Layer => ({
      name: `${panelName}: ${name}`,
      data: { values: [...rows] },
      mark: { type: "text", style, align: "left", baseline: "middle", ...options },
      encoding: { x, y, text: { field: "text", type: "nominal" }, ...tooltip(rows) },
    }),
    panel: (layers: readonly Layer[]): Panel => ({
      name: panelName,
      width: frame.width,
      height: frame.height,
      layer: [...layers],
    }),
  };
};

/** Frame of a panel measured in drawing units from its top left corner. */
export const plainFrame = (width: number, height: number): PanelFrame => ({
  width,
  height,
  x: [0, width],
  y: [0, height],
});
