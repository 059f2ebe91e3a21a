import type { ClusterRobust } from "../synthesis/cluster-robust.js";
import { coefficient } from "../synthesis/inference.js";
import type { Coefficient } from "../synthesis/synthesis-results.js";

/**
 * A contrast's coefficient with robust error; undefined below one degree of freedom.
 * @param estimate its value, which need not be the linear model's own
 * @source none: a definition
 */
export const robustCoefficient = (
  robust: ClusterRobust,
  contrast: readonly number[],
  estimate: number,
  confidence: number,
): Coefficient | undefined => {
  const degreesOfFreedom = robust.degreesOfFreedom(contrast);
  if (!(degreesOfFreedom >= 1)) return undefined;
  let variance = 0;
  contrast.forEach((a, i) => {
    contrast.forEach((b, j) => {
      variance += a * b * robust.covariance.values[i * contrast.length + j]!;
    });
  });
  return coefficient(
    "gain",
    estimate,
    Math.sqrt(Math.max(0, variance)),
    degreesOfFreedom,
    confidence,
  );
};
