import { quantile } from "simple-statistics";
import { studentTQuantile } from "../numeric/student-t.js";
import { evaluateCurve, type AveragedCurve } from "./averaged-curve.js";
import type { CurveDraws } from "./curve-draws.js";

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
