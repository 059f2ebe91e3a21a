/** The likelihood of many designs at variances held as they are, for searches over designs. */
import { backSolve, cholesky, forwardSolve, forwardSolveMatrix } from "../numeric/cholesky.js";
import type { Matrix } from "../numeric/matrix.js";
import type { multilevelBlocks } from "../synthesis/multilevel-blocks.js";
import { rowsOf } from "./row-matrices.js";

/** Full log likelihood of a design; −Infinity where a column is aliased or the coefficient named does not rise. */
export type HeldLikelihood = (design: Matrix, mustRise?: number) => number;

/**
 * With M = LL' held, −½[n ln 2π + ln|M| + RSS], RSS of the regression of L⁻¹y on L⁻¹X.
 *
 * @source none: generalised least squares
 */
export const heldLikelihoodOf = (
  { blocks, rowsOf: rowsOfBlocks }: ReturnType<typeof multilevelBlocks>,
  variances: ArrayLike<number>,
): HeldLikelihood => {
  let constant = 0;
  let squares = 0;
  const whitened = blocks.map((block, index) => {
    const size = block.y.length;
    const values = Float64Array.from(block.covariance.values);
    block.components.forEach((component, part) => {
      component?.values.forEach((value, at) => (values[at]! += variances[part]! * value));
    });
    const factor = cholesky({ rows: size, columns: size, values });
    if (factor === undefined) return undefined;
    const y = forwardSolve(factor.lower, block.y);
    constant += size * Math.log(2 * Math.PI) + factor.logDeterminant;
    for (const value of y) squares += value * value;
    return { lower: factor.lower, y, rows: rowsOfBlocks[index]! };
  });
  return (design, mustRise) => {
    const p = design.columns;
    const information = new Float64Array(p * p);
    const score = new Float64Array(p);
    for (const block of whitened) {
      if (block === undefined) return -Infinity;
      const columns = forwardSolveMatrix(block.lower, rowsOf(design, block.rows)).values;
      for (let i = 0; i < block.y.length; i++) {
        for (let a = 0; a < p; a++) {
          const value = columns[i * p + a]!;
          score[a]! += value * block.y[i]!;
          for (let b = 0; b <= a; b++) information[a * p + b]! += value * columns[i * p + b]!;
        }
      }
    }
    // On the scale of correlations, so that aliasing does not depend on the columns' units.
    const lengths = Array.from({ length: p }, (_, a) => Math.sqrt(information[a * p + a]!));
    if (lengths.some((length) => !(length > 0))) return -Infinity;
    const scaled = new Float64Array(p * p);
    for (let a = 0; a < p; a++) {
      for (let b = 0; b < p; b++) {
        scaled[a * p + b] =
          information[Math.max(a, b) * p + Math.min(a, b)]! / lengths[a]! / lengths[b]!;
      }
    }
    const factor = cholesky({ rows: p, columns: p, values: scaled });
    if (factor === undefined || factor.logDeterminant < aliasedLogDeterminant) return -Infinity;
    const half = forwardSolve(
      factor.lower,
      score.map((value, a) => value / lengths[a]!),
    );
    if (mustRise !== undefined && !(backSolve(factor.lower, half)[mustRise]! > 0)) return -Infinity;
    let explained = 0;
    for (const value of half) explained += value * value;
    return -0.5 * (constant + squares - explained);
  };
};

/** Columns whose correlations have a smaller determinant than e to this are as good as dependent. */
const aliasedLogDeterminant = -32;
