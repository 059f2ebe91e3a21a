/** Curves drawn from the uncertainty of an averaged curve: a shape by its weight, then its coefficients. */
import { quantile } from "simple-statistics";
import type { Matrix } from "../numeric/matrix.js";
import type { RandomStream } from "../numeric/random-stream.js";
import { studentTQuantile } from "../numeric/student-t.js";
import { symmetricPower } from "../numeric/symmetric-eigen.js";
import { componentRow, evaluateCurve, type AveragedCurve } from "./averaged-curve.js";

/** Curves on a grid of doses, one Float64Array each. */
export type CurveDraws = Readonly<{ doses: readonly number[]; curves: readonly Float64Array[] }>;

/** A chi-squared draw needs whole degrees of freedom here; at least this many. */
const fewestFreedom = 1;

/**
 * Parametric draws of the whole curve.
 *
 * Coefficients follow the multivariate t about the estimates, with the shape's covariance and the degrees
 * of freedom of a step along it (rounded down), so that few studies make wide draws. The shapes are used in
 * proportion to their weights, by systematic sampling.
 *
 * @param doses grid
 * @param count number of curves
 * @source none: parametric simulation
 */
export const curveDraws = (
  curve: AveragedCurve,
  doses: readonly number[],
  count: number,
  stream: RandomStream,
): CurveDraws => {
  const curves: Float64Array[] = [];
  let reached = 0;
  let made = 0;
  for (const component of curve.components) {
    reached += component.weight;
    const until = Math.round(reached * count);
    if (until === made) continue;
    const rows = doses.map((dose) => componentRow(component, curve.context, dose));
    const p = rows[0]!.length;
    const covariance: Matrix = {
      rows: p,
      columns: p,
      values: Float64Array.from(component.covariance),
    };
    const root = symmetricPower(covariance, 0.5).values;
    const freedom = Math.max(fewestFreedom, Math.floor(component.stepFreedom));
    for (; made < until; made++) {
      const scale = freedom > 200 ? 1 : Math.sqrt(freedom / chiSquaredDraw(freedom, stream));
      const normals = Float64Array.from({ length: p }, () => stream.normal());
      const coefficients = Float64Array.from({ length: p }, (_, i) => {
        let shift = 0;
        for (let j = 0; j < p; j++) shift += root[i * p + j]! * normals[j]!;
        return (component.coefficients[i] ?? 0) + scale * shift;
      });
      curves.push(
        Float64Array.from(rows, (row) => {
          let height = 0;
          for (let k = 0; k < p; k++) height += coefficients[k]! * row[k]!;
          return height;
        }),
      );
    }
  }
  return { doses, curves };
};

const chiSquaredDraw = (freedom: number, stream: RandomStream): number => {
  let total = 0;
  for (let i = 0; i < freedom; i++) total += stream.normal() ** 2;
  return total;
};

/**
 * The multiple of the error that the largest deviation of a drawn curve stays below, with the confidence
 * asked for: what a band needs to hold the whole curve at once, never less than the pointwise quantile.
 *
 * @source none: the definition of a simultaneous band, by drawing
 */
export const simultaneousMultiple = (
  averaged: AveragedCurve,
  { doses, curves }: CurveDraws,
  confidence: number,
): number => {
  const points = doses.map((dose) => evaluateCurve(averaged, dose));
  const largest = curves.map((curve) => {
    let most = 0;
    points.forEach(({ estimate, standardError }, i) => {
      if (standardError > 0) most = Math.max(most, Math.abs(curve[i]! - estimate) / standardError);
    });
    return most;
  });
  const pointwise = Math.max(
    ...points.map(({ degreesOfFreedom }) =>
      studentTQuantile((1 - confidence) / 2, degreesOfFreedom, "upper"),
    ),
  );
  return Math.max(pointwise, quantile(largest, confidence));
};
