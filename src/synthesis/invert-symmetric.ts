/** The inverse of a small positive definite matrix, in place: the innermost step of the block engine. */

/**
 * Log determinant of a symmetric positive definite matrix, which is replaced by its inverse.
 *
 * Cholesky factor, inverse of the factor, product; nothing is allocated, since the block engine
 * calls this once for every block and every evaluation of the likelihood.
 *
 * @param values row-major, size × size, symmetric; only the lower triangle is read; overwritten
 * @param size rows of the matrix, a whole number of at least one
 * @returns ln |matrix|; NaN when the matrix is not positive definite (the contents are then lost)
 * @source Golub and Van Loan (2013), Matrix Computations, 4.2
 */
export const invertSymmetric = (values: Float64Array, size: number): number => {
  let logDeterminant = 0;
  for (let j = 0; j < size; j++) {
    let pivot = values[j * size + j]!;
    for (let k = 0; k < j; k++) pivot -= values[j * size + k]! ** 2;
    if (!(pivot > 0) || pivot === Infinity) return NaN;
    const root = Math.sqrt(pivot);
    logDeterminant += Math.log(pivot);
    values[j * size + j] = root;
    for (let i = j + 1; i < size; i++) {
      let total = values[i * size + j]!;
      for (let k = 0; k < j; k++) total -= values[i * size + k]! * values[j * size + k]!;
      values[i * size + j] = total / root;
    }
  }
  for (let j = 0; j < size; j++) {
    values[j * size + j] = 1 / values[j * size + j]!;
    for (let i = j + 1; i < size; i++) {
      let total = 0;
      for (let k = j; k < i; k++) total -= values[i * size + k]! * values[k * size + j]!;
      values[i * size + j] = total / values[i * size + i]!;
    }
  }
  for (let i = 0; i < size; i++) {
    for (let j = 0; j <= i; j++) {
      let total = 0;
      for (let k = i; k < size; k++) total += values[k * size + i]! * values[k * size + j]!;
      values[i * size + j] = total;
      values[j * size + i] = total;
    }
  }
  return logDeterminant;
};
