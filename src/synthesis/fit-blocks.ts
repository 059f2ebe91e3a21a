/** The variance parts that maximise a blocked likelihood, and everything the fit leaves behind. */
import { ConvergenceError } from "../errors.js";
import type { Matrix } from "../numeric/matrix.js";
import type { LikelihoodKind, LikelihoodPoint } from "./block-likelihood.js";
import {
  blockProblem,
  callerCoefficients,
  type BlockProblem,
  type LikelihoodBlock,
  type SharedIntercept,
} from "./block-problem.js";
import { maximiseVariances } from "./maximise-variances.js";
import { covarianceFromBasis } from "./orthonormal-design.js";

export type FitBlocksOptions = Readonly<{
  likelihood?: LikelihoodKind;
  /** Random intercepts whose groups have rows in several blocks. */
  sharedIntercepts?: readonly SharedIntercept[];
  /** Variance parts held at a value; undefined for the free ones. */
  fixed?: readonly (number | undefined)[];
  /** Further places to start from; one value per part. */
  starts?: readonly (readonly number[])[];
  maxIterations?: number;
}>;

export const fitBlocksDefaults = {
  likelihood: "restricted-maximum-likelihood",
  sharedIntercepts: [],
  fixed: [],
  starts: [],
  maxIterations: 200,
} as const satisfies Required<FitBlocksOptions>;

export type BlockFit = Readonly<{
  /** θ, one per variance part. */
  variances: Float64Array;
  coefficients: Float64Array;
  /** (X'M⁻¹X)⁻¹. */
  covariance: Matrix;
  /**
   * With all constants: −½[(n−p) ln 2π + ln|M| + ln|X'M⁻¹X| − ln|X'X| + r'M⁻¹r] when restricted,
   * −½[n ln 2π + ln|M| + r'M⁻¹r] when full.
   */
  logLikelihood: number;
  /** y − Xβ by block. */
  residuals: readonly Float64Array[];
  /** M⁻¹(y − Xβ) by block. */
  weightedResiduals: readonly Float64Array[];
  /** M⁻¹X by block, rows × coefficients. */
  weightedDesigns: readonly Matrix[];
}>;

/**
 * Maximum likelihood or restricted maximum likelihood fit of a linear mixed model given in blocks.
 *
 *   y_j = X_j β + e_j,  Var(e_j) = V_j + Σ_k θ_k B_jk,  θ ≥ 0
 *
 * Converges when the score, measured in standard errors of the variance parts, is below 1e-10 for
 * every part inside and not positive for every part at zero; where rounding keeps it from that (sampling
 * covariances near singular) 3e-6 standard errors are accepted; gives up after `maxIterations`.
 *
 * @param blocks independent blocks of rows (see LikelihoodBlock); cost grows linearly with their number
 * @param options likelihood, shared intercepts, parts held fixed, starts
 * @returns variance parts, coefficients, their covariance, likelihood, residuals
 * @throws {CallError} when the design is not of full rank or there are too few rows
 * @throws {ConvergenceError} when no start settles
 * @source Patterson and Thompson (1971) Biometrika 58:545–554; Harville (1977) JASA 72:320–338
 */
export const fitBlocks = (
  blocks: readonly LikelihoodBlock[],
  options: FitBlocksOptions = {},
): BlockFit => {
  const resolved = { ...fitBlocksDefaults, ...options };
  const problem = blockProblem(blocks, resolved.sharedIntercepts);
  const found = maximiseVariances(problem, resolved);
  return blockFit(problem, found.point, found.iterations);
};

/**
 * A function that gives the largest log likelihood with some variance parts held fixed.
 *
 * The blocks are prepared once; each call starts from the values given.
 *
 * @source none: the fit above, with parts held
 */
export const profileOfBlocks = (
  blocks: readonly LikelihoodBlock[],
  options: FitBlocksOptions = {},
): ((fixed: readonly (number | undefined)[], start: readonly number[]) => LikelihoodPoint) => {
  const resolved = { ...fitBlocksDefaults, ...options };
  const problem = blockProblem(blocks, resolved.sharedIntercepts);
  return (fixed, start) =>
    maximiseVariances(problem, { ...resolved, fixed, starts: [start] }).point;
};

const blockFit = (problem: BlockProblem, point: LikelihoodPoint, iterations: number): BlockFit => {
  const { columns, design } = problem;
  const coefficients = callerCoefficients(problem, point.coefficients);
  const covariance = covarianceFromBasis(design, point.covariance);
  if (![...coefficients, ...covariance.values].every(Number.isFinite)) {
    throw new ConvergenceError({
      where: "fitBlocks",
      iterations,
      lastChange: Infinity,
      tolerance: 0,
      try: "rescale the moderators: their values are too far apart for double precision",
    });
  }
  return {
    variances: point.variances,
    coefficients,
    covariance,
    logLikelihood: point.logLikelihood,
    residuals: eachBlock(problem, point.residuals),
    weightedResiduals: eachBlock(problem, point.weightedResiduals),
    weightedDesigns: problem.blocks.map(({ rows, from }) => ({
      rows,
      columns,
      values: onCallerColumns(problem, point.weighted, from, rows),
    })),
  };
};

const eachBlock = ({ blocks }: BlockProblem, values: Float64Array): readonly Float64Array[] =>
  blocks.map(({ rows, from }) => values.slice(from, from + rows));

/** M⁻¹X = (M⁻¹Q)R for the rows of one block; y stands behind the columns of Q. */
const onCallerColumns = (
  { columns, design: { triangle } }: BlockProblem,
  weighted: Float64Array,
  from: number,
  rows: number,
): Float64Array => {
  const answer = new Float64Array(rows * columns);
  for (let i = 0; i < rows; i++) {
    const row = (from + i) * (columns + 1);
    for (let j = 0; j < columns; j++) {
      let total = 0;
      for (let k = 0; k <= j; k++) total += weighted[row + k]! * triangle[k * columns + j]!;
      answer[i * columns + j] = total;
    }
  }
  return answer;
};
