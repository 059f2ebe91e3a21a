/** Cholesky's factor of a symmetric positive definite matrix, and what is solved with it. */
import { CallError } from "../errors.js";
import type { Matrix } from "./matrix.js";

/** m = lower·lowerᵀ and ln det m. */
export type CholeskyFactor = Readonly<{ lower: Matrix; logDeterminant: number }>;

/** A pivot below this part of its diagonal entry is rounding. */
const pivotFloor = 8 * Number.EPSILON;

const refuse = (where: string, needs: string, got: string): never => {
  throw new CallError({ code: "shape", where, needs, got });
};

/**
 * Cholesky factor of a symmetric matrix, or undefined when it is not positive definite.
 *
 * Only the lower triangle is read. A pivot below about 2·10⁻¹⁵ of its diagonal entry counts as zero: what
 * is left there is rounding.
 *
 * @param m n × n, symmetric
 * @returns the factor, or undefined when not (numerically) positive definite
 * @throws {CallError} "shape" when m is not square
 * @source Golub GH, Van Loan CF (2013) Matrix Computations, 4th edition, section 4.2
 */
export const cholesky = (m: Matrix): CholeskyFactor | undefined => {
  const n = m.rows;
  if (m.columns !== n) refuse("cholesky", "a square matrix", `${n} × ${m.columns}`);
  const values = new Float64Array(n * n);
  let logDeterminant = 0;
  for (let i = 0; i < n; i++) {
    const rowI = i * n;
    for (let j = 0; j <= i; j++) {
      const rowJ = j * n;
      let total = m.values[rowI + j] as number;
      for (let k = 0; k < j; k++) {
        total -= (values[rowI + k] as number) * (values[rowJ + k] as number);
      }
      if (i === j) {
        const floor = pivotFloor * Math.abs(m.values[rowI + i] as number);
        if (!(total > floor) || total === Infinity) return undefined;
        const pivot = Math.sqrt(total);
        values[rowI + i] = pivot;
        logDeterminant += 2 * Math.log(pivot);
      } else {
        values[rowI + j] = total / (values[rowJ + j] as number);
      }
    }
  }
  return { lower: { rows: n, columns: n, values }, logDeterminant };
};

/**
 * x with lower·x = b.
 * @param lower n × n, lower triangular, no zero on its diagonal
 * @param b n numbers
 * @throws {CallError} "shape" when the sizes differ
 * @source Golub GH, Van Loan CF (2013), section 3.1
 */
export const forwardSolve = (lower: Matrix, b: ArrayLike<number>): Float64Array => {
  const n = lower.rows;
  if (b.length !== n) refuse("forwardSolve", `a vector of ${n} numbers`, String(b.length));
  const x = new Float64Array(n);
  for (let i = 0; i < n; i++) {
    let total = b[i] as number;
    for (let k = 0; k < i; k++) total -= (lower.values[i * n + k] as number) * (x[k] as number);
    x[i] = total / (lower.values[i * n + i] as number);
  }
  return x;
};

/**
 * x with lowerᵀ·x = b.
 * @param lower n × n, lower triangular, no zero on its diagonal
 * @param b n numbers
 * @throws {CallError} "shape" when the sizes differ
 * @source Golub GH, Van Loan CF (2013), section 3.1
 */
export const backSolve = (lower: Matrix, b: ArrayLike<number>): Float64Array => {
  const n = lower.rows;
  if (b.length !== n) refuse("backSolve", `a vector of ${n} numbers`, String(b.length));
  const x = Float64Array.from(b);
  for (let i = n - 1; i >= 0; i--) {
    const value = (x[i] as number) / (lower.values[i * n + i] as number);
    x[i] = value;
    for (let k = 0; k < i; k++) {
      x[k] = (x[k] as number) - (lower.values[i * n + k] as number) * value;
    }
  }
  return x;
};

/**
 * x with m·x = b, from m's factor.
 * @param b n numbers
 * @throws {CallError} "shape" when the sizes differ
 * @source Golub GH, Van Loan CF (2013), section 4.2
 */
export const solveCholesky = (factor: CholeskyFactor, b: ArrayLike<number>): Float64Array =>
  backSolve(factor.lower, forwardSolve(factor.lower, b));

const eachColumn = (right: Matrix, solve: (column: Float64Array) => Float64Array): Matrix => {
  const { rows, columns } = right;
  const values = new Float64Array(rows * columns);
  const column = new Float64Array(rows);
  for (let j = 0; j < columns; j++) {
    for (let i = 0; i < rows; i++) column[i] = right.values[i * columns + j] as number;
    const solved = solve(column);
    for (let i = 0; i < rows; i++) values[i * columns + j] = solved[i] as number;
  }
  return { rows, columns, values };
};

/**
 * X with m·X = B, from m's factor.
 * @param right n × k
 * @returns n × k
 * @throws {CallError} "shape" when the sizes differ
 * @source Golub GH, Van Loan CF (2013), section 4.2
 */
export const solveCholeskyMatrix = (factor: CholeskyFactor, right: Matrix): Matrix =>
  eachColumn(right, (column) => solveCholesky(factor, column));

/**
 * X with lower·X = B: B whitened by the factor.
 * @param right n × k
 * @returns n × k
 * @throws {CallError} "shape" when the sizes differ
 * @source Golub GH, Van Loan CF (2013), section 3.1
 */
export const forwardSolveMatrix = (lower: Matrix, right: Matrix): Matrix =>
  eachColumn(right, (column) => forwardSolve(lower, column));

/**
 * Inverse of m from its factor, exactly symmetric.
 * @returns n × n
 * @source Golub GH, Van Loan CF (2013), section 4.2
 */
export const inverseFromCholesky = (factor: CholeskyFactor): Matrix => {
  const n = factor.lower.rows;
  const values = new Float64Array(n * n);
  const unit = new Float64Array(n);
  for (let j = 0; j < n; j++) {
    unit.fill(0);
    unit[j] = 1;
    const solved = solveCholesky(factor, unit);
    for (let i = j; i < n; i++) {
      values[i * n + j] = solved[i] as number;
      values[j * n + i] = solved[i] as number;
    }
  }
  return { rows: n, columns: n, values };
};
