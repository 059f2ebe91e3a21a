/** Score and information of the variance parts of a blocked mixed model. */
import { multiplyVector } from "../numeric/matrix.js";
import type { BlockProblem } from "./block-problem.js";
import { applyInverse, type InvertedCluster } from "./inverted-cluster.js";

/** What is known at a point before its derivatives; see LikelihoodValue. */
type Fitted = Readonly<{
  covariance: Float64Array;
  weighted: Float64Array;
  weightedResiduals: Float64Array;
  inverses: Float64Array;
  inverted: readonly InvertedCluster[];
}>;

/**
 * Score and average information at the point the clusters were inverted at.
 *
 *   score_k = −½ tr(P B_k) + ½ r'M⁻¹B_kM⁻¹r   (full likelihood: M⁻¹ for P in the trace)
 *   information_kl = ½ f_k'P f_l,  f_k = B_k M⁻¹ r,  P = M⁻¹ − M⁻¹X(X'M⁻¹X)⁻¹X'M⁻¹
 *
 * @source Gilmour, Thompson and Cullis (1995) Biometrics 51:1440–1450
 */
export const likelihoodDerivatives = (
  problem: BlockProblem,
  fit: Fitted,
  restricted: boolean,
): { score: Float64Array; information: Float64Array } => {
  const { columns: p, components: parts } = problem;
  const { weighted, weightedResiduals, inverses } = fit;
  const stride = p + 1;
  const traces = new Float64Array(parts);
  const quadratics = new Float64Array(parts);
  /** X'M⁻¹B_kM⁻¹X by part. */
  const designTerms = Array.from({ length: parts }, () => new Float64Array(p * p));
  const crossTerms = new Float64Array(parts * parts);
  /** X'M⁻¹f_k by part. */
  const designCross = new Float64Array(parts * p);
  /** f_k by row and part, and M⁻¹f_k. */
  const pulls = new Float64Array(problem.rows * parts);
  const weightedPulls = new Float64Array(problem.rows * parts);
  // B_k M⁻¹X of one block; only the restricted likelihood asks for it
  const image = new Float64Array(
    restricted ? problem.blocks.reduce((most, { rows }) => Math.max(most, rows), 0) * p : 0,
  );
  for (const one of fit.inverted) {
    const { cluster } = one;
    addSharedTraces(problem, one, traces);
    for (const index of cluster.blocks) {
      const { rows: n, from, square, components } = problem.blocks[index]!;
      for (let k = 0; k < parts; k++) {
        const component = components[k];
        if (component === undefined) continue;
        const { rows, columns, values } = component;
        if (restricted) image.fill(0, 0, n * p);
        let trace = 0;
        for (let e = 0; e < values.length; e++) {
          const i = rows[e]!;
          const j = columns[e]!;
          const value = values[e]!;
          trace += inverses[square + i * n + j]! * value;
          pulls[(from + i) * parts + k]! += value * weightedResiduals[from + j]!;
          if (!restricted) continue;
          for (let a = 0; a < p; a++)
            image[i * p + a]! += value * weighted[(from + j) * stride + a]!;
        }
        traces[k]! += trace;
        for (let i = 0; i < n; i++)
          quadratics[k]! += weightedResiduals[from + i]! * pulls[(from + i) * parts + k]!;
        if (!restricted) continue;
        const terms = designTerms[k]!;
        for (let i = 0; i < n; i++) {
          for (let a = 0; a < p; a++) {
            const left = weighted[(from + i) * stride + a]!;
            for (let b = 0; b < p; b++) terms[a * p + b]! += left * image[i * p + b]!;
          }
        }
      }
    }
    addSharedPulls(problem, one, fit, { pulls, quadratics, designTerms });
    applyInverse(problem, one, inverses, pulls, parts, weightedPulls);
  }
  for (let i = 0; i < problem.rows; i++) {
    for (let k = 0; k < parts; k++) {
      const pull = pulls[i * parts + k]!;
      for (let l = 0; l < parts; l++)
        crossTerms[k * parts + l]! += pull * weightedPulls[i * parts + l]!;
      for (let a = 0; a < p; a++) designCross[k * p + a]! += weighted[i * stride + a]! * pull;
    }
  }
  const covariance = { rows: p, columns: p, values: fit.covariance };
  const score = new Float64Array(parts);
  const information = new Float64Array(parts * parts);
  for (let k = 0; k < parts; k++) {
    let trace = traces[k]!;
    if (restricted) {
      for (let i = 0; i < p * p; i++) trace -= fit.covariance[i]! * designTerms[k]![i]!;
    }
    score[k] = 0.5 * (quadratics[k]! - trace);
    const solved = multiplyVector(covariance, designCross.subarray(k * p, (k + 1) * p));
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
        component.values.forEach((value, e) => {
          pulled[component.rows[e]!]! +=
            value * sharedWeights[position]![s]![component.columns[e]!]!;
        });
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
  { cluster }: InvertedCluster,
  { weighted, weightedResiduals }: Fitted,
  into: Readonly<{
    pulls: Float64Array;
    quadratics: Float64Array;
    designTerms: readonly Float64Array[];
  }>,
): void => {
  const { columns: p, components: parts } = problem;
  const q = cluster.sharedComponents.length;
  if (q === 0) return;
  const sums = new Float64Array(q);
  const designSums = new Float64Array(q * p);
  for (const index of cluster.blocks) {
    const { from, shared } = problem.blocks[index]!;
    for (const { column, rows } of shared) {
      for (const row of rows) {
        sums[column]! += weightedResiduals[from + row]!;
        for (let a = 0; a < p; a++)
          designSums[column * p + a]! += weighted[(from + row) * (p + 1) + a]!;
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
  for (const index of cluster.blocks) {
    const { from, shared } = problem.blocks[index]!;
    for (const { column, rows } of shared) {
      const k = cluster.sharedComponents[column]!;
      for (const row of rows) into.pulls[(from + row) * parts + k]! += sums[column]!;
    }
  }
};
