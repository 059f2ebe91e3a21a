/** Weighted least squares by Householder reflections, with columns that add nothing set aside. */
import { CallError } from "../errors.js";
import type { Matrix } from "./matrix.js";

export type LeastSquares = Readonly<{
  /** One for each column; 0 for an aliased column, which takes no part. */
  coefficients: Float64Array;
  /** (XᵀWX)⁻¹ of the columns kept; rows and columns of aliased ones are 0. columns × columns. */
  covarianceUnscaled: Matrix;
  /** Number of columns that take part. */
  rank: number;
  /** Columns (from 0) that are combinations of columns before them, within the tolerance. */
  aliased: readonly number[];
  fitted: Float64Array;
  residuals: Float64Array;
  /** Σ weight · residual². */
  residualSumOfSquares: number;
}>;

export type LeastSquaresOptions = Readonly<{
  /** Part of a column's length below which what the columns before it leave over counts as nothing. */
  tolerance?: number;
}>;
export const leastSquaresDefaults = {
  tolerance: 1e-9,
} as const satisfies Required<LeastSquaresOptions>;

const refuse = (code: string, needs: string, got: string): never => {
  throw new CallError({ code, where: "leastSquares", needs, got });
};

/**
 * Coefficients that minimise Σ wᵢ (yᵢ − xᵢᵀβ)².
 *
 * Columns are taken in their order; one that is a combination of those before it is set aside and
 * named, so that the meaning of the others does not depend on rounding.
 *
 * @param design n × p
 * @param y n numbers
 * @param weights n numbers above zero; all one when absent
 * @returns coefficients, unscaled covariance, rank and the columns set aside
 * @throws {CallError} "shape" when lengths differ, "not-finite" for a value, "not-positive" for a weight
 * @source Golub GH, Van Loan CF (2013) Matrix Computations, 4th edition, sections 5.2 and 5.3
 */
export const leastSquares = (
  design: Matrix,
  y: ArrayLike<number>,
  weights?: ArrayLike<number>,
  options: LeastSquaresOptions = {},
): LeastSquares => {
  const { rows: n, columns: p } = design;
  const tolerance = options.tolerance ?? leastSquaresDefaults.tolerance;
  if (y.length !== n) refuse("shape", `${n} outcomes, one for each row`, String(y.length));
  if (weights !== undefined && weights.length !== n) {
    refuse("shape", `${n} weights, one for each row`, String(weights.length));
  }
  // columns stored one after another, rows scaled by the root of their weight
  const work = new Float64Array(n * p);
  const right = new Float64Array(n);
  for (let i = 0; i < n; i++) {
    const weight = weights === undefined ? 1 : (weights[i] as number);
    if (!(weight > 0) || weight === Infinity) {
      refuse("not-positive", "weights above zero", `${weight} in row ${i}`);
    }
    const root = Math.sqrt(weight);
    const outcome = y[i] as number;
    if (!Number.isFinite(outcome))
      refuse("not-finite", "finite outcomes", `${outcome} in row ${i}`);
    right[i] = root * outcome;
    for (let j = 0; j < p; j++) {
      const value = design.values[i * p + j] as number;
      if (!Number.isFinite(value)) {
        refuse("not-finite", "a finite design", `${value} at (${i}, ${j})`);
      }
      work[j * n + i] = root * value;
    }
  }
  const kept: number[] = [];
  const aliased: number[] = [];
  const diagonal: number[] = [];
  for (let j = 0; j < p; j++) {
    const rank = kept.length;
    const from = j * n;
    let whole = 0;
    let left = 0;
    for (let i = 0; i < n; i++) {
      const size = Math.abs(work[from + i] as number);
      whole = Math.hypot(whole, size);
      if (i >= rank) left = Math.hypot(left, size);
    }
    if (rank >= n || !(left > tolerance * whole)) {
      aliased.push(j);
      continue;
    }
    const lead = work[from + rank] as number;
    const norm = lead > 0 ? -left : left;
    work[from + rank] = lead - norm;
    const half = left * (left + Math.abs(lead));
    const reflect = (target: Float64Array, start: number): void => {
      let total = 0;
      for (let i = rank; i < n; i++) {
        total += (work[from + i] as number) * (target[start + i] as number);
      }
      total /= half;
      for (let i = rank; i < n; i++) {
        target[start + i] = (target[start + i] as number) - total * (work[from + i] as number);
      }
    };
    for (let later = j + 1; later < p; later++) reflect(work, later * n);
    reflect(right, 0);
    kept.push(j);
    diagonal.push(norm);
  }
  const rank = kept.length;
  /** Entry (i, j) of the triangular factor among the kept columns. */
  const triangle = (i: number, j: number): number =>
    i === j ? (diagonal[i] as number) : (work[(kept[j] as number) * n + i] as number);
  // inverse of the triangular factor, column by column
  const inverse = new Float64Array(rank * rank);
  for (let j = 0; j < rank; j++) {
    inverse[j * rank + j] = 1 / triangle(j, j);
    for (let i = j - 1; i >= 0; i--) {
      let total = 0;
      for (let k = i + 1; k <= j; k++) total += triangle(i, k) * (inverse[k * rank + j] as number);
      inverse[i * rank + j] = -total / triangle(i, i);
    }
  }
  const coefficients = new Float64Array(p);
  for (let i = rank - 1; i >= 0; i--) {
    let total = right[i] as number;
    for (let k = i + 1; k < rank; k++) {
      total -= triangle(i, k) * (coefficients[kept[k] as number] as number);
    }
    coefficients[kept[i] as number] = total / triangle(i, i);
  }
  const covariance = new Float64Array(p * p);
  for (let i = 0; i < rank; i++) {
    for (let j = 0; j <= i; j++) {
      let total = 0;
      for (let k = i; k < rank; k++) {
        total += (inverse[i * rank + k] as number) * (inverse[j * rank + k] as number);
      }
      const a = kept[i] as number;
      const b = kept[j] as number;
      covariance[a * p + b] = total;
      covariance[b * p + a] = total;
    }
  }
  const fitted = new Float64Array(n);
  const residuals = new Float64Array(n);
  let residualSumOfSquares = 0;
  for (let i = 0; i < n; i++) {
    let total = 0;
    for (let j = 0; j < p; j++) {
      total += (design.values[i * p + j] as number) * (coefficients[j] as number);
    }
    fitted[i] = total;
    residuals[i] = (y[i] as number) - total;
    if (i >= rank) residualSumOfSquares += (right[i] as number) ** 2;
  }
  return {
    coefficients,
    covarianceUnscaled: { rows: p, columns: p, values: covariance },
    rank,
    aliased,
    fitted,
    residuals,
    residualSumOfSquares,
  };
};
