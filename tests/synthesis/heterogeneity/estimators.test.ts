import { describe, expect, test } from "vitest";
import {
  heterogeneityEstimators,
  type HeterogeneityName,
} from "../../../src/synthesis/heterogeneity/estimators.js";
import { matrixOf } from "../../../src/numeric/matrix.js";
import { randomStream } from "../../../src/numeric/random-stream.js";
import { fitAt, weightedProblem } from "../../../src/synthesis/weighted-problem.js";
import { twoTops } from "../two-tops.js";
import { bcg1994 } from "../../published/bcg-1994.js";
import { expectPrinted, expectRelative } from "../../effects/agreement.js";

const names = Object.keys(heterogeneityEstimators) as readonly HeterogeneityName[];

const problemOf = (
  estimates: readonly number[],
  variances: readonly number[],
  rows: readonly (readonly number[])[] = estimates.map(() => [1]),
) => weightedProblem(estimates, variances, matrixOf(rows));

const random = (seed: number, k: number) => {
  const stream = randomStream(seed);
  return {
    estimates: Array.from({ length: k }, () => 0.4 + 0.5 * stream.normal()),
    variances: Array.from({ length: k }, () => 0.02 + 0.3 * stream.uniform()),
    rows: Array.from({ length: k }, () => [1, stream.normal(), stream.uniform()]),
  };
};

describe("independent: heterogeneity of the thirteen BCG trials, by the definitions in base R", () => {
  test.each(names)("%s", (name) => {
    const effects = bcg1994.logRiskRatios;
    const problem = problemOf(
      effects.map((effect) => effect.estimate),
      effects.map((effect) => effect.variance),
    );
    expectPrinted(heterogeneityEstimators[name](problem), bcg1994.results.betweenVariance[name]);
  });
});

describe("identities", () => {
  test.each(names)("%s: equal effects have no variance between them", (name) => {
    expect(heterogeneityEstimators[name](problemOf([0.3, 0.3, 0.3], [0.1, 0.2, 0.4]))).toBe(0);
  });

  test("with equal variances and no moderators every moment estimator is the spread minus the variance", () => {
    const { estimates } = random(11, 9);
    const mean = estimates.reduce((a, b) => a + b, 0) / 9;
    const spread = estimates.reduce((total, value) => total + (value - mean) ** 2, 0) / 8;
    const problem = problemOf(estimates, new Array<number>(9).fill(0.05));
    for (const name of [
      "restricted-maximum-likelihood",
      "dersimonian-laird",
      "paule-mandel",
      "hedges-olkin",
    ] as const) {
      expectRelative(heterogeneityEstimators[name](problem), spread - 0.05, 1e-12);
    }
    expectRelative(
      heterogeneityEstimators["maximum-likelihood"](problem),
      (spread * 8) / 9 - 0.05,
      1e-12,
    );
  });

  test("paule-mandel brings the generalised Q to its degrees of freedom, with moderators too", () => {
    const { estimates, variances, rows } = random(12, 15);
    const problem = problemOf(estimates, variances, rows);
    const between = heterogeneityEstimators["paule-mandel"](problem);
    expect(between).toBeGreaterThan(0);
    expectRelative(fitAt(problem, between).q, 12, 1e-12);
  });
});

describe("likelihood estimators against a plain grid (independent: likelihood written out here)", () => {
  const logLikelihood = (
    estimates: readonly number[],
    variances: readonly number[],
    between: number,
    restricted: boolean,
  ): number => {
    const weights = variances.map((variance) => 1 / (variance + between));
    const total = weights.reduce((a, b) => a + b, 0);
    const mean = weights.reduce((sum, weight, i) => sum + weight * estimates[i]!, 0) / total;
    let value = restricted ? Math.log(total) : 0;
    weights.forEach((weight, i) => {
      value += -Math.log(weight) + weight * (estimates[i]! - mean) ** 2;
    });
    return -value / 2;
  };
  test.each([1, 2, 3, 4, 5, 6, 7, 8])("seed %i", (seed) => {
    const { estimates, variances } = random(seed, 4 + seed);
    const problem = problemOf(estimates, variances);
    for (const restricted of [true, false]) {
      const name = restricted ? "restricted-maximum-likelihood" : "maximum-likelihood";
      const found = heterogeneityEstimators[name](problem);
      const top = logLikelihood(estimates, variances, found, restricted);
      let highest = -Infinity;
      for (let place = 0; place <= 4000; place++) {
        const between = (place / 4000) ** 2 * 2;
        highest = Math.max(highest, logLikelihood(estimates, variances, between, restricted));
      }
      expect(highest).toBeLessThanOrEqual(top + 1e-12);
    }
  });

  test("the higher of two tops is found, though the other is met first", () => {
    const { estimates, variances } = twoTops;
    const found = heterogeneityEstimators["restricted-maximum-likelihood"](
      problemOf(estimates, variances),
    );
    const top = logLikelihood(estimates, variances, found, true);
    const grid = Array.from({ length: 3001 }, (_, place) => {
      const between = 1e-7 * 10 ** ((place / 3000) * 8);
      return { between, value: logLikelihood(estimates, variances, between, true) };
    });
    const tops = grid.filter(
      ({ value }, i) =>
        i > 0 && value > grid[i - 1]!.value && value > (grid[i + 1]?.value ?? value),
    );
    expect(tops.length).toBe(2);
    expect(tops[0]!.value).toBeLessThan(tops[1]!.value);
    expect(Math.max(...tops.map(({ value }) => value))).toBeLessThanOrEqual(top + 1e-12);
    expect(top).toBeLessThan(tops[1]!.value + 1e-3);
  });
});
