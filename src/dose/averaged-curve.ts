/**
 * Curves kept as a few numbers: cheap to read at any dose, without the effects they came from.
 */
import { studentTQuantile } from "../numeric/student-t.js";
import type { Interval } from "../synthesis/synthesis-results.js";
import type { ShapeContext, ShapeName } from "./shapes/shape.js";
import { shapes } from "./shapes/shapes.js";

/** One shape's curve: α + Σ b_k (f_k(x) − centre_k), with what is needed for its error. */
export type CurveComponent = Readonly<{
  shape: ShapeName;
  parameter?: number;
  /** Share in the average, 0–1. */
  weight: number;
  /** Level, then the columns. */
  coefficients: readonly number[];
  centres: readonly number[];
  /**
   * Covariance of level, columns and (where the shape has a curved parameter that could move) one more
   * coefficient for the curve's derivative by it; row-major.
   */
  covariance: readonly number[];
  /** Centre of the derivative's column; absent where there is none. */
  derivativeCentre?: number;
  /** Degrees of freedom of the curve's height, at some doses, ascending; between them by straight lines. */
  heightFreedom: readonly Readonly<{ dose: number; degreesOfFreedom: number }>[];
  /** Degrees of freedom of a step along the curve. */
  stepFreedom: number;
}>;

/** A weighted average of curves. */
export type AveragedCurve = Readonly<{
  context: ShapeContext;
  confidence: number;
  components: readonly CurveComponent[];
}>;

/** A height or a step with its pointwise interval. */
export type CurvePoint = Readonly<{
  dose: number;
  estimate: number;
  standardError: number;
  degreesOfFreedom: number;
  interval: Interval;
}>;

/** Part of the range over which a derivative by the curved parameter is taken. */
const derivativeShare = 1e-5;

/**
 * Change of the first column with the curved parameter (in the context's unit), by central difference.
 *
 * @param reach how far to either side the difference is taken, at least
 */
export const parameterDerivative = (
  shape: ShapeName,
  context: ShapeContext,
  parameter: number,
  dose: number,
  reach = 0,
): number => {
  const range = context.high - context.low;
  const least = derivativeShare * Math.max(range, Math.abs(parameter) * 1e-3);
  const step = Math.max(least, Math.min(reach, range / 2));
  const { basis } = shapes[shape];
  return (
    ((basis(dose, context, parameter + step)[0]! - basis(dose, context, parameter - step)[0]!) /
      (2 * step)) *
    context.unit
  );
};

/**
 * How far a corner may lie from where it is fitted, so that the curve's error does not jump there: the derivative is
 * averaged over an even spread of the corner's place with its own standard error, √3 of them to either side.
 *
 * @source Brown and Wang (2005) Standard errors and covariance matrices for smoothed rank estimators, Biometrika 92 (errors of functions with a corner, smoothed by the estimate's own)
 */
const cornerReach = (component: CurveComponent, { unit }: ShapeContext): number => {
  const { shape, coefficients, covariance } = component;
  if (shapes[shape].corner !== true) return 0;
  return (Math.sqrt(3 * Math.max(0, covariance.at(-1)!)) * unit) / Math.abs(coefficients[1]!);
};

/** The component's row at a dose: 1, columns off their centres, and the derivative's column. */
export const componentRow = (
  component: CurveComponent,
  context: ShapeContext,
  dose: number,
): readonly number[] => {
  const { shape, parameter = 0, centres, derivativeCentre } = component;
  const columns = shapes[shape].basis(dose, context, parameter);
  const row = [1, ...columns.map((value, k) => value - centres[k]!)];
  if (derivativeCentre !== undefined) {
    const reach = cornerReach(component, context);
    row.push(parameterDerivative(shape, context, parameter, dose, reach) - derivativeCentre);
  }
  return row;
};

const heightOf = (component: CurveComponent, row: readonly number[]): number =>
  component.coefficients.reduce((total, b, k) => total + b * row[k]!, 0);

/** Height of one shape's curve at a dose. */
export const componentHeight = (
  component: CurveComponent,
  context: ShapeContext,
  dose: number,
): number => heightOf(component, componentRow(component, context, dose));

