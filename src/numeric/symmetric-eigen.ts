/** Eigenvalues, eigenvectors and powers of a symmetric matrix. */
import { CallError } from "../errors.js";
import { type Matrix } from "./matrix.js";
import { tridiagonalEigen } from "./tridiagonal-eigen.js";

/** values ascending; column k of vectors belongs to values[k]. */
export type SymmetricEigen = Readonly<{ values: Float64Array; vectors: Matrix }>;

const checked = (where: string, m: Matrix): void => {
  if (m.rows !== m.columns) {
    throw new CallError({
      code: "shape",
      where,
      needs: "a square matrix",
      got: `${m.rows} × ${m.columns}`,
    });
  }
  const n = m.rows;
  let largest = 0;
  for (const value of m.values) {
    if (!Number.isFinite(value)) {
      throw new CallError({
        code: "not-finite",
        where,
        needs: "finite numbers",
        got: String(value),
      });
    }
    largest = Math.max(largest, Math.abs(value));
  }
  for (let i = 0; i < n; i++) {
    for (let j = 0; j < i; j++) {
      const upper = m.values[j * n + i] as number;
      const lower = m.values[i * n + j] as number;
      if (Math.abs(upper - lower) > 1e-9 * largest) {
        throw new CallError({
          code: "not-symmetric",
          where,
          needs: "a symmetric matrix",
          got: `${lower} at (${i}, ${j}) and ${upper} at (${j}, ${i})`,
        });
      }
    }
  }
};

/** Householder's reduction: m = turned · tridiagonal · turnedᵀ. */
const tridiagonalForm = (
  m: Matrix,
): { main: Float64Array; off: Float64Array; turned: Float64Array } => {
  const n = m.rows;
  const a = Float64Array.from(m.values);
  const get = (i: number, j: number): number => a[i * n + j] as number;
  const turned = new Float64Array(n * n);
  for (let i = 0; i < n; i++) turned[i * n + i] = 1;
  const reflector = new Float64Array(n);
  const image = new Float64Array(n);
  for (let k = 0; k < n - 2; k++) {
    let scale = 0;
    for (let i = k + 1; i < n; i++) scale = Math.max(scale, Math.abs(get(i, k)));
    let below = 0;
    for (let i = k + 2; i < n; i++) below = Math.max(below, Math.abs(get(i, k)));
    if (below === 0) continue;
    let square = 0;
    for (let i = k + 1; i < n; i++) square += (get(i, k) / scale) ** 2;
    const lead = get(k + 1, k) / scale;
    const norm = lead > 0 ? -Math.sqrt(square) : Math.sqrt(square);
    for (let i = k + 1; i < n; i++) reflector[i] = get(i, k) / scale;
    reflector[k + 1] = lead - norm;
    const half = square - lead * norm; // |reflector|²/2
    // a ← H a H with H = 1 − reflector·reflectorᵀ/half, on the trailing block
    let overlap = 0;
    for (let i = k + 1; i < n; i++) {
      let total = 0;
      for (let j = k + 1; j < n; j++) total += get(i, j) * (reflector[j] as number);
      image[i] = total / half;
      overlap += (image[i] as number) * (reflector[i] as number);
    }
    overlap /= 2 * half;
    for (let i = k + 1; i < n; i++) {
      image[i] = (image[i] as number) - overlap * (reflector[i] as number);
    }
    for (let i = k + 1; i < n; i++) {
      const ri = reflector[i] as number;
      const wi = image[i] as number;
      for (let j = k + 1; j < n; j++) {
        a[i * n + j] = get(i, j) - ri * (image[j] as number) - wi * (reflector[j] as number);
      }
    }
    a[(k + 1) * n + k] = norm * scale;
    for (let i = 0; i < n; i++) {
      let total = 0;
      for (let j = k + 1; j < n; j++) {
        total += (turned[i * n + j] as number) * (reflector[j] as number);
      }
      total /= half;
      for (let j = k + 1; j < n; j++) {
        turned[i * n + j] = (turned[i * n + j] as number) - total * (reflector[j] as number);
      }
    }
  }
  return {
    main: Float64Array.from({ length: n }, (_, i) => get(i, i)),
    off: Float64Array.from({ length: n }, (_, i) => (i < n - 1 ? get(i + 1, i) : 0)),
    turned,
  };
};

/**
 * Eigenvalues (ascending) and orthonormal eigenvectors (columns) of a symmetric matrix.
 *
 * @param m n × n, symmetric to about nine digits, finite; the lower triangle is used
 * @returns m·vectors = vectors·diagonal(values), error near machine precision times the largest |value|
 * @throws {CallError} "shape" when not square, "not-finite", "not-symmetric"
 * @throws {ConvergenceError} when an eigenvalue does not settle
 * @source Golub GH, Van Loan CF (2013) Matrix Computations, 4th edition, sections 8.3.1 and 8.3.3
 */
export const symmetricEigen = (m: Matrix): SymmetricEigen => {
  checked("symmetricEigen", m);
  const n = m.rows;
  const { main, off, turned } = tridiagonalForm(m);
  tridiagonalEigen(main, off, turned, n);
  const order = Array.from(main.keys()).sort((i, j) => (main[i] as number) - (main[j] as number));
  const vectors = new Float64Array(n * n);
  order.forEach((from, to) => {
    for (let i = 0; i < n; i++) vectors[i * n + to] = turned[i * n + from] as number;
  });
  return {
    values: Float64Array.from(order, (index) => main[index] as number),
    vectors: { rows: n, columns: n, values: vectors },
  };
};

/**
 * Power of a symmetric positive semidefinite matrix, zero eigenvalues left at zero.
 *
 * With power −1 the pseudo-inverse, with −1/2 the symmetric inverse root, with 1/2 the symmetric root.
 * Eigenvalues at or below `tolerance` times the largest count as zero.
 *
 * @param m n × n, symmetric
 * @param power any finite number
 * @param tolerance relative to the largest eigenvalue
 * @returns n × n, symmetric
 * @throws {CallError} "shape", "not-finite", "not-symmetric"; "negative-eigenvalue" when one lies clearly below zero
 *   and the power is not a whole number
 * @source Golub GH, Van Loan CF (2013) Matrix Computations, 4th edition, section 9.1
 */
export const symmetricPower = (m: Matrix, power: number, tolerance = 1e-12): Matrix => {
  checked("symmetricPower", m);
  const n = m.rows;
  const { values, vectors } = symmetricEigen(m);
  const largest = values.reduce((top, value) => Math.max(top, Math.abs(value)), 0);
  const floor = tolerance * largest;
  const powers = values.map((value) => {
    if (Math.abs(value) <= floor) return 0;
    if (value > 0 || Number.isInteger(power)) return value ** power;
    if (value > -1e-8 * largest) return 0;
    throw new CallError({
      code: "negative-eigenvalue",
      where: "symmetricPower",
      needs: "no negative eigenvalue for a fractional power",
      got: String(value),
    });
  });
  const result = new Float64Array(n * n);
  const v = vectors.values;
  for (let i = 0; i < n; i++) {
    for (let j = 0; j <= i; j++) {
      let total = 0;
      for (let k = 0; k < n; k++) {
        total += (v[i * n + k] as number) * (powers[k] as number) * (v[j * n + k] as number);
      }
      result[i * n + j] = total;
      result[j * n + i] = total;
    }
  }
  return { rows: n, columns: n, values: result };
};
