import type { CurveUse } from "./curve-design.js";
import type { DoseSupport } from "./dose-support.js";
import { fewestStudiesWithin, type Refusal } from "./identifiability.js";
import type { Shape, ShapeContext } from "./shapes/shape.js";

/** Fewest studies behind a shape that bends in a way of its own (two columns, or a curved parameter). */
export const fewestStudiesForBend = 5;

/**
 * Why a shape is not tried on these doses, or undefined when it is.
 *
 * A shape with c columns and a curved parameter (counted 1) needs c + 1 + that many distinct doses among the
 * comparisons it is made of; one that bends in a way of its own also needs five studies. Shapes of one column
 * and no further parameter (line, logarithm, square root) need three studies. On two doses every curve is the
 * straight line, so all others need three.
 *
 * @source none: our rule
 */
export const shapeRefusal = (
  shape: Shape,
  context: ShapeContext,
  support: DoseSupport,
  use: CurveUse,
): Refusal | undefined => {
  const columns = shape.columns(context);
  if (columns === 0) return undefined;
  const bends = columns > 1 || shape.parameter !== undefined;
  const dosesNeeded =
    shape.name === "straight line"
      ? 2
      : Math.max(3, columns + 1 + (shape.parameter === undefined ? 0 : 1));
  const studiesNeeded = bends ? fewestStudiesForBend : fewestStudiesWithin;
  const inside = use === "within studies";
  const doses = inside ? support.dosesWithin : support.doses.length;
  const studies = inside ? support.studiesWithin : support.studies;
  const which = inside ? " compared inside studies" : "";
  if (doses < dosesNeeded) {
    return {
      identified: false,
      missing: `needs ${dosesNeeded} distinct doses${which}, there are ${doses}`,
    };
  }
  if (studies < studiesNeeded) {
    return {
      identified: false,
      missing: `needs ${studiesNeeded} studies${inside ? " that compare doses" : ""}, there are ${studies}`,
    };
  }
  return undefined;
};
