import { cholesky } from "../numeric/cholesky.js";

/** Shares of the correlations tried in turn until the block is safely positive definite. */
const sharesKept = [1, 0.99, 0.95, 0.9, 0.75, 0.5, 0.25, 0] as const;
/** Least eigenvalue asked of a correlation block, so that weights stay finite. */
const leastEigenvalue = 1e-6;

/**
 * A correlation matrix that can safely be inverted: the one given, or the same with every correlation
 * drawn towards 0 by the same share until Cholesky succeeds with room to spare.
 *
 * @param correlations  row-major, size × size, symmetric, 1 on the diagonal
 * @param size  number of rows
 * @returns the matrix and the share of the correlations kept (1 when nothing had to change)
 * @source none: a mixture of a semi-definite matrix with the identity is definite
 */
export const positiveDefiniteCorrelations = (
  correlations: readonly number[],
  size: number,
): Readonly<{ values: readonly number[]; kept: number }> => {
  for (const kept of sharesKept) {
    const values = correlations.map((value, place) =>
      Math.floor(place / size) === place % size ? 1 : value * kept,
    );
    const lowered = Float64Array.from(values, (value, place) =>
      Math.floor(place / size) === place % size ? value - leastEigenvalue : value,
    );
    if (cholesky({ rows: size, columns: size, values: lowered }) !== undefined) {
      return { values, kept };
    }
  }
  return { values: correlations.map((_, place) => (place % (size + 1) === 0 ? 1 : 0)), kept: 0 };
};
