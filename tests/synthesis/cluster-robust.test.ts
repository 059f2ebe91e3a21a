import { describe, expect, test } from "vitest";
import {
  biasReducedClusterRobust,
  simpleClusterRobust,
} from "../../src/synthesis/cluster-robust.js";
import type { ClusterRobustInput } from "../../src/synthesis/contrast-traces.js";
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