const varianceOf = ({ covariance }: CurveComponent, row: readonly number[]): number => {
  const p = row.length;
  let total = 0;
  for (let i = 0; i < p; i++) {
    for (let j = 0; j < p; j++) total += row[i]! * covariance[i * p + j]! * row[j]!;
  }
  return Math.max(0, total);
};

/**
 * Degrees of freedom at a dose, smooth between the places at which they are known and never outside their neighbours':
 * a cubic whose slope at a place is the harmonic mean of the steps on its two sides, or 0 where they turn.
 *
 * @source Fritsch and Butland (1984) SIAM Journal on Scientific and Statistical Computing 5:300–304
 */
const freedomAt = ({ heightFreedom: places }: CurveComponent, dose: number): number => {
  const next = places.findIndex((place) => dose <= place.dose);
  if (next <= 0) return places.at(next)!.degreesOfFreedom;
  const [low, high] = [places[next - 1]!, places[next]!];
  const width = high.dose - low.dose;
  const rise = (i: number): number => {
    const [from, to] = [places[i - 1], places[i]];
    return from === undefined || to === undefined
      ? 0
      : (to.degreesOfFreedom - from.degreesOfFreedom) / (to.dose - from.dose);
  };
  const slope = (before: number, after: number): number =>
    before * after > 0 ? (2 * before * after) / (before + after) : 0;
  const t = (dose - low.dose) / width;
  const [first, last] = [slope(rise(next - 1), rise(next)), slope(rise(next), rise(next + 1))];
  return (
    low.degreesOfFreedom +
    (high.degreesOfFreedom - low.degreesOfFreedom) * t * t * (3 - 2 * t) +
    width * t * (1 - t) * ((1 - t) * first - t * last)
  );
};

/**
 * Average of the shapes' answers with an error that holds the choice of shape.
 *
 *   estimate = Σ w_m y_m      standard error = Σ w_m √(SE_m² + (y_m − estimate)²)
 *
 * @source Buckland, Burnham and Augustin (1997) Biometrics 53:603–618, equation 9
 */
const averagedPoint = (
  curve: AveragedCurve,
  dose: number,
  rowOf: (component: CurveComponent) => readonly number[],
  freedomOf: (component: CurveComponent) => number,
): CurvePoint => {
  const parts = curve.components
    .filter(({ weight }) => weight > 0)
    .map((component) => {
      const row = rowOf(component);
      return {
        weight: component.weight,
        height: heightOf(component, row),
        variance: varianceOf(component, row),
        degreesOfFreedom: freedomOf(component),
      };
    });
  let estimate = 0;
  for (const { weight, height } of parts) estimate += weight * height;
  let standardError = 0;
  let degreesOfFreedom = 0;
  for (const part of parts) {
    standardError += part.weight * Math.sqrt(part.variance + (part.height - estimate) ** 2);
    degreesOfFreedom += part.weight * part.degreesOfFreedom;
  }
  const half =
    standardError === 0
      ? 0
      : standardError * studentTQuantile((1 - curve.confidence) / 2, degreesOfFreedom, "upper");
  return {
    dose,
    estimate,
    standardError,
    degreesOfFreedom,
    interval: { low: estimate - half, high: estimate + half },
  };
};

/**
 * The averaged curve at a dose, without refitting anything.
 *
 * @param curve from `doseResponse`
 * @param dose  in the axis's unit
 * @returns gain on the effects' scale, its error with the choice of shape in it, pointwise interval
 * @source Buckland, Burnham and Augustin (1997) Biometrics 53:603–618, equation 9
 */
export const evaluateCurve = (curve: AveragedCurve, dose: number): CurvePoint =>
  averagedPoint(
    curve,
    dose,
    (component) => componentRow(component, curve.context, dose),
    (component) => freedomAt(component, dose),
  );

/** The difference of the averaged curve between two doses, `to` minus `from`; `dose` is `to`. */
export const curveStep = (curve: AveragedCurve, from: number, to: number): CurvePoint =>
  averagedPoint(
    curve,
    to,
    (component) => {
      const start = componentRow(component, curve.context, from);
      return componentRow(component, curve.context, to).map((value, k) => value - start[k]!);
    },
    ({ stepFreedom }) => stepFreedom,
  );
