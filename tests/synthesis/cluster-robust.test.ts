import { describe, expect, test } from "vitest";
import { asR, baseR } from "../base-r.js";
import {
  biasReducedClusterRobust,
  simpleClusterRobust,
} from "../../src/synthesis/cluster-robust.js";
import type { ClusterRobustInput } from "../../src/synthesis/contrast-traces.js";
import { covarianceFromBasis, orthonormalDesign } from "../../src/synthesis/orthonormal-design.js";
import { diagonal, identity, matrixOf } from "../../src/numeric/matrix.js";
import { randomStream } from "../../src/numeric/random-stream.js";
import { expectRelative } from "../effects/agreement.js";

/** Two groups compared by a dummy in a model of equal variances, each row its own cluster. */
const twoGroups = (first: readonly number[], second: readonly number[]): ClusterRobustInput => {
  const n = first.length + second.length;
  const mean = (values: readonly number[]) => values.reduce((a, b) => a + b, 0) / values.length;
  const rows = [...first.map(() => [1, 0]), ...second.map(() => [1, 1])];
  const [a, b] = [first.length, second.length];
  const design = matrixOf(rows);
  return {
    design,
    weightedDesign: design,
    covariance: matrixOf([
      [1 / a, -1 / a],
      [-1 / a, 1 / a + 1 / b],
    ]),
    residuals: Float64Array.from([
      ...first.map((value) => value - mean(first)),
      ...second.map((value) => value - mean(second)),
    ]),
    clusters: Array.from({ length: n }, (_, i) => [i]),
    covarianceOf: (cluster) => identity(cluster.length),
    crossing: [],
  };
};

const variance = (values: readonly number[]): number => {
  const mean = values.reduce((a, b) => a + b, 0) / values.length;
  return values.reduce((total, value) => total + (value - mean) ** 2, 0) / (values.length - 1);
};

describe("identity: single rows and a dummy give Welch's variance", () => {
  const stream = randomStream(4);
  const first = Array.from({ length: 3 }, () => stream.normal());
  const second = Array.from({ length: 27 }, () => 2 * stream.normal());
  const robust = biasReducedClusterRobust(twoGroups(first, second));

  test("variance of the difference", () => {
    expectRelative(
      robust.covariance.values[3]!,
      variance(first) / 3 + variance(second) / 27,
      1e-12,
    );
  });

  test("degrees of freedom for 3 and 27, in closed form", () => {
    const freedom = robust.degreesOfFreedom([0, 1]);
    const [a, b] = [3, 27];
    expectRelative(
      freedom,
      ((a + b) ** 2 * (a - 1) * (b - 1)) / (a ** 2 * (a - 1) + b ** 2 * (b - 1)),
      1e-10,
    );
  });

  test("the joint test of one coefficient is its squared t on the same degrees of freedom", () => {
    const joint = robust.jointTest([0.2, 0.7], [1])!;
    expectRelative(joint.statistic, 0.7 ** 2 / robust.covariance.values[3]!, 1e-10);
    expectRelative(joint.denominatorDegreesOfFreedom, robust.degreesOfFreedom([0, 1]), 1e-9);
  });
});

