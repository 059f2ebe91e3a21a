/**
 * The likelihood of a blocked mixed model at given variance parts, with its score and information.
 *
 * Work grows linearly with the number of blocks: every matrix inverted is one block's own, or (for
 * shared intercepts) as large as the number of groups shared inside one cluster of blocks.
 */
import { multiplyVector } from "../numeric/matrix.js";
import type { BlockProblem } from "./block-problem.js";
import { invertSymmetric } from "./invert-symmetric.js";
import { applyInverse, invertCluster, type InvertedCluster } from "./inverted-cluster.js";
import { likelihoodDerivatives } from "./likelihood-derivatives.js";

export type LikelihoodKind = "restricted-maximum-likelihood" | "maximum-likelihood";

export type LikelihoodValue = Readonly<{
  variances: Float64Array;
  logLikelihood: number;
  /** On the basis, for what is left of y. */
  coefficients: Float64Array;
  /** (X'M⁻¹X)⁻¹ on the basis, row-major. */
  covariance: Float64Array;
  /** y − Xβ, block after block. */
  residuals: Float64Array;
  /** M⁻¹(y − Xβ), block after block. */
  weightedResiduals: Float64Array;
  /** M⁻¹X on the basis with M⁻¹y as a last column, block after block; rows × (columns + 1). */
  weighted: Float64Array;
  /** What the derivatives are made of: the blocks' own inverses, and the clusters'. */
  inverses: Float64Array;
  inverted: readonly InvertedCluster[];
}>;

export type LikelihoodPoint = LikelihoodValue &
  Readonly<{
    /** Derivative of the log likelihood for each variance part. */
    score: Float64Array;
    /** Average of observed and expected information, row-major, parts × parts. */
    information: Float64Array;
  }>;

const logTwoPi = Math.log(2 * Math.PI);

/**
 * The restricted or full likelihood at the given variance parts; undefined where it does not exist.
 *
 *   restricted: ℓ = −½ [ (n−p) ln 2π + ln|M| + ln|X'M⁻¹X| − ln|X'X| + r'M⁻¹r ]
 *   full:       ℓ = −½ [ n ln 2π + ln|M| + r'M⁻¹r ]              r = y − Xβ̂(θ)
 *
 * Shared intercepts enter through (N⁻¹ + ZΘZ')⁻¹ = N − NZ Θ½(I + Θ½Z'NZΘ½)⁻¹Θ½ Z'N, which is well
 * defined at θ = 0.
 *
 * @param problem from blockProblem
 * @param variances θ, one per part, zero or more
 * @param kind which likelihood
 * @returns likelihood and coefficients; undefined when M is not positive definite
 * @source Patterson and Thompson (1971) Biometrika 58:545–554; Woodbury (1950) identity
 */
export const likelihoodValue = (
  problem: BlockProblem,
  variances: ArrayLike<number>,
  kind: LikelihoodKind,
): LikelihoodValue | undefined => {
  const { columns: p, rows, basisAndY } = problem;
  const stride = p + 1;
  const theta = Float64Array.from(variances);
  const inverses = new Float64Array(problem.covariances.length);
  const weighted = new Float64Array(rows * stride);
  const inverted: InvertedCluster[] = [];
  let logDeterminant = 0;
  for (const cluster of problem.clusters) {
    const answer = invertCluster(problem, cluster, theta, inverses);
    if (answer === undefined) return undefined;
    logDeterminant += answer.logDeterminant;
    inverted.push(answer.inverted);
    applyInverse(problem, answer.inverted, inverses, basisAndY, stride, weighted);
  }
  const covariance = new Float64Array(p * p);
  const crossY = new Float64Array(p);
  for (let row = 0; row < rows * stride; row += stride) {
    for (let a = 0; a < p; a++) {
      const left = basisAndY[row + a]!;
      crossY[a]! += left * weighted[row + p]!;
      for (let b = 0; b <= a; b++) covariance[a * p + b]! += left * weighted[row + b]!;
    }
  }
  for (let a = 0; a < p; a++)
    for (let b = 0; b < a; b++) covariance[b * p + a] = covariance[a * p + b]!;
  const logInformation = invertSymmetric(covariance, p);
  if (Number.isNaN(logInformation)) return undefined;
  const coefficients = multiplyVector({ rows: p, columns: p, values: covariance }, crossY);

  const residuals = new Float64Array(rows);
  const weightedResiduals = new Float64Array(rows);
  let squares = 0;
  for (let i = 0; i < rows; i++) {
    const row = i * stride;
    let fitted = 0;
    let weightedFitted = 0;
    for (let a = 0; a < p; a++) {
      fitted += basisAndY[row + a]! * coefficients[a]!;
      weightedFitted += weighted[row + a]! * coefficients[a]!;
    }
    residuals[i] = basisAndY[row + p]! - fitted;
    weightedResiduals[i] = weighted[row + p]! - weightedFitted;
    squares += residuals[i]! * weightedResiduals[i]!;
  }
  const restricted = kind === "restricted-maximum-likelihood";
  const logLikelihood =
    -0.5 *
    ((restricted ? problem.rows - p : problem.rows) * logTwoPi +
      logDeterminant +
      (restricted ? logInformation : 0) +
      squares);
  if (!Number.isFinite(logLikelihood)) return undefined;
  return {
    variances: theta,
    logLikelihood,
    coefficients,
    covariance,
    residuals,
    weightedResiduals,
    weighted,
    inverses,
    inverted,
  };
};

/**
 * A value with its score and information, which cost more than the value itself.
 *
 * @source see likelihoodDerivatives
 */
export const withDerivatives = (
  problem: BlockProblem,
  value: LikelihoodValue,
  kind: LikelihoodKind,
): LikelihoodPoint => ({
  ...value,
  ...likelihoodDerivatives(problem, value, kind === "restricted-maximum-likelihood"),
});

/** The likelihood with its score and information; undefined where it does not exist. */
export const blockLikelihood = (
  problem: BlockProblem,
  variances: ArrayLike<number>,
  kind: LikelihoodKind,
): LikelihoodPoint | undefined => {
  const value = likelihoodValue(problem, variances, kind);
  return value && withDerivatives(problem, value, kind);
};
