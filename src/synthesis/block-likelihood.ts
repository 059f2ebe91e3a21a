/**
 * The likelihood of a blocked mixed model at given variance parts, with its score and information.
 *
 * Work grows linearly with the number of blocks: every matrix inverted is one block's own, or (for
 * shared intercepts) as large as the number of groups shared inside one cluster of blocks.
 */
import type { BlockCluster, BlockProblem, PreparedBlock } from "./block-problem.js";
import { invertSymmetric } from "./invert-symmetric.js";

export type LikelihoodKind = "restricted-maximum-likelihood" | "maximum-likelihood";

export type LikelihoodPoint = Readonly<{
  variances: Float64Array;
  logLikelihood: number;
  /** On the basis, for what is left of y. */
  coefficients: Float64Array;
  /** (X'M⁻¹X)⁻¹ on the basis, row-major. */
  covariance: Float64Array;
  /** Derivative of the log likelihood for each variance part. */
  score: Float64Array;
  /** Average of observed and expected information, row-major, parts × parts. */
  information: Float64Array;
  /** y − Xβ by block. */
  residuals: readonly Float64Array[];
  /** M⁻¹(y − Xβ) by block. */
  weightedResiduals: readonly Float64Array[];
  /** M⁻¹X by block on the basis, row-major. */
  weightedBases: readonly Float64Array[];
}>;