describe("identity: under the model the expected robust variance is the model's", () => {
  test("with residuals of every unit direction summed (E ee' = R)", () => {
    // V is linear in ee', so averaging over residuals drawn along the rows of a square root of R is exact
    const errors = [0.5, 0.8, 1.3, 0.7, 1.1, 0.9];
    const x = [0.2, -1, 0.5, 1.4, -0.3, 0.9];
    const clusters = [[0, 1], [2, 3], [4], [5]];
    const weights = errors.map((error) => 1 / error ** 2);
    const sums = [0, 1, 2].map((power) =>
      weights.reduce((total, weight, i) => total + weight * x[i]! ** power, 0),
    );
    const determinant = sums[0]! * sums[2]! - sums[1]! ** 2;
    const covariance = matrixOf([
      [sums[2]! / determinant, -sums[1]! / determinant],
      [-sums[1]! / determinant, sums[0]! / determinant],
    ]);
    const design = matrixOf(x.map((value) => [1, value]));
    const total = new Float64Array(4);
    errors.forEach((error, k) => {
      // y = error in row k only: residuals (I − H) y
      const residuals = Float64Array.from(x, (value, i) => {
        const c = covariance.values;
        const pull = [weights[k]! * error, weights[k]! * error * x[k]!];
        const fitted =
          c[0]! * pull[0]! + c[1]! * pull[1]! + value * (c[2]! * pull[0]! + c[3]! * pull[1]!);
        return (i === k ? error : 0) - fitted;
      });
      const { covariance: robust } = biasReducedClusterRobust({
        design,
        weightedDesign: matrixOf(x.map((value, i) => [weights[i]!, weights[i]! * value])),
        covariance,
        residuals,
        clusters,
        covarianceOf: (rows) => diagonal(rows.map((row) => errors[row]! ** 2)),
        crossing: [],
      });
      robust.values.forEach((value, at) => (total[at]! += value));
    });
    total.forEach((value, at) => expectRelative(value, covariance.values[at]!, 1e-10));
  });
});

test("the simple correction is the sandwich times m/(m − p) on m − p degrees of freedom", () => {
  const input = twoGroups([0.1, 0.5, 0.9], [1, 2, 4, 3]);
  const robust = simpleClusterRobust(input)!;
  const sumOfSquares = (values: readonly number[]) => variance(values) * (values.length - 1);
  const expected = (7 / 5) * (sumOfSquares([0.1, 0.5, 0.9]) / 9 + sumOfSquares([1, 2, 4, 3]) / 16);
  expectRelative(robust.covariance.values[3]!, expected, 1e-12);
  expect(robust.degreesOfFreedom([0, 1])).toBe(5);
  expect(
    simpleClusterRobust({
      ...input,
      clusters: [
        [0, 1, 2, 3],
        [4, 5, 6],
      ],
    }),
  ).toBeUndefined();
});

/** Weighted least squares with rows in clusters, fitted through an orthonormal basis. */
const weighted = (
  rows: readonly (readonly number[])[],
  errors: readonly number[],
  values: readonly number[],
  clusters: readonly (readonly number[])[],
): ClusterRobustInput => {
  const p = rows[0]!.length;
  const scaled = rows.map((row, i) => row.map((value) => value / errors[i]!));
  const basis = orthonormalDesign([matrixOf(scaled)]);
  const covariance = covarianceFromBasis(basis, identity(p).values);
  const q = (i: number, k: number): number => basis.bases[0]![i * p + k]!;
  const onBasis = Array.from({ length: p }, (_, k) =>
    values.reduce((total, value, i) => total + (q(i, k) * value) / errors[i]!, 0),
  );
  return {
    design: matrixOf(rows),
    weightedDesign: matrixOf(scaled.map((row, i) => row.map((value) => value / errors[i]!))),
    covariance,
    residuals: Float64Array.from(
      values,
      (value, i) => value - errors[i]! * onBasis.reduce((total, c, k) => total + c * q(i, k), 0),
    ),
    clusters,
    covarianceOf: (cluster) => diagonal(cluster.map((row) => errors[row]! ** 2)),
    crossing: [],
  };
};

test.each([0.05, 0.3, 5, 500])(
  "identity: a row with a coefficient and an error (%d) of its own changes nothing else",
  (own) => {
    const x = [0.2, -1, 0.5, 1.4, -0.3, 0.9];
    const errors = [0.004, 0.005, 0.006, 0.007, 0.011, 0.009];
    const values = [0.11, 0.14, 0.12, 0.16, 0.09, 0.13];
    const clusters = [[0], [1], [2, 3], [4], [5]];
    const without = biasReducedClusterRobust(
      weighted(
        x.map((value) => [1, value]),
        errors,
        values,
        clusters,
      ),
    );
    const robust = biasReducedClusterRobust(
      weighted(
        [...x.map((value) => [1, value, 0]), [1, 2, 1]],
        [...errors, own],
        [...values, 0.7],
        [[0, 6], ...clusters.slice(1)],
      ),
    );
    expectRelative(robust.covariance.values[0]!, without.covariance.values[0]!, 1e-9);
    expectRelative(robust.covariance.values[4]!, without.covariance.values[3]!, 1e-9);
    expectRelative(robust.degreesOfFreedom([0, 1, 0]), without.degreesOfFreedom([0, 1]), 1e-9);
    expectRelative(robust.degreesOfFreedom([1, 0, 0]), without.degreesOfFreedom([1, 0]), 1e-9);
  },
);

