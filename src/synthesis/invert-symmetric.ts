/** The inverse of a small positive definite matrix, in place: the innermost step of the block engine. */

/**
 * Log determinant of a symmetric positive definite matrix, which is replaced by its inverse.
 *
 * Cholesky factor, inverse of the factor, product; nothing is allocated, since the block engine
 * calls this once for every block and every evaluation of the likelihood.
 *
 * @param values row-major, size × size, symmetric; only the lower triangle is read; overwritten
 * @param size rows of the matrix, a whole number of at least one
 * @param from place of the matrix's first entry
 * @returns ln |matrix|; NaN when the matrix is not positive definite (the contents are then lost)
 * @source Golub and Van Loan (2013), Matrix Computations, 4.2
 */
export const invertSymmetric = (values: Float64Array, size: number, from = 0): number => {
  let logDeterminant = 0;
  for (let j = 0; j < size; j++) {
    const rowJ = from + j * size;
    let pivot = values[rowJ + j]!;
    for (let k = 0; k < j; k++) pivot -= values[rowJ + k]! ** 2;
    if (!(pivot > 0) || pivot === Infinity) return NaN;
    const root = Math.sqrt(pivot);
    logDeterminant += Math.log(pivot);
    values[rowJ + j] = root;
    for (let i = j + 1; i < size; i++) {
      const rowI = from + i * size;
      let total = values[rowI + j]!;
      for (let k = 0; k < j; k++) total -= values[rowI + k]! * values[rowJ + k]!;
      values[rowI + j] = total / root;
    }
  }
  for (let j = 0; j < size; j++) {
    values[from + j * size + j] = 1 / values[from + j * size + j]!;
    for (let i = j + 1; i < size; i++) {
      const rowI = from + i * size;
      let total = 0;
      for (let k = j; k < i; k++) total -= values[rowI + k]! * values[from + k * size + j]!;
      values[rowI + j] = total / values[rowI + i]!;
    }
  }
  for (let i = 0; i < size; i++) {
    for (let j = 0; j <= i; j++) {
      let total = 0;
      for (let k = i; k < size; k++) {
        const rowK = from + k * size;
        total += values[rowK + i]! * values[rowK + j]!;
      }
      values[from + i * size + j] = total;
      values[from + j * size + i] = total;
    }
  }
  return logDeterminant;
};
