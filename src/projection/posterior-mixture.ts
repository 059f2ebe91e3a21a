/** What a posterior that is normal at each of many points says of a sum of coefficients. */
import type { NormalMixture } from "./normal-mixture.js";

/** Points with weights; at each the coefficients are normal with this mean and LLᵀ = precision. */
export type PointwiseNormal = Readonly<{
  weights: Float64Array;
  /** Points × coefficients. */
  means: Float64Array;
  /** Points × coefficients × coefficients, lower L. */
  precisionFactors: Float64Array;
}>;

/**
 * At each point of a posterior, the mean of x′β and L⁻¹x, whose inner products are covariances.
 *
 * @param row x, one number for each coefficient
 * @returns means, and `whitened` (points × coefficients) with Cov(x′β, z′β) = whitened(x)·whitened(z)
 * @source none: x′P⁻¹z with P = LLᵀ
 */
export const posteriorOf = (
  posterior: PointwiseNormal,
  row: ArrayLike<number>,
): Readonly<{ means: Float64Array; whitened: Float64Array }> => {
  const p = row.length;
  const points = posterior.weights.length;
  const means = new Float64Array(points);
  const whitened = new Float64Array(points * p);
  const { precisionFactors: factors } = posterior;
  for (let point = 0; point < points; point++) {
    let mean = 0;
    const at = point * p;
    const corner = at * p;
    for (let a = 0; a < p; a++) {
      mean += row[a]! * posterior.means[at + a]!;
      let total = row[a]!;
      const line = corner + a * p;
      for (let k = 0; k < a; k++) total -= factors[line + k]! * whitened[at + k]!;
      whitened[at + a] = total / factors[line + a]!;
    }
    means[point] = mean;
  }
  return { means, whitened };
};

/** The posterior of x′β as a mixture of normal distributions. */
export const posteriorMixture = (
  posterior: PointwiseNormal,
  row: ArrayLike<number>,
): NormalMixture => {
  const { means, whitened } = posteriorOf(posterior, row);
  const p = row.length;
  return {
    weights: posterior.weights,
    means,
    deviations: means.map((_, point) => {
      let variance = 0;
      for (let a = 0; a < p; a++) variance += whitened[point * p + a]! ** 2;
      return Math.sqrt(variance);
    }),
  };
};
