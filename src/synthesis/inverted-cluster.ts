/**
 * M⁻¹ of one cluster of blocks, kept in parts: the blocks' own inverses and a small correction for the
 * intercepts they share.
 *
 *   (N⁻¹ + ZΘZ')⁻¹ = N − NZ Θ½(I + Θ½Z'NZΘ½)⁻¹Θ½ Z'N,  N block diagonal
 */
import type { BlockCluster, BlockProblem } from "./block-problem.js";
import { invertSymmetric } from "./invert-symmetric.js";

/** What inverting one cluster leaves behind. */
export type InvertedCluster = Readonly<{
  cluster: BlockCluster;
  /** M_j⁻¹ of each block without the shared part. */
  inverses: readonly Float64Array[];
  /** M_j⁻¹ z for each shared column of the block. */
  sharedWeights: readonly (readonly Float64Array[])[];
  /** z'N z over the cluster, N the blocks' inverses; columns × columns. */
  sharedCross: Float64Array;
  /** Θ½ (I + Θ½ z'N z Θ½)⁻¹ Θ½. */
  correction: Float64Array;
}>;

/**
 * The inverted cluster and ln|M| at the given variance parts; undefined when M is not positive definite.
 * @source Woodbury (1950) identity
 */
export const invertCluster = (
  problem: BlockProblem,
  cluster: BlockCluster,
  theta: Float64Array,
): { inverted: InvertedCluster; logDeterminant: number } | undefined => {
  const q = cluster.sharedComponents.length;
  const inverses: Float64Array[] = [];
  const sharedWeights: (readonly Float64Array[])[] = [];
  const sharedCross = new Float64Array(q * q);
  let logDeterminant = 0;
  for (const index of cluster.blocks) {
    const block = problem.blocks[index]!;
    const matrix = block.covariance.slice();
    for (let k = 0; k < block.components.length; k++) {
      const component = block.components[k];
      const variance = theta[k]!;
      if (component === undefined || variance === 0) continue;
      const { rows, columns, values } = component;
      for (let e = 0; e < values.length; e++) {
        matrix[rows[e]! * block.rows + columns[e]!]! += variance * values[e]!;
      }
    }
    const part = invertSymmetric(matrix, block.rows);
    if (Number.isNaN(part)) return undefined;
    logDeterminant += part;
    inverses.push(matrix);
    if (q === 0) continue;
    const weights = block.shared.map(({ rows }) => sumOfColumns(matrix, block.rows, rows));
    sharedWeights.push(weights);
    block.shared.forEach((left) => {
      block.shared.forEach((right, r) => {
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
  return {
    inverted: { cluster, inverses, sharedWeights, sharedCross, correction },
    logDeterminant,
  };
};

const sumOfColumns = (
  matrix: Float64Array,
  size: number,
  columns: readonly number[],
): Float64Array => {
  const total = new Float64Array(size);
  for (const column of columns) {
    for (let i = 0; i < size; i++) total[i]! += matrix[i * size + column]!;
  }
  return total;
};

/**
 * M⁻¹ A for the cluster.
 * @param sources A by block, row-major, rows × columns
 * @source Woodbury (1950) identity
 */
export const applyInverse = (
  problem: BlockProblem,
  inverted: InvertedCluster,
  sources: readonly Float64Array[],
  columns: number,
): readonly Float64Array[] => {
  const { cluster, inverses, sharedWeights, correction } = inverted;
  const q = cluster.sharedComponents.length;
  const sums = new Float64Array(q * columns);
  const answers = cluster.blocks.map((index, position) => {
    const block = problem.blocks[index]!;
    const answer = product(
      inverses[position]!,
      sources[position]!,
      block.rows,
      block.rows,
      columns,
    );
    for (const { column, rows } of block.shared) {
      for (const row of rows) {
        for (let c = 0; c < columns; c++) sums[column * columns + c]! += answer[row * columns + c]!;
      }
    }
    return answer;
  });
  if (q === 0) return answers;
  const corrected = product(correction, sums, q, q, columns);
  cluster.blocks.forEach((index, position) => {
    const block = problem.blocks[index]!;
    block.shared.forEach(({ column }, s) => {
      const weights = sharedWeights[position]![s]!;
      for (let i = 0; i < block.rows; i++) {
        for (let c = 0; c < columns; c++) {
          answers[position]![i * columns + c]! -= weights[i]! * corrected[column * columns + c]!;
        }
      }
    });
  });
  return answers;
};

const product = (
  a: Float64Array,
  b: Float64Array,
  rows: number,
  inner: number,
  columns: number,
): Float64Array => {
  const answer = new Float64Array(rows * columns);
  for (let i = 0; i < rows; i++) {
    for (let k = 0; k < inner; k++) {
      const value = a[i * inner + k]!;
      if (value === 0) continue;
      for (let j = 0; j < columns; j++) answer[i * columns + j]! += value * b[k * columns + j]!;
    }
  }
  return answer;
};
