/**
 * How a contrast's robust variance behaves under the model: traces of G'MG as sums over clusters.
 *
 *   P_jl = g_j'M g_l = δ_jl u_j'M_j u_l + f_j'K h_l
 *
 * f and h hold a cluster's X'u and its sums of u over groups that cross clusters; K is −C on the first
 * and those groups' variances on the second. Only small matrices are formed.
 */
import type { Matrix } from "../numeric/matrix.js";

/** The fit as cluster-robust inference needs it; rows in any order, clusters as lists of rows. */
export type ClusterRobustInput = Readonly<{
  /** rows × coefficients. */
  design: Matrix;
  /** M⁻¹X, rows × coefficients. */
  weightedDesign: Matrix;
  /** (X'M⁻¹X)⁻¹. */
  covariance: Matrix;
  residuals: Float64Array;
  clusters: readonly (readonly number[])[];
  /** M for the rows of one cluster. */
  covarianceOf: (rows: readonly number[]) => Matrix;
  /** Random intercepts whose groups span clusters: their variance and rows. */
  crossing: readonly Readonly<{ variance: number; rows: readonly number[] }>[];
}>;

/** One cluster after adjustment; every row of `weighted` is (A_j M⁻¹X_j) by row. */
export type AdjustedCluster = Readonly<{
  rows: readonly number[];
  /** A_j (M⁻¹X)_j, rows × coefficients. */
  weighted: Matrix;
  /** M_j without the groups that cross clusters, rows × rows. */
  inside: Matrix;
  /** (M⁻¹X)_j' A_j e_j. */
  pull: Float64Array;
  /** Crossing groups with rows here: number of the group, places in the cluster. */
  crossing: readonly Readonly<{ group: number; places: readonly number[] }>[];
}>;

/** What a contrast needs of every cluster: u'Mu and X'u, and the sums of u over crossing groups. */
export type ContrastParts = Readonly<{
  pulls: readonly Float64Array[];
  insides: readonly Matrix[];
  designSums: readonly Float64Array[];
  /** By cluster: group number and sum of u. */
  groupSums: readonly (readonly (readonly [number, number])[])[];
}>;

export const contrastParts = (
  input: ClusterRobustInput,
  clusters: readonly AdjustedCluster[],
  contrast: ArrayLike<number>,
): ContrastParts => {
  const p = input.design.columns;
  const image = new Float64Array(p);
  for (let a = 0; a < p; a++) {
    for (let b = 0; b < p; b++) image[a]! += input.covariance.values[a * p + b]! * contrast[b]!;
  }
  const pulls = clusters.map(({ rows, weighted }) =>
    Float64Array.from(rows, (_, i) => {
      let total = 0;
      for (let a = 0; a < p; a++) total += weighted.values[i * p + a]! * image[a]!;
      return total;
    }),
  );
  return {
    pulls,
    insides: clusters.map((cluster) => cluster.inside),
    designSums: clusters.map(({ rows }, j) => {
      const sums = new Float64Array(p);
      rows.forEach((row, i) => {
        for (let a = 0; a < p; a++) {
          sums[a]! += input.design.values[row * p + a]! * pulls[j]![i]!;
        }
      });
      return sums;
    }),
    groupSums: clusters.map(({ crossing }, j) =>
      crossing.map(({ group, places }) => {
        let total = 0;
        for (const place of places) total += pulls[j]![place]!;
        return [group, total] as const;
      }),
    ),
  };
};

const form = (left: Float64Array, matrix: Matrix, right: Float64Array): number => {
  const n = left.length;
  let total = 0;
  for (let i = 0; i < n; i++) {
    let inner = 0;
    for (let j = 0; j < n; j++) inner += matrix.values[i * n + j]! * right[j]!;
    total += left[i]! * inner;
  }
  return total;
};

/** Part of the summands that a sum of squares may lose: below it some four of sixteen digits are left. */
const leastLeft = 1e-12;

/**
 * Sums over pairs of clusters of P_jl = δ_jl a_j + f_j'K h_l, with K = −C on design sums and the
 * variances on crossing groups: Σ_j P_jj, Σ_jl P_jl P_lj and Σ_jl (left-left)_jl (right-right)_jl.
 *
 * Where all but a millionth of what tells the contrast comes of one cluster, the second sum is the small difference of
 * large ones and no digit of it holds; it is zero then, and so are the degrees of freedom.
 */
