import type { Matrix } from "../numeric/matrix.js";

/** A vector as a matrix of one column. */
export const column = (values: Float64Array): Matrix => ({
  rows: values.length,
  columns: 1,
  values,
});

/** The named rows of a design. */
export const rowsOf = (design: Matrix, members: readonly number[]): Matrix => {
  const p = design.columns;
  const values = new Float64Array(members.length * p);
  members.forEach((row, i) => values.set(design.values.subarray(row * p, (row + 1) * p), i * p));
  return { rows: members.length, columns: p, values };
};

/** A square matrix filled by a function of two rows. */
export const square = (
  members: readonly number[],
  value: (a: number, b: number) => number,
): Matrix => {
  const size = members.length;
  const values = new Float64Array(size * size);
  members.forEach((a, i) => members.forEach((b, j) => (values[i * size + j] = value(a, b))));
  return { rows: size, columns: size, values };
};
