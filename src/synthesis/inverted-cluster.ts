/**
 * M⁻¹ of one cluster of blocks, kept in parts: the blocks' own inverses and a small correction for the
 * intercepts they share.
 *
 *   (N⁻¹ + ZΘZ')⁻¹ = N − NZ Θ½(I + Θ½Z'NZΘ½)⁻¹Θ½ Z'N,  N block diagonal
 */
import type { BlockCluster, BlockProblem } from "./block-problem.js";
import { invertSymmetric } from "./invert-symmetric.js";

/** What inverting one cluster leaves behind, beside the blocks' own inverses. */
export type InvertedCluster = Readonly<{
  cluster: BlockCluster;
  /** M_j⁻¹ z for each shared column of the block. */
  sharedWeights: readonly (readonly Float64Array[])[];
  /** z'N z over the cluster, N the blocks' inverses; columns × columns. */
  sharedCross: Float64Array;
  /** Θ½ (I + Θ½ z'N z Θ½)⁻¹ Θ½. */
  correction: Float64Array;
}>;

/**
 * The inverted cluster and ln|M| at the given variance parts; undefined when M is not positive definite.
 *
 * @param inverses takes M_j⁻¹ of each block without the shared part, at the block's place
 * @source Woodbury (1950) identity
 */
export const invertCluster = (
  problem: BlockProblem,
  cluster: BlockCluster,
  theta: Float64Array,
  inverses: Float64Array,
): { inverted: InvertedCluster; logDeterminant: number } | undefined => {
  const q = cluster.sharedComponents.length;
  const sharedWeights: (readonly Float64Array[])[] = [];
  const sharedCross = new Float64Array(q * q);
  let logDeterminant = 0;
  for (const index of cluster.blocks) {
    const { rows: n, square, components, shared } = problem.blocks[index]!;
    for (let e = square; e < square + n * n; e++) inverses[e] = problem.covariances[e]!;
    for (let k = 0; k < components.length; k++) {
      const component = components[k];
      const variance = theta[k]!;
      if (component === undefined || variance === 0) continue;
      const { rows, columns, values } = component;
      for (let e = 0; e < values.length; e++) {
        inverses[square + rows[e]! * n + columns[e]!]! += variance * values[e]!;
      }
    }
    const part = invertSymmetric(inverses, n, square);
    if (Number.isNaN(part)) return undefined;
    logDeterminant += part;
    if (q === 0) continue;
    const weights = shared.map(({ rows }) => sumOfColumns(inverses, square, n, rows));
    sharedWeights.push(weights);
    shared.forEach((left) => {
      shared.forEach((right, r) => {
        let total = 0;
        for (const row of left.rows) total += weights[r]![row]!;
        sharedCross[left.column * q + right.column]! += total;
      });
    });
  }
  const correction = new Float64Array(q * q);
  if (q > 0) {
    const roots = cluster.sharedComponents.map((component) => Math.sqrt(theta[component]!));
    for (let i = 0; i < q; i++) {
      for (let j = 0; j < q; j++) {
        correction[i * q + j] = roots[i]! * sharedCross[i * q + j]! * roots[j]! + (i === j ? 1 : 0);
      }
    }
    const part = invertSymmetric(correction, q);
    if (Number.isNaN(part)) return undefined;
    logDeterminant += part;
    for (let i = 0; i < q; i++) {
      for (let j = 0; j < q; j++) correction[i * q + j]! *= roots[i]! * roots[j]!;
    }
  }
  return { inverted: { cluster, sharedWeights, sharedCross, correction }, logDeterminant };
};

const sumOfColumns = (
  inverses: Float64Array,
  square: number,
  size: number,
  columns: readonly number[],
): Float64Array => {
  const total = new Float64Array(size);
  for (const column of columns) {
    for (let i = 0; i < size; i++) total[i]! += inverses[square + i * size + column]!;
  }
  return total;
};

/**
 * M⁻¹ A for the cluster.
 *
 * @param inverses as invertCluster left them
 * @param source A for all blocks, rows × columns
 * @param answer takes M⁻¹ A at the same places
 * @source Woodbury (1950) identity
 */
export const applyInverse = (
  problem: BlockProblem,
  { cluster, sharedWeights, correction }: InvertedCluster,
  inverses: Float64Array,
  source: Float64Array,
  columns: number,
  answer: Float64Array,
): void => {
  const q = cluster.sharedComponents.length;
  const sums = new Float64Array(q * columns);
  for (const index of cluster.blocks) {
    const { rows: n, from, square, shared } = problem.blocks[index]!;
    addProduct(inverses, square, source, from * columns, answer, n, columns);
    for (const { column, rows } of shared) {
      for (const row of rows) {
        for (let c = 0; c < columns; c++)
          sums[column * columns + c]! += answer[(from + row) * columns + c]!;
      }
    }
  }
  if (q === 0) return;
  const corrected = new Float64Array(q * columns);
  addProduct(correction, 0, sums, 0, corrected, q, columns);
  cluster.blocks.forEach((index, position) => {
    const { rows: n, from, shared } = problem.blocks[index]!;
    shared.forEach(({ column }, s) => {
      const weights = sharedWeights[position]![s]!;
      for (let i = 0; i < n; i++) {
        for (let c = 0; c < columns; c++) {
          answer[(from + i) * columns + c]! -= weights[i]! * corrected[column * columns + c]!;
        }
      }
    });
  });
};

/** Adds a square matrix times a block of `columns` columns, which stands at the same place in source and answer. */
const addProduct = (
  squares: Float64Array,
  square: number,
  source: Float64Array,
  place: number,
  answer: Float64Array,
  size: number,
  columns: number,
): void => {
  for (let i = 0; i < size; i++) {
    const to = place + i * columns;
    for (let k = 0; k < size; k++) {
      const value = squares[square + i * size + k]!;
      if (value === 0) continue;
      const of = place + k * columns;
      for (let j = 0; j < columns; j++) answer[to + j]! += value * source[of + j]!;
    }
  }
};
