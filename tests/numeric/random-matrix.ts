import {
  matrixOf,
  multiply,
  transpose,
  add,
  scale,
  identity,
  type Matrix,
} from "../../src/numeric/matrix.js";
import { randomStream } from "../../src/numeric/random-stream.js";

/** rows × columns matrix of standard normal numbers from a seed. */
export const randomMatrix = (rows: number, columns: number, seed: number): Matrix => {
  const random = randomStream(seed);
  return matrixOf(
    Array.from({ length: rows }, () => Array.from({ length: columns }, () => random.normal())),
  );
};

/** Positive definite size × size matrix from a seed. */
export const randomDefinite = (size: number, seed: number): Matrix => {
  const root = randomMatrix(size, size, seed);
  return add(multiply(root, transpose(root)), scale(identity(size), 0.1));
};

/** Largest |a − b| over the entries. */
export const largestGap = (a: Matrix, b: Matrix): number =>
  a.values.reduce(
    (most, value, index) => Math.max(most, Math.abs(value - (b.values[index] ?? NaN))),
    0,
  );

/** rows × columns matrix of zeros. */
export const zeros = (rows: number, columns: number): Matrix => ({
  rows,
  columns,
  values: new Float64Array(rows * columns),
});
