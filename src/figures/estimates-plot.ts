import { valueText } from "../tables/scale-display.js";
import { axisTicks } from "./axis-ticks.js";
import {
  type ShownEstimates,
  type PooledEstimate,
  estimatesInputDefaults,
} from "./estimates-input.js";
import type { EstimatesLayout } from "./estimates-layout.js";
import { type Layer, type Panel, type Stroke, panelDrawing } from "./layer.js";
import { studyBands } from "./estimates-columns.js";
import { oneLine } from "./wrap-text.js";

export type PooledPlace = Readonly<{
  draw: ReturnType<typeof panelDrawing>;
  layout: EstimatesLayout;
  domain: readonly [number, number];
  plotWidth: number;
}>;

/** Slanted lines that fill a box, cut to its edges; `unit` is one drawing unit along. */
export const hatching = (box: Stroke, unit: number, spacing = 4): readonly Stroke[] => {
  const height = box.y2 - box.y;
  const width = (box.x2 - box.x) / unit;
  const lines: Stroke[] = [];
  for (let start = -height + spacing; start < width; start += spacing) {
    const from = Math.max(0, start);
    const to = Math.min(width, start + height);
    lines.push({
      x: box.x + from * unit,
      y: box.y2 - (from - start),
      x2: box.x + to * unit,
      y2: box.y2 - (to - start),
    });
  }
  return lines;
};

/**
 * The pooled answer: a bar and a hatched bracket on top, and the band that hangs from them through all
 * rows.
 */
export const pooledLayers = (pooled: PooledEstimate, place: PooledPlace): readonly Layer[] => {
  const { draw, layout, domain, plotWidth } = place;
  const { interval, predictionInterval, estimate } = pooled;
  const unit = (domain[1] - domain[0]) / plotWidth;
  const first = layout.pooledTop + 11;
  const second = layout.pooledTop + 33;
  const { foot } = layout;
  const upright = (x: number, from: number): Stroke => ({ x, x2: x, y: from, y2: foot });
  const layers: Layer[] = [];
  if (predictionInterval !== null) {
    const { low, high } = predictionInterval;
    layers.push(
      draw.boxes("prediction band", "prediction-band", [{ x: low, x2: high, y: second, y2: foot }]),
      draw.lines("prediction edges", "prediction-edge", [
        upright(low, second),
        upright(high, second),
      ]),
      draw.lines(
        "prediction hatching",
        "prediction-hatch",
        hatching({ x: low, x2: high, y: second - 5, y2: second + 5 }, unit),
      ),
      draw.lines("prediction bracket", "prediction-bracket", [
        { x: low, x2: low, y: second - 7, y2: second + 7 },
        { x: high, x2: high, y: second - 7, y2: second + 7 },
        { x: low, x2: high, y: second, y2: second },
      ]),
    );
  }
  layers.push(
    draw.boxes("confidence band", "pooled-band", [
      { x: interval.low, x2: interval.high, y: first, y2: foot },
    ]),
    draw.boxes("pooled interval", "pooled-bar", [
      { x: interval.low, x2: interval.high, y: first - 5, y2: first + 5 },
    ]),
    draw.lines("pooled line", "pooled-line", [upright(estimate, first)]),
    draw.boxes("pooled estimate tick", "pooled-tick", [
      { x: estimate - 1.3 * unit, x2: estimate + 1.3 * unit, y: first - 8, y2: first + 8 },
    ]),
  );
  return layers;
};

/** What filled and open marks mean, under the axis. */
const keyLayers = ({
  draw,
  foot,
  at,
}: Pick<PooledPlace, "draw"> &
  Readonly<{ foot: number; at: (x: number) => number }>): readonly Layer[] => {
  const [first, second, third] = [foot + 44, foot + 58, foot + 72];
  const line = (y: number): Stroke => ({ x: at(4), x2: at(24), y, y2: y });
  const circle = (y: number) => ({ x: at(14), y });
  return [
    draw.boxes("key, interval", "effect-middle", [
      { x: at(4), x2: at(24), y: first - 2, y2: first + 2 },
    ]),
    draw.boxes("key, estimate", "effect-tick", [
      { x: at(12.7), x2: at(15.3), y: first - 5, y2: first + 5 },
    ]),
    draw.lines("key, borrowed", "pair-interval", [line(second)]),
    draw.points("key, open", "pair-higher-open", [circle(second), circle(third)]),
    draw.words("key", "text-small", [
      { x: at(30), y: first, text: "a spread of its own" },
      { x: at(30), y: second, text: "spread borrowed, weighted" },
      { x: at(30), y: third, text: "no spread, shown without a weight" },
    ]),
  ];
};

