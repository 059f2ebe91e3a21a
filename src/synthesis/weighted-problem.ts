/** Weighted least squares for the two-level model: rows independent, one weight each. */
import type { Matrix } from "../numeric/matrix.js";
import {
  coefficientsFromBasis,
  covarianceFromBasis,
  orthonormalDesign,
  type OrthonormalDesign,
} from "./orthonormal-design.js";

/** Estimates, variances and design, in the order of growing variance. */
export type WeightedProblem = Readonly<{
  y: Float64Array;
  variances: Float64Array;
  /** rows × columns on the orthonormal basis, row-major. */
  basis: Float64Array;
  rows: number;
  columns: number;
  design: OrthonormalDesign;
  /** Place of each sorted row in the caller's order. */
  order: readonly number[];
}>;

export type WeightedFit = Readonly<{
  /** On the basis. */
  coefficients: Float64Array;
  /** (X'WX)⁻¹ on the basis, row-major. */
  covariance: Float64Array;
  /** ln |X'WX| on the basis. */
  logInformation: number;
  weights: Float64Array;
  residuals: Float64Array;
  /** 1 − h_i, what one row leaves to the others. */
  freedoms: Float64Array;
  /** Σ w r². */
  q: number;
}>;

/**
 * The problem sorted by variance, so that the decomposition below stays accurate when weights differ
 * by many orders of magnitude, and so that the order of the caller's rows changes nothing.
 *
 * @source Powell and Reid (1969), row ordering for weighted least squares
 */
export const weightedProblem = (
  estimates: readonly number[],
  variances: readonly number[],
  matrix: Matrix,
): WeightedProblem => {
  const rowText = (i: number) =>
    Array.from(matrix.values.subarray(i * matrix.columns, (i + 1) * matrix.columns));
  const order = estimates
    .map((_, index) => index)
    .sort((a, b) => {
      if (variances[a]! !== variances[b]!) return variances[a]! - variances[b]!;
      if (estimates[a]! !== estimates[b]!) return estimates[a]! - estimates[b]!;
      const [left, right] = [rowText(a), rowText(b)];
      const place = left.findIndex((value, j) => value !== right[j]);
      return place < 0 ? 0 : left[place]! - right[place]!;
    });
  const p = matrix.columns;
  const sorted = new Float64Array(matrix.values.length);
  order.forEach((from, to) => {
    sorted.set(matrix.values.subarray(from * p, (from + 1) * p), to * p);
  });
  const design = orthonormalDesign([{ rows: matrix.rows, columns: p, values: sorted }]);
  return {
    y: Float64Array.from(order, (index) => estimates[index]!),
    variances: Float64Array.from(order, (index) => variances[index]!),
    basis: design.bases[0]!,
    rows: matrix.rows,
    columns: p,
    design,
    order,
  };
};

/**
 * Weighted least-squares fit by Householder reflections of √W [X y].
 *
 * @param problem rows sorted by growing variance
 * @param weights one per row in the problem's order, above zero
 * @returns coefficients on the basis, their unscaled covariance, residuals, leverages, Q
 * @source Golub and Van Loan (2013), Matrix Computations, 5.2
 */
