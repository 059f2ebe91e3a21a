/** Standard errors that hold when the model of the dependence inside clusters is wrong. */
import { fProbability } from "../numeric/f-distribution.js";
import { cholesky, forwardSolveMatrix } from "../numeric/cholesky.js";
import {
  at,
  dot,
  identity,
  matrixOf,
  multiply,
  quadraticForm,
  symmetrised,
  transpose,
  type Matrix,
} from "../numeric/matrix.js";
import { symmetricEigen, symmetricPower } from "../numeric/symmetric-eigen.js";
import { waldStatistic } from "./inference.js";
import type { OmnibusTest } from "./synthesis-results.js";
import {
  contrastParts,
  entryVariance,
  pairTraces,
  type AdjustedCluster,
  type ClusterRobustInput,
} from "./contrast-traces.js";
import {
  coefficientsFromBasis,
  covarianceFromBasis,
  orthonormalDesign,
} from "./orthonormal-design.js";

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
      if (single.some((one) => pairTraces(input, one, one).square === 0)) return null;
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

/**
 * Finds the cluster without which a contrast of the coefficients could not be estimated; undefined when
 * there is none. That cluster's rows are fitted exactly in the direction of the contrast, so that residuals
 * there show nothing of its error.
 *
 *   X = QR; b = R⁻¹v for every v with ‖Q_j v‖ = ‖v‖: moving the coefficients along b moves cluster j alone.
 *   c'β rests on j when (c'b)² > 10⁻¹² c'(X'X)⁻¹c for one of them
 *
 * @source none: estimability, by the rank of the design without the cluster
 */
export const soleCluster = ({
  design,
  clusters,
}: Pick<ClusterRobustInput, "design" | "clusters">): ((
  contrast: ArrayLike<number>,
) => number | undefined) => {
  const whole = orthonormalDesign([design]);
  const p = design.columns;
  const basis: Matrix = { rows: design.rows, columns: p, values: whole.bases[0]! };
  const alone = clusters.flatMap((rows, cluster) => {
    const own = rowsOf(basis, rows);
    const { values, vectors } = symmetricEigen(symmetrised(multiply(transpose(own), own)));
    return Array.from(values).flatMap((value, k) => {
      if (value < 1 - 1e-9) return [];
      const vector = Float64Array.from({ length: p }, (_, i) => vectors.values[i * p + k]!);
      return [{ cluster, direction: coefficientsFromBasis(whole, vector) }];
    });
  });
  const unscaled = covarianceFromBasis(whole, identity(p).values);
  return (contrast) =>
    alone.find(
      ({ direction }) => dot(contrast, direction) ** 2 > 1e-12 * quadraticForm(contrast, unscaled),
    )?.cluster;
};

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

/** Below this share of its errors, what a cluster's residuals show in a direction is rounding. */
const leastShare = 1e-10;

/**
 * A_j by way of I − H = L⁻¹RL⁻ᵀ, whose eigenvalues are the shares, 0 to 1, of the cluster's errors that its residuals
 * show. A share of zero, where the cluster alone decides a coefficient, comes out as rounding of either sign; it is
 * told from a small one here and not in L'RL, where a row with a small variance looks the same.
 *
 *   I − H = U S U',  B = L'L U S^½,  L'RL = B B',  (B B')^{+½} = B (B'B)^{−3/2} B'
 */
const adjustmentOf = (within: Matrix, left: Matrix): Matrix => {
  const n = within.rows;
  const { lower } = cholesky(within)!;
  const shown = forwardSolveMatrix(lower, transpose(forwardSolveMatrix(lower, left)));
  const { values: shares, vectors } = symmetricEigen(symmetrised(shown));
  const lost = shares.filter((share) => share <= leastShare).length;
  if (lost === n) return { rows: n, columns: n, values: new Float64Array(n * n) };
  const roots = matrixOf(
    Array.from({ length: n }, (_, i) =>
      Array.from(shares.subarray(lost), (share, k) => Math.sqrt(share) * at(vectors, i, lost + k)),
    ),
  );
  const half = multiply(transpose(lower), multiply(lower, roots));
  const turned = multiply(lower, half);
  const power = symmetricPower(symmetrised(multiply(transpose(half), half)), -1.5, 1e-15);
  return multiply(turned, multiply(power, transpose(turned)));
};

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
