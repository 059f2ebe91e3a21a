import { studentTQuantile } from "../numeric/student-t.js";
import type { MultilevelResult } from "./synthesis-results.js";

/**
 * A multilevel average with the interval that is shown first: the cluster-robust one where it exists.
 *
 * The model's own interval rests on having guessed the dependence inside studies; the robust one holds
 * when that guess is wrong, and its degrees of freedom fall to what so few studies can carry. The
 * prediction interval is widened to match:
 *
 *   estimate ± t(df_robust) · √(SE_robust² + Σ θ)
 *
 * @param result  a model without moderators; any other, or one of a single study, comes back unchanged
 * @returns the same result with estimate's error, interval, p and prediction interval replaced
 * @source Pustejovsky and Tipton (2022) Prevention Science 23:425–438 (robust after a working model)
 */
export const headlineAnswer = (result: MultilevelResult): MultilevelResult => {
  const average = result.robust?.coefficients[0];
  if (average === undefined || result.coefficients.length > 1) return result;
  const { estimate, standardError, interval, degreesOfFreedom, p } = average;
  const spread = Object.values(result.varianceByLevel).reduce((sum, part) => sum + part, 0);
  const tail = (1 + result.story.confidence) / 2;
  const reach =
    studentTQuantile(tail, degreesOfFreedom) * Math.sqrt(standardError * standardError + spread);
  return {
    ...result,
    standardError,
    interval,
    degreesOfFreedom,
    p,
    predictionInterval:
      result.predictionInterval === null ? null : { low: estimate - reach, high: estimate + reach },
    story: {
      ...result.story,
      intervalMethod:
        "Student t with Satterthwaite degrees of freedom, cluster-robust standard errors by study (bias-reduced)",
    },
  };
};