export const pairTraces = (
  input: ClusterRobustInput,
  left: ContrastParts,
  right: ContrastParts,
) => {
  const own = left.pulls.map((pull, j) => form(pull, left.insides[j]!, right.pulls[j]!));
  const cross = left.pulls.map((_, j) => lowRank(input, left, right, j, j));
  let trace = 0;
  let square = 0;
  own.forEach((a, j) => {
    trace += a + cross[j]!;
    square += a * a + 2 * a * cross[j]!;
  });
  // Σ_jl (f_j'K h_l)(f_l'K h_j) = tr[(K S)(K S)], S = Σ_l h_l f_l'
  const turned = lowRankProduct(input, right, left);
  square += traceOfSquare(turned);
  const largest = own.reduce((total, a) => total + a * a, 0);
  return { trace, square: square > leastLeft * largest ? square : 0 };
};

/** Variance of one entry of the standardised covariance: Σ_jl P_ss P_tt + P_st P_ts over pairs. */
export const entryVariance = (
  input: ClusterRobustInput,
  left: ContrastParts,
  right: ContrastParts,
): number => {
  const { square } = pairTraces(input, left, right);
  let product = 0;
  left.pulls.forEach((pull, j) => {
    const a = form(pull, left.insides[j]!, pull);
    const b = form(right.pulls[j]!, right.insides[j]!, right.pulls[j]!);
    product +=
      a * b + a * lowRank(input, right, right, j, j) + b * lowRank(input, left, left, j, j);
  });
  // Σ_jl (f_j'K f_l)(h_l'K h_j) = tr[K (Σ f_l h_l') K (Σ h_j f_j')]
  product += traceOfProduct(lowRankProduct(input, left, right), lowRankProduct(input, right, left));
  return product + square;
};

/** f_j'K h_l. */
const lowRank = (
  input: ClusterRobustInput,
  left: ContrastParts,
  right: ContrastParts,
  j: number,
  l: number,
): number => {
  let total = -form(left.designSums[j]!, input.covariance, right.designSums[l]!);
  for (const [group, value] of left.groupSums[j]!) {
    for (const [other, amount] of right.groupSums[l]!) {
      if (group === other) total += value * amount * input.crossing[group]!.variance;
    }
  }
  return total;
};

/** K Σ_l f_l h_l', square of the size coefficients + crossing groups. */
const lowRankProduct = (
  input: ClusterRobustInput,
  left: ContrastParts,
  right: ContrastParts,
): Matrix => {
  const p = input.design.columns;
  const size = p + input.crossing.length;
  const sums = new Float64Array(size * size);
  left.pulls.forEach((_, j) => {
    const [f, h] = [left.designSums[j]!, right.designSums[j]!];
    for (let a = 0; a < p; a++) {
      for (let b = 0; b < p; b++) sums[a * size + b]! += f[a]! * h[b]!;
      for (const [group, value] of right.groupSums[j]!) {
        sums[a * size + p + group]! += f[a]! * value;
      }
    }
    for (const [group, value] of left.groupSums[j]!) {
      for (let b = 0; b < p; b++) sums[(p + group) * size + b]! += value * h[b]!;
      for (const [other, amount] of right.groupSums[j]!) {
        sums[(p + group) * size + p + other]! += value * amount;
      }
    }
  });
  const values = new Float64Array(size * size);
  for (let b = 0; b < size; b++) {
    for (let a = 0; a < p; a++) {
      let total = 0;
      for (let c = 0; c < p; c++)
        total -= input.covariance.values[a * p + c]! * sums[c * size + b]!;
      values[a * size + b] = total;
    }
    input.crossing.forEach(({ variance }, group) => {
      values[(p + group) * size + b] = variance * sums[(p + group) * size + b]!;
    });
  }
  return { rows: size, columns: size, values };
};

const traceOfProduct = (a: Matrix, b: Matrix): number => {
  let total = 0;
  for (let i = 0; i < a.rows; i++) {
    for (let k = 0; k < a.columns; k++) {
      total += a.values[i * a.columns + k]! * b.values[k * b.columns + i]!;
    }
  }
  return total;
};

const traceOfSquare = (a: Matrix): number => traceOfProduct(a, a);
