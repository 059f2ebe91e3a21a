import type { Interval } from "../synthesis/synthesis-results.js";
import { ConvergenceError } from "../errors.js";
import type { Matrix } from "../numeric/matrix.js";
import { toldDoses } from "./curve-grid.js";
import { componentRow, parameterDerivative, type CurveComponent } from "./averaged-curve.js";
import type { DesignOf, ShapeFit } from "./fit-shape.js";
import type { MixedFit, MixedModel } from "./mixed-model.js";
import type { ShapeContext } from "./shapes/shape.js";

/** Doses at which degrees of freedom are worked out. */
const freedomPlaces = 13;
/** Robust errors on fewer degrees of freedom than this give way to the model's own. */
const fewestRobustFreedom = 2;

export type ComponentOptions = Readonly<{
  context: ShapeContext;
  designOf: DesignOf;
  weight: number;
  /** Doses the curve is read between. */
  range: Interval;
  /** Degrees of freedom where the model's own errors are used: studies less coefficients. */
  modelFreedom: number;
}>;

export type ComponentAnswer = Readonly<{
  component: CurveComponent;
  errors: "robust by study" | "of the model";
  fit: MixedFit;
}>;

/**
 * A fitted shape as a component of the averaged curve.
 *
 * Coefficients by restricted maximum likelihood with the curved parameter at its maximum likelihood value.
 * Their covariance comes from the model made linear there: the curve's derivative by the parameter joins the
 * design, so that the parameter's own uncertainty is in every error. Errors are bias-reduced and robust by
 * study; where these rest on fewer than two degrees of freedom the model's own take their place.
 *
 * @source Bates and Watts (1988) Nonlinear Regression Analysis, section 2.2 (linear approximation)
 */
export const curveComponent = (
  model: MixedModel,
  shaped: ShapeFit,
  options: ComponentOptions,
): ComponentAnswer => {
  const { context, designOf, weight, range, modelFreedom } = options;
  const { shape, parameter, design } = shaped;
  const fit = model.fit(design.design);
  const q = design.curveColumns;
  let wide = design;
  let withDerivative = false;
  if (parameter !== undefined && shape.parameter?.kind === "dose" && !shaped.atBound) {
    const bent = designOf((dose) => [
      ...shape.basis(dose, context, parameter),
      parameterDerivative(shape.name, context, parameter, dose),
    ]);
    if (model.aliased(bent.design).length === 0 && bent.design.columns < model.effects.length) {
      wide = bent;
      withDerivative = true;
    }
  }
  const linear = withDerivative ? model.fit(wide.design, { fixed: fit.fit.variances }) : fit;
  const size = 1 + q + (withDerivative ? 1 : 0);
  const covarianceOf = (full: Matrix): readonly number[] =>
    Array.from(
      { length: size * size },
      (_, at) => full.values[Math.floor(at / size) * full.columns + (at % size)]!,
    );
  const bare: CurveComponent = {
    shape: shape.name,
    ...(parameter === undefined ? {} : { parameter }),
    weight,
    coefficients: Array.from(fit.coefficients.subarray(0, 1 + q)),
    centres: design.centres,
    covariance: covarianceOf(linear.covariance),
    ...(withDerivative ? { derivativeCentre: wide.centres[q]! } : {}),
    heightFreedom: [{ dose: range.low, degreesOfFreedom: modelFreedom }],
    stepFreedom: modelFreedom,
  };
  const robust = robustErrors(model, wide.design, linear);
  if (robust === undefined) return { component: bare, errors: "of the model", fit };
  const padded = (row: readonly number[]): readonly number[] =>
    Array.from({ length: wide.design.columns }, (_, k) => row[k] ?? 0);
  const rowAt = (dose: number): readonly number[] => padded(componentRow(bare, context, dose));
  const heightFreedom = toldDoses(range, freedomPlaces).map((dose) => ({
    dose,
    degreesOfFreedom: robust.degreesOfFreedom(rowAt(dose)),
  }));
  const start = rowAt(range.low);
  const stepFreedom =
    q === 0
      ? heightFreedom[0]!.degreesOfFreedom
      : robust.degreesOfFreedom(rowAt(range.high).map((value, k) => value - start[k]!));
  const fewest = Math.min(stepFreedom, ...heightFreedom.map((place) => place.degreesOfFreedom));
  if (!(fewest >= fewestRobustFreedom)) return { component: bare, errors: "of the model", fit };
  return {
    component: { ...bare, covariance: covarianceOf(robust.covariance), heightFreedom, stepFreedom },
    errors: "robust by study",
    fit,
  };
};

const robustErrors = (model: MixedModel, design: Matrix, fit: MixedFit) => {
  try {
    return model.robust(design, fit);
  } catch (error) {
    if (error instanceof ConvergenceError) return undefined;
    throw error;
  }
};
