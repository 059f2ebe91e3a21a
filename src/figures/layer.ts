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
  /** Axes that the drawing library draws, where the values are read; none where left out. */
  xAxis?: Encoding;
  yAxis?: Encoding;
}>;

/** What an axis or a further channel says, in the words of the specification. */
export type Encoding = Readonly<Record<string, unknown>>;

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
  const x = { field: "x", type: "quantitative", scale: xScale, axis: frame.xAxis ?? null };
  const y = { field: "y", type: "quantitative", scale: yScale, axis: frame.yAxis ?? null };
  const [x2, y2] = [{ field: "x2" }, { field: "y2" }];
  const full = { field: "full", type: "nominal" };
  const layer = (
    name: string,
    mark: Encoding,
    rows: readonly object[],
    encoding: Encoding,
  ): Layer =>
    ({
      name: `${panelName}: ${name}`,
      data: { values: [...rows] },
      mark,
      encoding: {
        ...encoding,
        ...(rows.some((row) => "full" in row) ? { tooltip: full } : {}),
      },
    }) as unknown as Layer;

  const words = (
    name: string,
    style: string,
    rows: readonly Words[],
    options: WordsOptions = {},
  ): Layer =>
    layer(name, { type: "text", style, align: "left", baseline: "middle", ...options }, rows, {
      x,
      y,
      text: { field: "text", type: "nominal" },
    });

  return {
    boxes: <Row extends Stroke>(
      name: string,
      style: string,
      rows: readonly Row[],
      more: Encoding = {},
      look: Encoding = {},
    ): Layer => layer(name, { type: "rect", style, ...look }, rows, { x, x2, y, y2, ...more }),
    lines: (name: string, style: string, rows: readonly Stroke[]): Layer =>
      layer(name, { type: "rule", style }, rows, { x, x2, y, y2 }),
    points: <Row extends Point>(
      name: string,
      style: string,
      rows: readonly Row[],
      more: Encoding = {},
    ): Layer => layer(name, { type: "point", style }, rows, { x, y, ...more }),
    /** Lines through points, one for each value of the field that `more` splits by. */
    paths: <Row extends Point>(
      name: string,
      style: string,
      rows: readonly Row[],
      more: Encoding = {},
    ): Layer => layer(name, { type: "line", style }, rows, { x, y, ...more }),
    areas: <Row extends Reach>(
      name: string,
      style: string,
      rows: readonly Row[],
      more: Encoding = {},
    ): Layer => layer(name, { type: "area", style }, rows, { x, y, y2, ...more }),
    words,
    /** Words each in a style of its own, a layer a style, named after it. */
    styledWords: (rows: readonly (Words & Readonly<{ style: string }>)[]): readonly Layer[] =>
      [...new Set(rows.map(({ style }) => style))].map((style) =>
        words(
          style.replace("text-", ""),
          style,
          rows.filter((row) => row.style === style).map(({ style: _, ...row }) => row),
        ),
      ),
    panel: (layers: readonly Layer[]): Panel => ({
      name: panelName,
      width: frame.width,
      height: frame.height,
      layer: [...layers],
    }),
  };
};

/** An axis up the left edge, its title lying above it. */
export const uprightAxis = (title: string, height: number): Encoding => ({
  title,
  titleAngle: 0,
  titleAlign: "left",
  titleBaseline: "bottom",
  titleAnchor: "end",
  titleX: 0,
  titleY: -8,
  tickCount: Math.max(3, Math.round(height / 40)),
});

/** Where the labels of an upright axis stand, so that the panel beside it begins at the figure's left edge. */
export const axisRoom = (name: string, width: number, height: number): Panel => {
  const draw = panelDrawing(name, plainFrame(width, height));
  return draw.panel([draw.words("none", "text-small", [])]);
};

/** Frame of a panel measured in drawing units from its top left corner. */
export const plainFrame = (width: number, height: number): PanelFrame => ({
  width,
  height,
  x: [0, width],
  y: [0, height],
});
