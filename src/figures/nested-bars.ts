/** Ranges inside each other as encoded bars: how far each reaches along a real axis, and which of the kinds it is. */
import type { panelDrawing, Encoding, Layer } from "./layer.js";
import { insideEnds } from "./theme-config.js";

/** From the narrowest outwards, as the legend lists them. */
export const nestedKinds = ["the average", "a new group", "a single person"] as const;
export type NestedKind = (typeof nestedKinds)[number];

export type NestedBar = Readonly<{
  kind: NestedKind;
  /** Row it stands in. */
  row: number;
  low: number;
  estimate: number;
  high: number;
}>;

const thickness: Readonly<Record<NestedKind, number>> = {
  "the average": 0.42,
  "a new group": 0.72,
  "a single person": 1,
};

/** The colours of the kinds, by names that each mode of the theme fills; one legend for fills and edges. */
export const nestedColours = (legend: Encoding = {}): Encoding => {
  const kind = (range: "ramp" | "diverging") => ({
    field: "kind",
    type: "ordinal",
    scale: { domain: [...nestedKinds], range },
    legend: { title: null, orient: "top", direction: "horizontal", ...legend },
  });
  return { fill: kind("ramp"), stroke: kind("diverging") };
};

/**
 * Bars of the widest kind first, each outlined, the average filled with its middle cut out, and the line of no change.
 *
 * @param tops    top of each row's bars, in drawing units
 * @param height  of the widest kind's bar
 */
export const nestedBars = (
  draw: ReturnType<typeof panelDrawing>,
  bars: readonly NestedBar[],
  { tops, height }: Readonly<{ tops: readonly number[]; height: number }>,
): readonly Layer[] => {
  const placed = bars.map(({ kind, row, low, estimate, high }) => {
    const half = (thickness[kind] * height) / 2;
    const middle = tops[row]! + height / 2;
    return { kind, x: low, x2: high, y: middle - half, y2: middle + half, estimate };
  });
  const rows = [...new Set(bars.map(({ row }) => row))];
  return [
    draw.boxes("ranges", "computed-range", placed, nestedColours(), insideEnds),
    draw.lines(
      "middles",
      "computed-tick",
      placed
        .filter(({ kind }) => kind === "the average")
        .map(({ estimate, y, y2 }) => ({ x: estimate, x2: estimate, y: y + 0.7, y2: y2 - 0.7 })),
    ),
    draw.lines(
      "no change",
      "zero",
      rows.map((row) => ({ x: 0, x2: 0, y: tops[row]! - 2, y2: tops[row]! + height + 2 })),
    ),
  ];
};
