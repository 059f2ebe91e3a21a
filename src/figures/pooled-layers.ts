import type { PooledEstimate } from "./estimates-input.js";
import type { EstimatesLayout } from "./estimates-layout.js";
import type { Layer, panelDrawing, Stroke } from "./layer.js";

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