/** The marks: intervals and estimates over the bands of the pooled answer. */
export const plotPanel = (
  input: ShownEstimates,
  layout: EstimatesLayout,
  domain: readonly [number, number],
  plotWidth: number,
): Panel => {
  const { rowHeight, foot, height } = layout;
  const [low, high] = domain;
  const draw = panelDrawing("effects", { width: plotWidth, height, x: domain, y: [0, height] });
  const ticks = axisTicks(domain, input.display, { length: plotWidth });
  const rows = layout.studies.flatMap((study) => study.rows);
  const top = layout.pooledTop - 6;
  const half = Math.min(5, rowHeight * 0.26);
  const cut = (value: number) => Math.min(high, Math.max(low, value));
  const full = ({ row }: (typeof rows)[number]) =>
    oneLine(`${row.study} ${row.label}: ${valueText(input.display, row)}`);
  // The bar darkens from its ends to the estimate, so that the eye rests where the values are likeliest.
  const filled = rows.filter(({ row }) => row.spread === undefined);
  const open = rows.filter(({ row }) => row.spread !== undefined);
  const bar = (share: number, thickness: number) =>
    filled.map(({ row, middle }) => ({
      x: cut(row.estimate - share * (row.estimate - row.low)),
      x2: cut(row.estimate + share * (row.high - row.estimate)),
      y: middle - thickness,
      y2: middle + thickness,
    }));
  const tickWidth = ((high - low) / plotWidth) * 1.3;
  const beyond = (side: "low" | "high") =>
    rows
      .filter(({ row }) => (side === "low" ? row.low < low : row.high > high))
      .map(({ middle }) => ({
        x: side === "low" ? low : high,
        y: middle,
        text: side === "low" ? "\u2039" : "\u203a",
      }));
  const tickRows = (y: number) =>
    ticks.map(({ position, label }) => ({ x: position, y, text: label }));
  const directions = input.directions ?? estimatesInputDefaults.directions;
  const gap = ((high - low) / plotWidth) * 6;
  const zeroInside = low < 0 && high > 0;
  const roomLow = ((0 - low) / (high - low)) * plotWidth > 44;
  const roomHigh = ((high - 0) / (high - low)) * plotWidth > 44;
  const layers: Layer[] = [
    draw.boxes("study bands", "band", studyBands(layout, low, high)),
    draw.lines(
      "grid",
      "grid",
      ticks.map(({ position }) => ({ x: position, x2: position, y: top, y2: foot })),
    ),
    ...(input.pooled === undefined
      ? []
      : pooledLayers(input.pooled, { draw, layout, domain, plotWidth })),
    draw.lines("no change", "zero", [{ x: 0, x2: 0, y: top, y2: foot + 4 }]),
    draw.boxes("intervals", "effect-outer", bar(1, half * 0.55)),
    draw.boxes("intervals, inner two thirds", "effect-middle", bar(2 / 3, half * 0.8)),
    draw.words("intervals cut at the left", "text-strong", beyond("low"), { align: "right" }),
    draw.words("intervals cut at the right", "text-strong", beyond("high"), { align: "left" }),
    {
      ...draw.boxes(
        "estimates",
        "effect-tick",
        filled.map((laid) => ({
          x: laid.row.estimate - tickWidth,
          x2: laid.row.estimate + tickWidth,
          y: laid.middle - half * 1.5,
          y2: laid.middle + half * 1.5,
          full: full(laid),
        })),
      ),
    },
    ...(open.length === 0
      ? []
      : [
          draw.lines(
            "intervals on borrowed spreads",
            "pair-interval",
            open.map(({ row, middle }) => ({
              x: cut(row.low),
              x2: cut(row.high),
              y: middle,
              y2: middle,
            })),
          ),
          draw.points(
            "estimates without a spread of their own",
            "pair-higher-open",
            open.map((laid) => ({ x: laid.row.estimate, y: laid.middle, full: full(laid) })),
          ),
          ...keyLayers({ draw, foot, at: (x) => low + ((high - low) / plotWidth) * x }),
        ]),
    draw.words("headings", "text-heading", [{ x: low, y: 10, text: input.display.label }]),
    draw.words("axis above", "text-small", tickRows(top - 8), { align: "center" }),
    draw.words("axis below", "text-small", tickRows(foot + 12), { align: "center" }),
    draw.words(
      "direction low",
      "text-small",
      zeroInside && roomLow ? [{ x: -gap, y: foot + 27, text: `\u2190 ${directions.low}` }] : [],
      { align: "right" },
    ),
    draw.words(
      "direction high",
      "text-small",
      zeroInside && roomHigh ? [{ x: gap, y: foot + 27, text: `${directions.high} \u2192` }] : [],
    ),
  ];
  return draw.panel(layers);
};