/** What inverting one cluster leaves behind. */
type InvertedCluster = Readonly<{
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

const logTwoPi = Math.log(2 * Math.PI);

/**
 * The restricted or full likelihood at the given variance parts; undefined where it does not exist.
 *
 *   restricted: ℓ = −½ [ (n−p) ln 2π + ln|M| + ln|X'M⁻¹X| − ln|X'X| + r'M⁻¹r ]
 *   full:       ℓ = −½ [ n ln 2π + ln|M| + r'M⁻¹r ]              r = y − Xβ̂(θ)
 *   score_k = −½ tr(P B_k) + ½ r'M⁻¹B_kM⁻¹r   (full likelihood: M⁻¹ for P in the trace)
 *   information_kl = ½ f_k'P f_l,  f_k = B_k M⁻¹ r,  P = M⁻¹ − M⁻¹X(X'M⁻¹X)⁻¹X'M⁻¹
 *
 * Shared intercepts enter through (N⁻¹ + ZΘZ')⁻¹ = N − NZ Θ½(I + Θ½Z'NZΘ½)⁻¹Θ½ Z'N, which is well
 * defined at θ = 0.
 *
 * @param problem from blockProblem
 * @param variances θ, one per part, zero or more
 * @param kind which likelihood
 * @returns likelihood, coefficients, score, information; undefined when M is not positive definite
 * @source Patterson and Thompson (1971) Biometrika 58:545–554; Gilmour, Thompson and Cullis (1995)
 *   Biometrics 51:1440–1450 (average information); Woodbury (1950) identity
 */
export const blockLikelihood = (
  problem: BlockProblem,
  variances: ArrayLike<number>,
  kind: LikelihoodKind,
): LikelihoodPoint | undefined => {
  const p = problem.columns;
  const theta = Float64Array.from(variances);
  const weightedBases: Float64Array[] = new Array<Float64Array>(problem.blocks.length);
  const weightedY: Float64Array[] = new Array<Float64Array>(problem.blocks.length);
  const cross = new Float64Array(p * p);
  const crossY = new Float64Array(p);
  const inverted: InvertedCluster[] = [];
  let logDeterminant = 0;
  for (const cluster of problem.clusters) {
    const answer = invertCluster(problem, cluster, theta);
    if (answer === undefined) return undefined;
    logDeterminant += answer.logDeterminant;
    inverted.push(answer.inverted);
    const columns = applyInverse(
      problem,
      answer.inverted,
      (block, row, column) => (column < p ? block.basis[row * p + column]! : block.y[row]!),
      p + 1,
    );
    cluster.blocks.forEach((index, position) => {
      const block = problem.blocks[index]!;
      const { rows, basis } = block;
      const both = columns[position]!;
      const weighted = new Float64Array(rows * p);
      const values = new Float64Array(rows);
      for (let i = 0; i < rows; i++) {
        for (let a = 0; a < p; a++) weighted[i * p + a] = both[i * (p + 1) + a]!;
        values[i] = both[i * (p + 1) + p]!;
        for (let a = 0; a < p; a++) {
          const left = basis[i * p + a]!;
          crossY[a]! += left * values[i]!;
          for (let b = 0; b <= a; b++) cross[a * p + b]! += left * weighted[i * p + b]!;
        }
      }
      weightedBases[index] = weighted;
      weightedY[index] = values;
    });
  }
  for (let a = 0; a < p; a++) for (let b = 0; b < a; b++) cross[b * p + a] = cross[a * p + b]!;
  const covariance = cross;
  const logInformation = invertSymmetric(covariance, p);
  if (Number.isNaN(logInformation)) return undefined;
  const coefficients = times(covariance, crossY, p);

  const residuals: Float64Array[] = [];
  const weightedResiduals: Float64Array[] = [];
  let squares = 0;
  problem.blocks.forEach((block, index) => {
    const residual = new Float64Array(block.rows);
    const weighted = new Float64Array(block.rows);
    for (let i = 0; i < block.rows; i++) {
      let fitted = 0;
      let weightedFitted = 0;
      for (let a = 0; a < p; a++) {
        fitted += block.basis[i * p + a]! * coefficients[a]!;
        weightedFitted += weightedBases[index]![i * p + a]! * coefficients[a]!;
      }
      residual[i] = block.y[i]! - fitted;
      weighted[i] = weightedY[index]![i]! - weightedFitted;
      squares += residual[i]! * weighted[i]!;
    }
    residuals.push(residual);
    weightedResiduals.push(weighted);
  });
  const restricted = kind === "restricted-maximum-likelihood";
  const logLikelihood =
    -0.5 *
    ((restricted ? problem.rows - p : problem.rows) * logTwoPi +
      logDeterminant +
      (restricted ? logInformation : 0) +
      squares);
  if (!Number.isFinite(logLikelihood)) return undefined;
  const { score, information } = derivatives(problem, inverted, {
    covariance,
    weightedBases,
    weightedResiduals,
    restricted,
  });
  return {
    variances: theta,
    logLikelihood,
    coefficients,
    covariance,
    score,
    information,
    residuals,
    weightedResiduals,
    weightedBases,
  };
};

const invertCluster = (
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
    const matrix = Float64Array.from(block.covariance);
    block.components.forEach((component, k) => {
      const variance = theta[k]!;
      if (component === undefined || variance === 0) return;
      for (let i = 0; i < matrix.length; i++) matrix[i]! += variance * component[i]!;
    });
    const part = invertSymmetric(matrix, block.rows);
    if (Number.isNaN(part)) return undefined;
    logDeterminant += part;
    inverses.push(matrix);
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

/** M⁻¹ A for the cluster, A given by a reader of (block, row, column); row-major by block. */
const applyInverse = (
  problem: BlockProblem,
  inverted: InvertedCluster,
  read: (block: PreparedBlock, row: number, column: number, position: number) => number,
  columns: number,
): readonly Float64Array[] => {
  const { cluster, inverses, sharedWeights, correction } = inverted;
  const q = cluster.sharedComponents.length;
  const sums = new Float64Array(q * columns);
  const answers = cluster.blocks.map((index, position) => {
    const block = problem.blocks[index]!;
    const n = block.rows;
    const inverse = inverses[position]!;
    const answer = new Float64Array(n * columns);
    for (let c = 0; c < columns; c++) {
      for (let j = 0; j < n; j++) {
        const value = read(block, j, c, position);
        if (value === 0) continue;
        for (let i = 0; i < n; i++) answer[i * columns + c]! += inverse[i * n + j]! * value;
      }
    }
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

const derivatives = (
  problem: BlockProblem,
  inverted: readonly InvertedCluster[],
  fit: Readonly<{
    covariance: Float64Array;
    weightedBases: readonly Float64Array[];
    weightedResiduals: readonly Float64Array[];
    restricted: boolean;
  }>,
): { score: Float64Array; information: Float64Array } => {
  const { columns: p, components: parts } = problem;
  const traces = new Float64Array(parts);
  const quadratics = new Float64Array(parts);
  /** X'M⁻¹B_kM⁻¹X by part. */
  const designTerms = Array.from({ length: parts }, () => new Float64Array(p * p));
  const crossTerms = new Float64Array(parts * parts);
  /** X'M⁻¹f_k by part. */
  const designCross = new Float64Array(parts * p);
  for (const one of inverted) {
    const { cluster } = one;
    addSharedTraces(problem, one, traces);
    const pulls = cluster.blocks.map((index, position) => {
      const block = problem.blocks[index]!;
      const n = block.rows;
      const inverse = one.inverses[position]!;
      const weightedResidual = fit.weightedResiduals[index]!;
      const weightedBasis = fit.weightedBases[index]!;
      const pull = new Float64Array(n * parts);
      block.components.forEach((component, k) => {
        if (component === undefined) return;
        let trace = 0;
        const terms = designTerms[k]!;
        for (let i = 0; i < n; i++) {
          let total = 0;
          for (let j = 0; j < n; j++) {
            const value = component[i * n + j]!;
            if (value === 0) continue;
            trace += inverse[i * n + j]! * value;
            total += value * weightedResidual[j]!;
            if (!fit.restricted) continue;
            for (let a = 0; a < p; a++) {
              const left = weightedBasis[i * p + a]! * value;
              for (let b = 0; b < p; b++) terms[a * p + b]! += left * weightedBasis[j * p + b]!;
            }
          }
          pull[i * parts + k] = total;
          quadratics[k]! += weightedResidual[i]! * total;
        }
        traces[k]! += trace;
      });
      return pull;
    });
    addSharedPulls(problem, one, fit, { pulls, quadratics, designTerms });
    const weightedPulls = applyInverse(
      problem,
      one,
      (_block, row, column, position) => pulls[position]![row * parts + column]!,
      parts,
    );
    cluster.blocks.forEach((index, position) => {
      const block = problem.blocks[index]!;
      const weightedBasis = fit.weightedBases[index]!;
      for (let i = 0; i < block.rows; i++) {
        for (let k = 0; k < parts; k++) {
          const pull = pulls[position]![i * parts + k]!;
          for (let l = 0; l < parts; l++) {
            crossTerms[k * parts + l]! += pull * weightedPulls[position]![i * parts + l]!;
          }
          for (let a = 0; a < p; a++) designCross[k * p + a]! += weightedBasis[i * p + a]! * pull;
        }
      }
    });
  }
  const score = new Float64Array(parts);
  const information = new Float64Array(parts * parts);
  for (let k = 0; k < parts; k++) {
    let trace = traces[k]!;
    if (fit.restricted) {
      for (let i = 0; i < p * p; i++) trace -= fit.covariance[i]! * designTerms[k]![i]!;
    }
    score[k] = 0.5 * (quadratics[k]! - trace);
    const solved = times(fit.covariance, designCross.subarray(k * p, (k + 1) * p), p);
    for (let l = 0; l < parts; l++) {
      let total = crossTerms[k * parts + l]!;
      for (let a = 0; a < p; a++) total -= solved[a]! * designCross[l * p + a]!;
      information[k * parts + l] = 0.5 * total;
    }
  }
  return { score, information };
};

/** The shared part's share of tr(M⁻¹B_k): its own groups, and its effect on the blocks' components. */
const addSharedTraces = (
  problem: BlockProblem,
  inverted: InvertedCluster,
  traces: Float64Array,
): void => {
  const { cluster, correction, sharedCross, sharedWeights } = inverted;
  const q = cluster.sharedComponents.length;
  if (q === 0) return;
  for (let c = 0; c < q; c++) {
    let trace = sharedCross[c * q + c]!;
    for (let i = 0; i < q; i++) {
      let total = 0;
      for (let j = 0; j < q; j++) total += correction[i * q + j]! * sharedCross[j * q + c]!;
      trace -= sharedCross[i * q + c]! * total;
    }
    traces[cluster.sharedComponents[c]!]! += trace;
  }
  cluster.blocks.forEach((index, position) => {
    const block = problem.blocks[index]!;
    const n = block.rows;
    block.components.forEach((component, k) => {
      if (component === undefined) return;
      block.shared.forEach((left, s) => {
        const pulled = new Float64Array(n);
        for (let i = 0; i < n; i++) {
          for (let j = 0; j < n; j++) {
            pulled[i]! += component[i * n + j]! * sharedWeights[position]![s]![j]!;
          }
        }
        block.shared.forEach((right, r) => {
          let total = 0;
          for (let i = 0; i < n; i++) total += sharedWeights[position]![r]![i]! * pulled[i]!;
          traces[k]! -= correction[left.column * q + right.column]! * total;
        });
      });
    });
  });
};

/** Adds z z'M⁻¹r to the pulls of its part, and what it contributes to quadratic and design terms. */
const addSharedPulls = (
  problem: BlockProblem,
  inverted: InvertedCluster,
  fit: Readonly<{
    weightedBases: readonly Float64Array[];
    weightedResiduals: readonly Float64Array[];
  }>,
  into: Readonly<{
    pulls: readonly Float64Array[];
    quadratics: Float64Array;
    designTerms: readonly Float64Array[];
  }>,
): void => {
  const { cluster } = inverted;
  const { columns: p, components: parts } = problem;
  const q = cluster.sharedComponents.length;
  if (q === 0) return;
  const sums = new Float64Array(q);
  const designSums = new Float64Array(q * p);
  for (const index of cluster.blocks) {
    for (const { column, rows } of problem.blocks[index]!.shared) {
      for (const row of rows) {
        sums[column]! += fit.weightedResiduals[index]![row]!;
        for (let a = 0; a < p; a++) {
          designSums[column * p + a]! += fit.weightedBases[index]![row * p + a]!;
        }
      }
    }
  }
  cluster.sharedComponents.forEach((k, column) => {
    into.quadratics[k]! += sums[column]! ** 2;
    for (let a = 0; a < p; a++) {
      for (let b = 0; b < p; b++) {
        into.designTerms[k]![a * p + b]! +=
          designSums[column * p + a]! * designSums[column * p + b]!;
      }
    }
  });
  cluster.blocks.forEach((index, position) => {
    for (const { column, rows } of problem.blocks[index]!.shared) {
      const k = cluster.sharedComponents[column]!;
      for (const row of rows) into.pulls[position]![row * parts + k]! += sums[column]!;
    }
  });
};

const times = (matrix: Float64Array, vector: ArrayLike<number>, size: number): Float64Array => {
  const answer = new Float64Array(size);
  for (let i = 0; i < size; i++) {
    let total = 0;
    for (let j = 0; j < size; j++) total += matrix[i * size + j]! * vector[j]!;
    answer[i] = total;
  }
  return answer;
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
