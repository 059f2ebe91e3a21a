/** Small dense real matrices, stored row by row. Every function returns a new matrix. */
import { CallError } from "../errors.js";

/** A rows × columns matrix; entry (i, j) stands at values[i·columns + j]. */
export type Matrix = Readonly<{ rows: number; columns: number; values: Float64Array }>;

const shapeOf = (m: Matrix): string => `${m.rows} × ${m.columns}`;

const refuseShape = (where: string, needs: string, got: string): never => {
  throw new CallError({ code: "shape", where, needs, got });
};

/**
 * Matrix of the given rows, all of one length.
 * @param rows at least one row; an empty list gives the 0 × 0 matrix
 * @returns rows.length × rows[0].length
 * @throws {CallError} "shape" when the rows differ in length
 * @source none: a constructor
 * @example
 * matrixOf([[1, 2], [3, 4]]).columns // => 2
 */
export const matrixOf = (rows: readonly ArrayLike<number>[]): Matrix => {
  const columns = rows[0]?.length ?? 0;
  const values = new Float64Array(rows.length * columns);
  rows.forEach((row, index) => {
    if (row.length !== columns) {
      refuseShape("matrixOf", `rows of ${columns} numbers`, `${row.length} in row ${index + 1}`);
    }
    values.set(row, index * columns);
  });
  return { rows: rows.length, columns, values };
};

/**
 * size × size identity matrix.
 * @source none: a constructor
 */
export const identity = (size: number): Matrix => diagonal(new Float64Array(size).fill(1));

/**
 * Square matrix with the given numbers on its diagonal and zeros elsewhere.
 * @source none: a constructor
 */
export const diagonal = (entries: ArrayLike<number>): Matrix => {
  const size = entries.length;
  const values = new Float64Array(size * size);
  for (let i = 0; i < size; i++) values[i * size + i] = entries[i] as number;
  return { rows: size, columns: size, values };
};

/**
 * Entry (i, j), both from 0.
 * @throws {CallError} "index" outside the matrix
 * @source none: an access
 */
export const at = (m: Matrix, i: number, j: number): number => {
  const value = m.values[i * m.columns + j];
  if (value === undefined || i < 0 || j < 0 || j >= m.columns) {
    throw new CallError({
      code: "index",
      where: "at",
      needs: `a place inside ${shapeOf(m)}`,
      got: `(${i}, ${j})`,
    });
  }
  return value;
};

/**
 * Matrix of the chosen rows and columns, in the order chosen; columns default to the rows' list.
 * @throws {CallError} "index" outside the matrix
 * @source none: a selection
 */
export const submatrix = (
  m: Matrix,
  rows: readonly number[],
  columns: readonly number[] = rows,
): Matrix => {
  const values = new Float64Array(rows.length * columns.length);
  rows.forEach((row, i) => {
    columns.forEach((column, j) => {
      values[i * columns.length + j] = at(m, row, column);
    });
  });
  return { rows: rows.length, columns: columns.length, values };
};

/**
 * Transpose: entry (i, j) becomes (j, i).
 * @source none: a definition
 */
export const transpose = (m: Matrix): Matrix => {
  const values = new Float64Array(m.values.length);
  for (let i = 0; i < m.rows; i++) {
    for (let j = 0; j < m.columns; j++) {
      values[j * m.rows + i] = m.values[i * m.columns + j] as number;
    }
  }
  return { rows: m.columns, columns: m.rows, values };
};

/**
 * Product a·b.
 * @param a n × k
 * @param b k × m
 * @returns n × m
 * @throws {CallError} "shape" when the inner sizes differ
 * @source none: a definition
 */
export const multiply = (a: Matrix, b: Matrix): Matrix => {
  if (a.columns !== b.rows) {
    refuseShape("multiply", "matching inner sizes", `${shapeOf(a)} times ${shapeOf(b)}`);
  }
  const values = new Float64Array(a.rows * b.columns);
  for (let i = 0; i < a.rows; i++) {
    for (let k = 0; k < a.columns; k++) {
      const factor = a.values[i * a.columns + k] as number;
      if (factor === 0) continue;
      const from = k * b.columns;
      const to = i * b.columns;
      for (let j = 0; j < b.columns; j++) {
        values[to + j] = (values[to + j] as number) + factor * (b.values[from + j] as number);
      }
    }
  }
  return { rows: a.rows, columns: b.columns, values };
};

/**
 * Product a·v of a matrix and a vector.
 * @param a n × k
 * @param v k numbers
 * @returns n numbers
 * @throws {CallError} "shape" when the sizes differ
 * @source none: a definition
 */
export const multiplyVector = (a: Matrix, v: ArrayLike<number>): Float64Array => {
  if (a.columns !== v.length) {
    refuseShape("multiplyVector", `a vector of ${a.columns} numbers`, `${v.length}`);
  }
  const result = new Float64Array(a.rows);
  for (let i = 0; i < a.rows; i++) {
    let total = 0;
    const from = i * a.columns;
    for (let k = 0; k < a.columns; k++) total += (a.values[from + k] as number) * (v[k] as number);
    result[i] = total;
  }
  return result;
};

/**
 * Sum a + b of two matrices of one shape.
 * @throws {CallError} "shape" when they differ
 * @source none: a definition
 */
export const add = (a: Matrix, b: Matrix): Matrix => {
  if (a.rows !== b.rows || a.columns !== b.columns) {
    refuseShape("add", "two matrices of one shape", `${shapeOf(a)} and ${shapeOf(b)}`);
  }
  return { ...a, values: a.values.map((value, index) => value + (b.values[index] as number)) };
};

/**
 * Every entry times the factor.
 * @source none: a definition
 */
export const scale = (m: Matrix, factor: number): Matrix => ({
  ...m,
  values: m.values.map((value) => value * factor),
});

/**
 * vᵀ·m·v.
 * @param v n numbers
 * @param m n × n
 * @throws {CallError} "shape" when the sizes differ
 * @source none: a definition
 */
export const quadraticForm = (v: ArrayLike<number>, m: Matrix): number => {
  if (m.rows !== v.length) refuseShape("quadraticForm", `${shapeOf(m)} numbers`, `${v.length}`);
  return dot(v, multiplyVector(m, v));
};

/**
 * Sum of products of two vectors.
 * @throws {CallError} "shape" when their lengths differ
 * @source none: a definition
 */
export const dot = (a: ArrayLike<number>, b: ArrayLike<number>): number => {
  if (a.length !== b.length) {
    refuseShape("dot", "two vectors of one length", `${a.length} and ${b.length}`);
  }
  let total = 0;
  for (let i = 0; i < a.length; i++) total += (a[i] as number) * (b[i] as number);
  return total;
};

/**
 * (m + mᵀ)/2, the symmetric part of a square matrix.
 * @throws {CallError} "shape" when not square
 * @source none: a definition
 */
export const symmetrised = (m: Matrix): Matrix => {
  if (m.rows !== m.columns) refuseShape("symmetrised", "a square matrix", shapeOf(m));
  return scale(add(m, transpose(m)), 0.5);
};
