import type { ScaleDisplay } from "../tables/scale-display.js";
import { type AxisTick, axisTicks, highest, lowest } from "./axis-ticks.js";
import { panelDrawing, plainFrame, type Panel } from "./layer.js";

/** Upright axis of gains, shared by the panels beside it. */
export type GainAxis = Readonly<{
  width: number;
  height: number;
  bottom: number;
  top: number;
  ticks: readonly AxisTick[];
  /** A gain cut to the axis. */
  cut: (gain: number) => number;
  panel: Panel;
}>;

const width = 58;

/**
 * The axis that holds all given gains and zero, and its panel of marks and heading.
 *
 * @param gains   on the analysis scale
 * @param height  in drawing units
 */
export const gainAxis = (
  gains: readonly number[],
  height: number,
  display: ScaleDisplay,
): GainAxis => {
  const all = [0, ...gains];
  const reach = highest(all) - lowest(all) || 1;
  const bottom = lowest(all) - 0.05 * reach;
  const top = highest(all) + 0.05 * reach;
  const ticks = axisTicks([bottom, top], display, { length: height, labels: "beside" });
  const draw = panelDrawing("gain axis", plainFrame(width, height));
  return {
    width,
    height,
    bottom,
    top,
    ticks,
    cut: (gain) => Math.min(top, Math.max(bottom, gain)),
    panel: draw.panel([
      draw.words(
        "gains",
        "text-small",
        ticks.map(({ position, label }) => ({
          x: width - 8,
          y: ((top - position) / (top - bottom)) * height,
          text: label,
        })),
        { align: "right" },
      ),
      draw.words("gain heading", "text-heading", [{ x: 8, y: height / 2, text: display.label }], {
        align: "center",
        angle: 270,
        limit: height,
      }),
    ]),
  };
};
