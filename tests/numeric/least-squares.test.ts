import { describe, expect, test } from "vitest";
import { leastSquares } from "../../src/numeric/least-squares.js";
import { cholesky, inverseFromCholesky, solveCholesky } from "../../src/numeric/cholesky.js";
import {
  diagonal,
  matrixOf,
  multiply,
  multiplyVector,
  transpose,
} from "../../src/numeric/matrix.js";
import { largestGap, randomMatrix } from "./random-matrix.js";

const n = 30;
const design = randomMatrix(n, 4, 21);
const y = randomMatrix(n, 1, 22).values;
const weights = Float64Array.from({ length: n }, (_, i) => 0.2 + (i % 5));

describe("leastSquares", () => {
  // independent: the normal equations solved by Cholesky's factor
  test("solves the normal equations", () => {
    const fit = leastSquares(design, y, weights);
    const weighted = multiply(transpose(design), diagonal(weights));
    const factor = cholesky(multiply(weighted, design));
    if (factor === undefined) throw new Error("singular");
    const slow = solveCholesky(factor, multiplyVector(weighted, y));
    fit.coefficients.forEach((value, i) =>
      expect(Math.abs(value - (slow[i] ?? NaN))).toBeLessThan(1e-13),
    );
    expect(largestGap(fit.covarianceUnscaled, inverseFromCholesky(factor))).toBeLessThan(1e-13);
    expect(fit.rank).toBe(4);
    const slowSum = fit.residuals.reduce(
      (total, value, i) => total + (weights[i] ?? NaN) * value ** 2,
      0,
    );
    expect(Math.abs(fit.residualSumOfSquares - slowSum)).toBeLessThan(1e-12);
    // residuals are orthogonal to every column
    for (const value of multiplyVector(weighted, fit.residuals))
      expect(Math.abs(value)).toBeLessThan(1e-12);
  });

  // identity: a column that repeats others is set aside and changes nothing else
  test("names the columns that add nothing, the later ones", () => {
    const wide = matrixOf(
      Array.from({ length: n }, (_, i) => {
        const row = [...design.values.slice(4 * i, 4 * i + 4)] as [number, number, number, number];
        return [row[0], row[1], 2 * row[0] - row[1], row[2], 0, row[3]];
      }),
    );
    const fit = leastSquares(wide, y);
    const plain = leastSquares(design, y);
    expect(fit.aliased).toEqual([2, 4]);
    expect(fit.rank).toBe(4);
    expect(fit.coefficients[2]).toBe(0);
    [0, 1, 3, 5].forEach((column, i) => {
      expect(
        Math.abs((fit.coefficients[column] ?? NaN) - (plain.coefficients[i] ?? NaN)),
      ).toBeLessThan(1e-13);
    });
    expect(fit.covarianceUnscaled.values.every(Number.isFinite)).toBe(true);
    expect(fit.covarianceUnscaled.values[2 * 6 + 2]).toBe(0);
  });

  // published: Longley-like trouble in small: Läuchli's matrix, whose normal equations are singular to rounding
  test("solves what the normal equations cannot", () => {
    const small = 1e-8;
    const m = matrixOf([
      [1, 1],
      [small, 0],
      [0, small],
    ]);
    const fit = leastSquares(m, [2, small, small], undefined, { tolerance: 1e-12 });
    expect(fit.rank).toBe(2);
    for (const value of fit.coefficients) expect(Math.abs(value - 1)).toBeLessThan(1e-7);
  });

  test("takes fewer rows than columns", () => {
    const fit = leastSquares(matrixOf([[1, 2, 3]]), [6]);
    expect(fit.aliased).toEqual([1, 2]);
    expect(fit.coefficients[0]).toBeCloseTo(6, 14);
  });
});

describe("refuses", () => {
  const m = matrixOf([[1], [2]]);
  test("lengths that differ", () => {
    expect(() => leastSquares(m, [1])).toThrow(
      "leastSquares requires 2 outcomes, one for each row, got 1",
    );
    expect(() => leastSquares(m, [1, 2], [1])).toThrow("leastSquares requires 2 weights");
  });
  test("values that are not finite and weights that are not positive", () => {
    expect(() => leastSquares(m, [1, NaN])).toThrow(
      "leastSquares requires finite outcomes, got NaN in row 1",
    );
    expect(() => leastSquares(matrixOf([[1], [Infinity]]), [1, 2])).toThrow(
      "requires a finite design",
    );
    expect(() => leastSquares(m, [1, 2], [1, 0])).toThrow(
      "requires weights above zero, got 0 in row 1",
    );
  });
});
