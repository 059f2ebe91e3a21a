import { describe, expect, test } from "vitest";
import { matrixOf } from "../../src/numeric/matrix.js";
import { bayesianRegression } from "../../src/projection/bayesian-regression.js";
import {
  condensedMixture,
  condensedOf,
  condensedPosterior,
  condensedWithin,
} from "../../src/projection/condensed-posterior.js";
import { mixtureMoments, mixtureQuantile } from "../../src/projection/normal-mixture.js";
import { posteriorMixture, posteriorOf } from "../../src/projection/posterior-mixture.js";
import { weeksCurve } from "../../src/projection/weeks-curve.js";

const weeks = [4, 8, 6, 12, 8, 10, 5, 8];
const posterior = bayesianRegression(
  {
    estimates: [0.1, 0.2, 0.12, 0.3, 0.22, 0.2, 0.08, 0.25],
    variances: weeks.map(() => 0.003),
    covariances: [],
    design: matrixOf([0.2, -0.1, 0.4, 0, -0.3, 0.3, -0.2, 0.1].map((x) => [1, x])),
    intercepts: [
      { name: "study", groupOf: [0, 0, 1, 1, 2, 2, 3, 3] },
      { name: "arm", groupOf: [0, 1, 2, 3, 4, 5, 6, 7] },
    ],
    curve: (constant) => weeks.map((week) => weeksCurve(week, constant)),
  },
  {
    coefficients: [
      { mean: 0, deviation: 0.3 },
      { mean: 0, deviation: 0.15 },
    ],
    deviations: [
      { kind: "half-normal", scale: 0.1 },
      { kind: "half-normal", scale: 0.05 },
    ],
    logParameter: { mean: Math.log(5), deviation: 0.6 },
  },
);
const row = [1, 0.3];

describe("condensing keeps what it says", () => {
  const condensed = condensedPosterior(posterior, [1, 0], 60);

  test("weights, and mean and variance of any sum of coefficients, exactly", () => {
    expect(condensed.weights.length).toBeLessThanOrEqual(60);
    expect(condensed.weights.reduce((sum, weight) => sum + weight, 0)).toBeCloseTo(1, 12);
    for (const x of [row, [1, 0], [0, 1], [2, -3]]) {
      const full = mixtureMoments(posteriorMixture(posterior, x));
      const few = mixtureMoments(condensedMixture(condensed, x));
      expect(few.mean).toBeCloseTo(full.mean, 12);
      expect(few.deviation).toBeCloseTo(full.deviation, 12);
    }
  });

  test("the mean variance between groups, exactly", () => {
    const levels = 2;
    const full = posterior.weights.reduce((sum, weight, point) => {
      const [a, b] = [0, 1].map((k) => posterior.deviations[point * levels + k]!);
      return sum + weight * (a! ** 2 + b! ** 2);
    }, 0);
    const few = condensed.weights.reduce(
      (sum, weight, cell) => sum + weight * condensed.groupDeviations[cell]! ** 2,
      0,
    );
    expect(few).toBeCloseTo(full, 12);
  });

  test("covariances of two sums are inner products", () => {
    const [x, z] = [condensedOf(condensed, [1, 0.3]), condensedOf(condensed, [1, -0.2])];
    const sum = condensedOf(condensed, [2, 0.1]);
    const inner = (a: Float64Array, b: Float64Array): number => a[0]! * b[0]! + a[1]! * b[1]!;
    // Var(x + z) = Var(x) + Var(z) + 2Cov(x, z) at the first component
    expect(inner(sum.whitened, sum.whitened)).toBeCloseTo(
      inner(x.whitened, x.whitened) +
        inner(z.whitened, z.whitened) +
        2 * inner(x.whitened, z.whitened),
      12,
    );
  });
});

test("condensing goes as far as the quantiles allow", () => {
  const { condensed, largestError } = condensedWithin(
    posterior,
    [[1, 0], row],
    [2, 8, 14].map((week) => (constant: number) => weeksCurve(week, constant)),
    1e-4,
  );
  expect(largestError).toBeLessThanOrEqual(1e-4);
  for (const p of [0.025, 0.5, 0.975])
    expect(
      Math.abs(
        mixtureQuantile(condensedMixture(condensed, row), p) -
          mixtureQuantile(posteriorMixture(posterior, row), p),
      ),
    ).toBeLessThan(2e-4);
});

test("a posterior's means and covariances at a point solve its precision", () => {
  // whitened(x)·whitened(x) = x′P⁻¹x with P = LLᵀ, checked by multiplying back
  const { whitened } = posteriorOf(posterior, row);
  const [l00, , l10, l11] = posterior.precisionFactors.slice(0, 4);
  const p = [l00! ** 2, l00! * l10!, l10! ** 2 + l11! ** 2];
  const determinant = p[0]! * p[2]! - p[1]! ** 2;
  const direct =
    (row[0]! ** 2 * p[2]! - 2 * row[0]! * row[1]! * p[1]! + row[1]! ** 2 * p[0]!) / determinant;
  expect(whitened[0]! ** 2 + whitened[1]! ** 2).toBeCloseTo(direct, 12);
});

test("the course is nothing at the start, one at eight weeks, and slows down", () => {
  for (const constant of [1, 5, 20]) {
    expect(weeksCurve(0, constant)).toBeCloseTo(0, 15);
    expect(weeksCurve(8, constant)).toBe(1);
    expect(weeksCurve(4, constant)).toBeGreaterThan(0.5);
  }
  // (1 − e⁻¹)/(1 − e^(−8/5)) at c = 5 weeks
  expect(weeksCurve(5, 5)).toBeCloseTo((1 - Math.exp(-1)) / (1 - Math.exp(-1.6)), 12);
});
