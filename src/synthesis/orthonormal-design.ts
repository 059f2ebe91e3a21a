/** The design of a model in an orthonormal basis, so that a year near 2000 costs no digits. */
import type { Matrix } from "../numeric/matrix.js";

/** A design split as basis × triangle; the basis has orthonormal columns over all blocks together. */
export type OrthonormalDesign = Readonly<{
  /** One per block, row-major, rows of the block × columns. */
  bases: readonly Float64Array[];
  /** Upper triangle, row-major, columns × columns. */
  triangle: Float64Array;
  columns: number;
  /** Columns that are sums of the columns before them; empty when the design has full rank. */
  aliased: readonly number[];
}>;

/** A column whose part outside the earlier ones is smaller than this share of it is aliased. */
const aliasTolerance = 1e-9;

/**
 * Orthonormal basis and triangle of a design given in blocks of rows.
 *
 *   X = Q R      Q'Q = I,  R upper triangular
 *
 * Each column is projected twice, which keeps Q orthonormal to rounding.
 *
 * @param designs one matrix per block, all with the same number of columns
 * @returns basis by block, triangle, and the positions of aliased columns
 * @source Björck (1967) BIT 7:1–21, modified Gram–Schmidt
 */
export const orthonormalDesign = (designs: readonly Matrix[]): OrthonormalDesign => {
  const columns = designs[0]?.columns ?? 0;
  const rows = designs.reduce((total, design) => total + design.rows, 0);
  const basis = Array.from({ length: columns }, () => new Float64Array(rows));
  let row = 0;
  for (const design of designs) {
    for (let i = 0; i < design.rows; i++, row++) {
      for (let j = 0; j < columns; j++) basis[j]![row] = design.values[i * columns + j]!;
    }
  }
  const triangle = new Float64Array(columns * columns);
  const aliased: number[] = [];
  for (let j = 0; j < columns; j++) {
    const column = basis[j]!;
    const length = norm(column);
    for (let pass = 0; pass < 2; pass++) {
      for (let i = 0; i < j; i++) {
        const share = dot(basis[i]!, column);
        triangle[i * columns + j]! += share;
        subtract(column, basis[i]!, share);
      }
    }
    const left = norm(column);
    if (!(left > aliasTolerance * length)) {
      aliased.push(j);
      column.fill(0);
      triangle[j * columns + j] = 1;
    } else {
      triangle[j * columns + j] = left;
      for (let r = 0; r < rows; r++) column[r]! /= left;
    }
  }
  return { bases: blocksOf(designs, basis), triangle, columns, aliased };
};

const blocksOf = (
  designs: readonly Matrix[],
  basis: readonly Float64Array[],
): readonly Float64Array[] => {
  let start = 0;
  return designs.map((design) => {
    const block = new Float64Array(design.rows * basis.length);
    basis.forEach((column, j) => {
      for (let i = 0; i < design.rows; i++) block[i * basis.length + j] = column[start + i]!;
    });
    start += design.rows;
    return block;
  });
};

/**
 * Coefficients on the design's own columns from coefficients on its basis: R⁻¹γ.
 * @source none: back substitution
 */
export const coefficientsFromBasis = (
  design: OrthonormalDesign,
  onBasis: ArrayLike<number>,
): Float64Array => {
  const { columns, triangle } = design;
  const answer = Float64Array.from(onBasis);
  for (let j = columns - 1; j >= 0; j--) {
    let total = answer[j]!;
    for (let k = j + 1; k < columns; k++) total -= triangle[j * columns + k]! * answer[k]!;
    answer[j] = total / triangle[j * columns + j]!;
  }
  return answer;
};

/**
 * Covariance of the coefficients on the design's own columns: R⁻¹ C R⁻ᵀ, made exactly symmetric.
 * @param onBasis row-major, columns × columns, symmetric
 * @source none: back substitution on both sides
 */
export const covarianceFromBasis = (design: OrthonormalDesign, onBasis: Float64Array): Matrix => {
  const p = design.columns;
  const half = new Float64Array(p * p);
  for (let j = 0; j < p; j++) {
    const column = coefficientsFromBasis(
      design,
      Float64Array.from({ length: p }, (_, i) => onBasis[i * p + j]!),
    );
    for (let i = 0; i < p; i++) half[i * p + j] = column[i]!;
  }
  const values = new Float64Array(p * p);
  for (let i = 0; i < p; i++) {
    const row = coefficientsFromBasis(design, half.subarray(i * p, (i + 1) * p));
    for (let j = 0; j < p; j++) values[i * p + j] = row[j]!;
  }
  for (let i = 0; i < p; i++) {
    for (let j = 0; j < i; j++) {
      const mean = (values[i * p + j]! + values[j * p + i]!) / 2;
      values[i * p + j] = mean;
      values[j * p + i] = mean;
    }
  }
  return { rows: p, columns: p, values };
};

const dot = (a: Float64Array, b: Float64Array): number => {
  let total = 0;
  for (let i = 0; i < a.length; i++) total += a[i]! * b[i]!;
  return total;
};

const norm = (a: Float64Array): number => {
  let largest = 0;
  for (const value of a) largest = Math.max(largest, Math.abs(value));
  if (largest === 0) return 0;
  let total = 0;
  for (const value of a) total += (value / largest) ** 2;
  return largest * Math.sqrt(total);
};

const subtract = (target: Float64Array, column: Float64Array, share: number): void => {
  for (let i = 0; i < target.length; i++) target[i]! -= share * column[i]!;
};