export const weightedFit = (problem: WeightedProblem, weights: Float64Array): WeightedFit => {
  const { rows: n, columns: p, basis, y } = problem;
  const width = p + 1;
  const work = new Float64Array(n * width);
  const roots = new Float64Array(n);
  for (let i = 0; i < n; i++) {
    const root = Math.sqrt(weights[i]!);
    roots[i] = root;
    for (let j = 0; j < p; j++) work[i * width + j] = root * basis[i * p + j]!;
    work[i * width + p] = root * y[i]!;
  }
  for (let j = 0; j < p; j++) reflect(work, n, width, j);
  const upper = new Float64Array(p * p);
  const coefficients = new Float64Array(p);
  let logInformation = 0;
  for (let j = 0; j < p; j++) {
    for (let k = j; k < p; k++) upper[j * p + k] = work[j * width + k]!;
    coefficients[j] = work[j * width + p]!;
    logInformation += 2 * Math.log(Math.abs(upper[j * p + j]!));
  }
  const inverse = invertUpper(upper, p);
  const solved = new Float64Array(p);
  const covariance = new Float64Array(p * p);
  for (let j = 0; j < p; j++) {
    for (let k = j; k < p; k++) solved[j]! += inverse[j * p + k]! * coefficients[k]!;
    for (let i = 0; i < p; i++) {
      for (let k = Math.max(i, j); k < p; k++) {
        covariance[i * p + j]! += inverse[i * p + k]! * inverse[j * p + k]!;
      }
    }
  }
  const residuals = new Float64Array(n);
  const freedoms = new Float64Array(n);
  let q = 0;
  for (let i = 0; i < n; i++) {
    let fitted = 0;
    let leverage = 0;
    for (let j = 0; j < p; j++) {
      fitted += basis[i * p + j]! * solved[j]!;
      let turned = 0;
      for (let k = 0; k <= j; k++) turned += basis[i * p + k]! * inverse[k * p + j]!;
      leverage += (turned * roots[i]!) ** 2;
    }
    residuals[i] = y[i]! - fitted;
    freedoms[i] = Math.max(0, 1 - leverage);
    q += weights[i]! * residuals[i]! ** 2;
  }
  return { coefficients: solved, covariance, logInformation, weights, residuals, freedoms, q };
};

const reflect = (work: Float64Array, n: number, width: number, j: number): void => {
  let length = 0;
  for (let i = j; i < n; i++) length = Math.hypot(length, work[i * width + j]!);
  if (length === 0) return;
  const head = work[j * width + j]!;
  const target = head > 0 ? -length : length;
  const first = head - target;
  let scale = first * first;
  for (let i = j + 1; i < n; i++) scale += work[i * width + j]! ** 2;
  for (let k = j + 1; k < width; k++) {
    let total = first * work[j * width + k]!;
    for (let i = j + 1; i < n; i++) total += work[i * width + j]! * work[i * width + k]!;
    const share = (2 * total) / scale;
    work[j * width + k]! -= share * first;
    for (let i = j + 1; i < n; i++) work[i * width + k]! -= share * work[i * width + j]!;
  }
  work[j * width + j] = target;
};

const invertUpper = (upper: Float64Array, p: number): Float64Array => {
  const inverse = new Float64Array(p * p);
  for (let j = 0; j < p; j++) {
    inverse[j * p + j] = 1 / upper[j * p + j]!;
    for (let i = j - 1; i >= 0; i--) {
      let total = 0;
      for (let k = i + 1; k <= j; k++) total += upper[i * p + k]! * inverse[k * p + j]!;
      inverse[i * p + j] = -total / upper[i * p + i]!;
    }
  }
  return inverse;
};

/** Fit with weights 1/(variance + betweenVariance). */
export const fitAt = (problem: WeightedProblem, betweenVariance: number): WeightedFit =>
  weightedFit(
    problem,
    problem.variances.map((variance) => 1 / (variance + betweenVariance)),
  );

/** Coefficients on the caller's columns. */
export const problemCoefficients = (problem: WeightedProblem, fit: WeightedFit): Float64Array =>
  coefficientsFromBasis(problem.design, fit.coefficients);

/** Unscaled covariance of the coefficients on the caller's columns. */
export const problemCovariance = (problem: WeightedProblem, fit: WeightedFit): Matrix =>
  covarianceFromBasis(problem.design, fit.covariance);

/** tr(P) = Σ w(1 − h): what the weights leave after the coefficients. */
export const traceOfP = (fit: WeightedFit): number => {
  let total = 0;
  for (let i = 0; i < fit.weights.length; i++) total += fit.weights[i]! * fit.freedoms[i]!;
  return total;
};

/** Ordinary least-squares fit of the problem: every weight one. */
export const unweightedFit = (problem: WeightedProblem): WeightedFit =>
  weightedFit(problem, new Float64Array(problem.rows).fill(1));

/**
 * Between-study variance of a two-level model: zero or more, in the squared unit of the estimates.
 *
 * One signature for every way of estimating it; X is the problem's design, P = W − WX(X'WX)⁻¹X'W.
 */
export type HeterogeneityEstimator = (problem: WeightedProblem) => number;
