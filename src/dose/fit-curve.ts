/** Shapes fitted to the same effects, and their average. */
import type { Interval } from "../synthesis/synthesis-results.js";
import type { AveragedCurve } from "./averaged-curve.js";
import { compareShapes, shapesThatCount } from "./compare-shapes.js";
import { curveComponent } from "./curve-component.js";
import { curveDesign, type CurveUse } from "./curve-design.js";
import type { DoseData } from "./dose-data.js";
import type { DesignOf } from "./fit-shape.js";
import { comparedDoses } from "./identifiability.js";
import type { MixedModel } from "./mixed-model.js";
import { shapeContext, type ShapeName } from "./shapes/shape.js";

/** The doses that the comparisons behind a curve reach. */
export const rangeOf = ({ support }: DoseData, use: CurveUse): Interval =>
  use === "within studies" ? support.rangeWithin! : { low: support.lowest, high: support.highest };

/**
 * Each shape's fit or why there is none, those that count in the average, and that average.
 *
 * @throws {CallError} "bad-knots"
 * @source none: compareShapes, then curveComponent for each shape that counts
 */
export const fitCurve = (
  data: DoseData,
  use: CurveUse,
  model: MixedModel,
  options: Readonly<{
    shapes: readonly ShapeName[];
    confidence: number;
    knots?: readonly number[] | undefined;
  }>,
) => {
  const { axis, support } = data;
  const context = shapeContext(comparedDoses(data, use), options.knots);
  const designOf: DesignOf = (columns) => curveDesign(data, use, columns);
  const compared = compareShapes(
    model,
    designOf,
    context,
    data,
    use,
    // Between two ways of training there is one line and nothing to compare it with.
    axis.kind === "levels" ? ["straight line"] : options.shapes,
  );
  const kept = shapesThatCount(compared);
  const modelFreedom = Math.max(
    1,
    (use === "within studies" ? support.studiesWithin : support.studies) - 1,
  );
  const range = rangeOf(data, use);
  const components = kept.map(({ fit, weight }) =>
    curveComponent(model, fit!, { context, designOf, weight, range, modelFreedom }),
  );
  const averaged: AveragedCurve = {
    context,
    confidence: options.confidence,
    components: components.map(({ component }) => component),
  };
  return { compared, kept, components, averaged };
};
