/** Standard errors that hold when the model of the dependence inside clusters is wrong. */
import { fProbability } from "../numeric/f-distribution.js";
import { cholesky } from "../numeric/cholesky.js";
import { matrixOf, multiply, symmetrised, transpose, type Matrix } from "../numeric/matrix.js";
import { symmetricPower } from "../numeric/symmetric-eigen.js";
import { waldStatistic } from "./inference.js";
import type { OmnibusTest } from "./synthesis-results.js";

export type ClusterCorrection = "bias-reduced-satterthwaite" | "simple";

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

export type ClusterRobust = Readonly<{
  covariance: Matrix;
  /** Degrees of freedom of the contrast c'β. */
  degreesOfFreedom: (contrast: ArrayLike<number>) => number;
  /** Joint test that the chosen coefficients are zero; null when it has no degrees of freedom. */
  jointTest: (estimates: ArrayLike<number>, columns: readonly number[]) => OmnibusTest | null;
}>;

/**
 * Cluster-robust covariance with the simple correction: the sandwich times m/(m − p), t on m − p.
 *
 *   V = m/(m − p) · C [Σ_j (M⁻¹X)_j' e_j e_j' (M⁻¹X)_j] C,  C = (X'M⁻¹X)⁻¹
 *
 * @returns undefined when there are no more clusters than coefficients
 * @source Hedges, Tipton and Johnson (2010) Research Synthesis Methods 1:39–65
 */
export const simpleClusterRobust = (input: ClusterRobustInput): ClusterRobust | undefined => {
  const p = input.design.columns;
  const m = input.clusters.length;
  if (m <= p) return undefined;
  const covariance = sandwich(
    input,
    input.clusters.map((rows) => {
      const pull = new Float64Array(p);
      for (const row of rows) {
        for (let a = 0; a < p; a++) {
          pull[a]! += input.weightedDesign.values[row * p + a]! * input.residuals[row]!;
        }
      }
      return pull;
    }),
    m / (m - p),
  );
  return {
    covariance,
    degreesOfFreedom: () => m - p,
    jointTest: (estimates, columns) => {
      const q = columns.length;
      if (q === 0) return null;
      const statistic = waldStatistic(estimates, covariance, columns) / q;
      return {
        statistic,
        kind: "F",
        numeratorDegreesOfFreedom: q,
        denominatorDegreesOfFreedom: m - p,
        p: fProbability(statistic, q, m - p, "upper"),
      };
    },
  };
};

/**
 * Bias-reduced cluster-robust covariance with Satterthwaite degrees of freedom.
 *
 *   V = C [Σ_j (M⁻¹X)_j' A_j e_j e_j' A_j (M⁻¹X)_j] C
 *   A_j = L_j (L_j' R_j L_j)^{+½} L_j',  M_j = L_j L_j',  R_j = M_j − X_j C X_j' (the residuals' covariance)
 *   u_j = A_j (M⁻¹X)_j C c;   g_j'Mg_l = δ_jl u_j'M_j u_j − (X_j'u_j)' C (X_l'u_l)
 *   degrees of freedom of c'β: tr(G'MG)² / tr((G'MG)²)
 *
 * with +½ the inverse symmetric root, zero eigenvalues left at zero. A_j makes the expected value of V
 * the model's own when the model holds. Only matrices of one cluster's size are formed: the rest of G'MG
 * has the rank of the coefficients (and of the groups that cross clusters), so the traces are sums over
 * clusters. Joint tests approximate Hotelling's statistic: the covariance is standardised by its expected
 * value under the model (C itself when no group crosses clusters), and with Var summed over its entries, η = q(q + 1)/Σ Var, F = (η − q + 1)/(η q) · Wald on (q, η − q + 1).
 *
 * @returns covariance, degrees of freedom (zero where nothing can be estimated) and joint tests
 * @source Bell and McCaffrey (2002) Survey Methodology 28:169–181; Tipton (2015) Psychological Methods
 *   20:375–393; Tipton and Pustejovsky (2015) Journal of Educational and Behavioral Statistics 40:604–634;
 *   Pustejovsky and Tipton (2018) Journal of Business & Economic Statistics 36:672–683
 */
export const biasReducedClusterRobust = (input: ClusterRobustInput): ClusterRobust => {
  const p = input.design.columns;
  const crossingOf = Array.from({ length: input.design.rows }, () => [] as number[]);
  input.crossing.forEach(({ rows }, group) => rows.forEach((row) => crossingOf[row]!.push(group)));
  const clusters = input.clusters.map((rows) => adjustedCluster(input, rows, crossingOf));
  const covariance = sandwich(
    input,
    clusters.map((cluster) => cluster.pull),
    1,
  );
  const parts = (contrast: ArrayLike<number>) => contrastParts(input, clusters, contrast);
  return {
    covariance,
    degreesOfFreedom: (contrast) => {
      const one = parts(contrast);
      const { trace, square } = pairTraces(input, one, one);
      return square > 0 ? (trace * trace) / square : 0;
    },
    jointTest: (estimates, columns) => {
      const q = columns.length;
      if (q === 0) return null;
      const single = columns.map((column) => {
        const contrast = new Float64Array(p);
        contrast[column] = 1;
        return parts(contrast);
      });
      const expected = matrixOf(
        single.map((left) => single.map((right) => pairTraces(input, left, right).trace)),
      );
      const root = symmetricPower(symmetrised(expected), -0.5);
      const standardised = columns.map((_, s) => {
        const contrast = new Float64Array(p);
        columns.forEach((column, t) => (contrast[column] = root.values[s * q + t]!));
        return parts(contrast);
      });
      let total = 0;
      for (const left of standardised) {
        for (const right of standardised) total += entryVariance(input, left, right);
      }
      const eta = (q * (q + 1)) / total;
      const denominator = eta - q + 1;
      if (!(denominator > 0)) return null;
      const wald = waldStatistic(estimates, covariance, columns);
      const statistic = (denominator / (eta * q)) * wald;
      return {
        statistic,
        kind: "F",
        numeratorDegreesOfFreedom: q,
        denominatorDegreesOfFreedom: denominator,
        p: fProbability(statistic, q, denominator, "upper"),
      };
    },
  };
};

