import type { FigureMode } from "../figures/theme.js";
import type { FigureSize } from "../figures/frame.js";
import { withType } from "../host/figure-svg.js";
import type { LetterWidths } from "../host/letter-widths.js";
import type { Drawable, DrawnFigure } from "./jobs/draw-job.js";
import type { WorkerClient } from "./worker-client.js";

/** Draws figures beside everything else: long work never holds a drawing up. */
export type Drawer = Readonly<{
  /**
   * The pages of a figure with their SVG text; without a mode and a room, the same as the command line writes.
   *
   * @param points the room a page has
   */
  draw: (
    figure: Drawable,
    mode?: FigureMode,
    size?: FigureSize,
    points?: number,
  ) => Promise<readonly DrawnFigure[]>;
  /** What the figures' text is measured with. */
  letters: LetterWidths;
  /** The type itself, as a style sheet that drawings and reports carry. */
  type: string;
}>;

/** A drawer with a worker of its own, which begins with the first figure. */
export const createDrawer = (
  begin: () => WorkerClient,
  letters: LetterWidths,
  type: string,
): Drawer => {
  let worker: WorkerClient | undefined;
  return {
    letters,
    type,
    draw: async (figure, mode, size, points) => {
      worker ??= begin();
      const drawn = await worker.ask("draw", {
        figure,
        letters,
        ...(mode === undefined ? {} : { mode }),
        ...(size === undefined ? {} : { size }),
        ...(points === undefined ? {} : { points }),
      });
      return drawn.map((one) => ({ ...one, svg: withType(one.svg, type) }));
    },
  };
};
