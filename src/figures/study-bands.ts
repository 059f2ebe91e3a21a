import type { EstimatesLayout } from "./estimates-layout.js";
import type { Stroke } from "./layer.js";

/** The soft grounds that hold each study's rows together, from one edge of a panel to the other. */
export const studyBands = (
  layout: EstimatesLayout,
  left: number,
  right: number,
): readonly Stroke[] =>
  layout.studies.map(({ top, bottom }) => ({ x: left, x2: right, y: top, y2: bottom }));