/** One cluster after adjustment; every row of `weighted` is (A_j M⁻¹X_j) by row. */
type AdjustedCluster = Readonly<{
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

const adjustedCluster = (
  input: ClusterRobustInput,
  rows: readonly number[],
  crossingOf: readonly (readonly number[])[],
): AdjustedCluster => {
  const p = input.design.columns;
  const n = rows.length;
  const within = input.covarianceOf(rows);
  const design = rowsOf(input.design, rows);
  const hat = multiply(multiply(design, input.covariance), transpose(design));
  const left: Matrix = { ...within, values: within.values.map((v, i) => v - hat.values[i]!) };
  const adjustment = adjustmentOf(within, left);
  const weighted = multiply(adjustment, rowsOf(input.weightedDesign, rows));
  const pull = new Float64Array(p);
  rows.forEach((row, i) => {
    for (let a = 0; a < p; a++) {
      pull[a]! += weighted.values[i * p + a]! * input.residuals[row]!;
    }
  });
  const placesOf = new Map<number, number[]>();
  rows.forEach((row, place) => {
    for (const group of crossingOf[row]!) {
      const places = placesOf.get(group);
      if (places === undefined) placesOf.set(group, [place]);
      else places.push(place);
    }
  });
  const crossing = [...placesOf].map(([group, places]) => ({ group, places }));
  const inside = Float64Array.from(within.values);
  for (const { group, places } of crossing) {
    for (const i of places) {
      for (const j of places) inside[i * n + j]! -= input.crossing[group]!.variance;
    }
  }
  return { rows, weighted, inside: { ...within, values: inside }, pull, crossing };
};

const adjustmentOf = (within: Matrix, left: Matrix): Matrix => {
  const n = within.rows;
  if (n === 1) {
    const share = left.values[0]! / within.values[0]!;
    return { rows: 1, columns: 1, values: Float64Array.of(share > 1e-10 ? share ** -0.5 : 0) };
  }
  const { lower } = cholesky(within)!;
  const upper = transpose(lower);
  const middle = multiply(multiply(upper, left), lower);
  const even: Matrix = {
    ...middle,
    values: middle.values.map(
      (v, at) => (v + middle.values[(at % n) * n + Math.floor(at / n)]!) / 2,
    ),
  };
  return multiply(multiply(lower, symmetricPower(even, -0.5, 1e-10)), upper);
};

/** What a contrast needs of every cluster: u'Mu and X'u, and the sums of u over crossing groups. */
type ContrastParts = Readonly<{
  pulls: readonly Float64Array[];
  insides: readonly Matrix[];
  designSums: readonly Float64Array[];
  /** By cluster: group number and sum of u. */
  groupSums: readonly (readonly (readonly [number, number])[])[];
}>;

const contrastParts = (
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

/**
 * Sums over pairs of clusters of P_jl = δ_jl a_j + f_j'K h_l, with K = −C on design sums and the
 * variances on crossing groups: Σ_j P_jj, Σ_jl P_jl P_lj and Σ_jl (left-left)_jl (right-right)_jl.
 */
const pairTraces = (input: ClusterRobustInput, left: ContrastParts, right: ContrastParts) => {
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
  return { trace, square };
};

/** Variance of one entry of the standardised covariance: Σ_jl P_ss P_tt + P_st P_ts over pairs. */
const entryVariance = (
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
  const entries = (parts: ContrastParts, j: number): readonly (readonly [number, number])[] => [
    ...Array.from(parts.designSums[j]!, (value, a) => [a, value] as const),
    ...parts.groupSums[j]!.map(([group, value]) => [p + group, value] as const),
  ];
  left.pulls.forEach((_, j) => {
    const others = entries(right, j);
    for (const [a, value] of entries(left, j)) {
      for (const [b, amount] of others) sums[a * size + b]! += value * amount;
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

const rowsOf = (matrix: Matrix, rows: readonly number[]): Matrix => {
  const p = matrix.columns;
  const values = new Float64Array(rows.length * p);
  rows.forEach((row, i) => values.set(matrix.values.subarray(row * p, (row + 1) * p), i * p));
  return { rows: rows.length, columns: p, values };
};

/** factor · C [Σ pull pull'] C. */
const sandwich = (
  input: ClusterRobustInput,
  pulls: readonly Float64Array[],
  factor: number,
): Matrix => {
  const p = input.design.columns;
  const values = new Float64Array(p * p);
  for (const pull of pulls) {
    const image = new Float64Array(p);
    for (let a = 0; a < p; a++) {
      for (let b = 0; b < p; b++) image[a]! += input.covariance.values[a * p + b]! * pull[b]!;
    }
    for (let a = 0; a < p; a++) {
      for (let b = 0; b < p; b++) values[a * p + b]! += factor * image[a]! * image[b]!;
    }
  }
  return { rows: p, columns: p, values };
};
