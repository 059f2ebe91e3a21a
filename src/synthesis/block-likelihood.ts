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
  /** y − Xβ by block. */
  residuals: readonly Float64Array[];
  /** M⁻¹(y − Xβ) by block. */
  weightedResiduals: readonly Float64Array[];
  /** M⁻¹X by block on the basis, row-major. */
  weightedBases: readonly Float64Array[];
  /** M⁻¹ by cluster, from which the derivatives are made. */
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
  const p = problem.columns;
  const theta = Float64Array.from(variances);
  const weightedBases: Float64Array[] = new Array<Float64Array>(problem.blocks.length);
  const weightedY: Float64Array[] = new Array<Float64Array>(problem.blocks.length);
  const cross = new Float64Array(p * p);
  const crossY = new Float64Array(p);
  const inverted: InvertedCluster[] = [];
  let logDeterminant = 0;
  for (const cluster of problem.clusters) {
    const answer = invertCluster(problem, cluster, theta);
    if (answer === undefined) return undefined;
    logDeterminant += answer.logDeterminant;
    inverted.push(answer.inverted);
    const columns = applyInverse(
      problem,
      answer.inverted,
      cluster.blocks.map((index) => problem.blocks[index]!.basisAndY),
      p + 1,
    );
    cluster.blocks.forEach((index, position) => {
      const block = problem.blocks[index]!;
      const { rows, basis } = block;
      const both = columns[position]!;
      const weighted = new Float64Array(rows * p);
      const values = new Float64Array(rows);
      for (let i = 0; i < rows; i++) {
        for (let a = 0; a < p; a++) weighted[i * p + a] = both[i * (p + 1) + a]!;
        values[i] = both[i * (p + 1) + p]!;
        for (let a = 0; a < p; a++) {
          const left = basis[i * p + a]!;
          crossY[a]! += left * values[i]!;
          for (let b = 0; b <= a; b++) cross[a * p + b]! += left * weighted[i * p + b]!;
        }
      }
      weightedBases[index] = weighted;
      weightedY[index] = values;
    });
  }
  for (let a = 0; a < p; a++) for (let b = 0; b < a; b++) cross[b * p + a] = cross[a * p + b]!;
  const covariance = cross;
  const logInformation = invertSymmetric(covariance, p);
  if (Number.isNaN(logInformation)) return undefined;
  const coefficients = multiplyVector({ rows: p, columns: p, values: covariance }, crossY);

  const residuals: Float64Array[] = [];
  const weightedResiduals: Float64Array[] = [];
  let squares = 0;
  problem.blocks.forEach((block, index) => {
    const residual = new Float64Array(block.rows);
    const weighted = new Float64Array(block.rows);
    for (let i = 0; i < block.rows; i++) {
      let fitted = 0;
      let weightedFitted = 0;
      for (let a = 0; a < p; a++) {
        fitted += block.basis[i * p + a]! * coefficients[a]!;
        weightedFitted += weightedBases[index]![i * p + a]! * coefficients[a]!;
      }
      residual[i] = block.y[i]! - fitted;
      weighted[i] = weightedY[index]![i]! - weightedFitted;
      squares += residual[i]! * weighted[i]!;
    }
    residuals.push(residual);
    weightedResiduals.push(weighted);
  });
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
    weightedBases,
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
  ...likelihoodDerivatives(problem, value.inverted, {
    ...value,
    restricted: kind === "restricted-maximum-likelihood",
  }),
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
