import { refusal, type Note, type Refusal } from "../errors.js";
import type { AveragedCurve, CurveComponent } from "./averaged-curve.js";
import type { Compared } from "./compare-shapes.js";
import type { DoseData } from "./dose-data.js";
import type { Shape, ShapeName } from "./shapes/shape.js";
import { shapes as everyShape } from "./shapes/shapes.js";
import { twoStageCurve } from "./two-stage-check.js";

/**
 * The averaged curve of the two-stage form: one shape's coefficients pooled over studies' own curves, at the level of
 * the one-stage model.
 *
 * @param kept shapes the one-stage model fitted, of which the first without a curved parameter is taken
 * @source Crippa and Orsini (2016) BMC Medical Research Methodology 16:91
 */
export const twoStageAverage = (
  data: DoseData,
  averaged: AveragedCurve,
  names: readonly ShapeName[],
  kept: readonly Compared[],
): Readonly<{ kind: "told"; averaged: AveragedCurve; note: Note }> | Refusal => {
  const straight = names.filter((name) => {
    const shape: Shape = everyShape[name];
    return shape.parameter === undefined && shape.columns(averaged.context) > 0;
  });
  const name = straight.find((one) => kept.some(({ row }) => row.name === one));
  const component = averaged.components.find(({ shape }) => shape === name);
  if (name === undefined || component === undefined) {
    return refusal(
      "no-such-shape",
      "the two-stage form needs a shape without a curved parameter that the file identifies",
    );
  }
  const own = twoStageCurve(data, (dose) => everyShape[name].basis(dose, averaged.context, 0));
  if (own.kind === "refusal") return own;
  const { coefficients, covariance } = own.pooled;
  const q = coefficients.length;
  const size = q + 1;
  const freedom = Math.max(1, own.studies - q);
  const single: CurveComponent = {
    ...component,
    weight: 1,
    coefficients: [component.coefficients[0]!, ...coefficients],
    covariance: Array.from({ length: size * size }, (_, at) => {
      const [i, j] = [Math.floor(at / size), at % size];
      if (i === 0 && j === 0) return component.covariance[0]!;
      return i === 0 || j === 0 ? 0 : covariance.values[(i - 1) * q + j - 1]!;
    }),
    heightFreedom: [{ dose: averaged.context.low, degreesOfFreedom: freedom }],
    stepFreedom: freedom,
  };
  return {
    kind: "told",
    averaged: { ...averaged, components: [single] },
    note: {
      code: "two-stage",
      message: `the curve is the average of ${own.studies} studies' own curves (${name}); its level is the one-stage model's`,
    },
  };
};