const { numbers } = baseR();

/**
 * Independent: base R, which is told of the first cluster that its own level leaves one direction of its residuals, and
 * projects on that. The other clusters lie `reach` apart, so the slope rests on the first one all but for a share of
 * about 3 · reach²; between shares of 10⁻⁶ and 10⁻⁹ nothing may be lost to rounding.
 */
test.each([1e-3, 1e-4, 2e-5])(
  "a slope that rests on one cluster, others %d apart",
  async (reach) => {
    const x = [-0.8, 1.1, ...[-1, 1, -1, 1, 1, -1].map((side) => side * reach)];
    const errors = [0.3, 0.2, 0.25, 0.15, 0.3, 0.2, 0.1, 0.35];
    const values = [0.1, 0.9, 0.31, 0.27, 0.45, 0.19, 0.36, 0.22];
    const rows = x.map((value, i) => [i < 2 ? 1 : 0, i < 2 ? 0 : 1, value]);
    const robust = biasReducedClusterRobust(
      weighted(rows, errors, values, [[0, 1], [2], [3], [4], [5], [6], [7]]),
    );
    const expected = await numbers(`
    s <- ${asR(errors)}; y <- ${asR(values)} / s
    X <- cbind(rep(1:0, c(2, 6)), rep(0:1, c(2, 6)), ${asR(x)}) / s
    fit <- qr(X, LAPACK = FALSE); Q <- qr.Q(fit); Ri <- solve(qr.R(fit))
    e <- y - Q %*% crossprod(Q, y)
    H <- Q %*% t(Q); n <- length(y)
    level <- X[1:2, 1] / sqrt(sum(X[1:2, 1]^2)); v <- c(-level[2], level[1])
    A <- diag(0, n)
    share <- 1 - sum((t(v) %*% Q[1:2, ])^2)
    b <- s[1:2]^2 * v * sqrt(share)
    A[1:2, 1:2] <- (s[1:2] * b) %*% t(s[1:2] * b) / sum(b^2)^1.5
    A[1:2, 1:2] <- A[1:2, 1:2] * outer(1 / s[1:2], s[1:2])
    for (i in 3:n) A[i, i] <- (1 - H[i, i])^-0.5
    cluster <- c(1, 1, 2:7)
    U <- sapply(1:7, function(j) Ri %*% t(Q[cluster == j, , drop = FALSE]) %*% A[cluster == j, cluster == j, drop = FALSE] %*% e[cluster == j])
    G <- lapply(2:3, function(k) sapply(1:7, function(j) (diag(n) - H)[, cluster == j, drop = FALSE] %*%
      t(A[cluster == j, cluster == j, drop = FALSE]) %*% Q[cluster == j, , drop = FALSE] %*% Ri[k, ]))
    freedom <- sapply(G, function(g) { P <- crossprod(g); sum(diag(P))^2 / sum(P * P) })
    c(rowSums(U^2)[2:3], freedom)`);
    const unit = (k: number): readonly number[] => [0, 1, 2].map((at) => (at === k ? 1 : 0));
    expectRelative(robust.covariance.values[4]!, expected[0]!, 1e-5);
    expectRelative(robust.covariance.values[8]!, expected[1]!, 1e-5);
    expectRelative(robust.degreesOfFreedom(unit(1)), expected[2]!, 1e-5);
    // Of a share below a millionth the degrees of freedom, 1 all but exactly, cannot be computed, and none are claimed.
    if (reach < 5e-4) expect(robust.degreesOfFreedom(unit(2))).toBe(0);
    else expectRelative(robust.degreesOfFreedom(unit(2)), expected[3]!, 1e-5);
  },
);
