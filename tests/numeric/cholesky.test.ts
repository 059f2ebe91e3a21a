import { describe, expect, test } from "vitest";
import {
  backSolve,
  cholesky,
  forwardSolve,
  forwardSolveMatrix,
  inverseFromCholesky,
  solveCholesky,
  solveCholeskyMatrix,
  type CholeskyFactor,
} from "../../src/numeric/cholesky.js";
import {
  identity,
  matrixOf,
  multiply,
  multiplyVector,
  transpose,
} from "../../src/numeric/matrix.js";
import { symmetricEigen } from "../../src/numeric/symmetric-eigen.js";
import { largestGap, randomDefinite, randomMatrix, zeros } from "./random-matrix.js";

const factorOf = (m: Parameters<typeof cholesky>[0]): CholeskyFactor => {
  const factor = cholesky(m);
  if (factor === undefined) throw new Error("not positive definite");
  return factor;
};

describe("cholesky", () => {
  // identity: L·Lᵀ = m, m·m⁻¹ = 1, m·x = b, ln det = Σ ln eigenvalues
  test("factor, solution, inverse and determinant fit the matrix", () => {
    for (const size of [1, 2, 5, 20]) {
      const m = randomDefinite(size, size);
      const factor = factorOf(m);
      expect(largestGap(multiply(factor.lower, transpose(factor.lower)), m)).toBeLessThan(1e-13);
      expect(largestGap(multiply(m, inverseFromCholesky(factor)), identity(size))).toBeLessThan(
        1e-11,
      );
      const b = randomMatrix(size, 3, 99);
      expect(largestGap(multiply(m, solveCholeskyMatrix(factor, b)), b)).toBeLessThan(1e-11);
      expect(
        largestGap(multiply(factor.lower, forwardSolveMatrix(factor.lower, b)), b),
      ).toBeLessThan(1e-12);
      const logs = symmetricEigen(m).values.reduce((total, value) => total + Math.log(value), 0);
      expect(Math.abs(logs - factor.logDeterminant)).toBeLessThan(1e-10);
    }
  });

  // identity: worked by hand
  test("gives the whole-number factor of a whole-number matrix", () => {
    const factor = factorOf(
      matrixOf([
        [4, 2],
        [2, 10],
      ]),
    );
    expect(factor.lower).toEqual(
      matrixOf([
        [2, 0],
        [1, 3],
      ]),
    );
    expect([...forwardSolve(factor.lower, [4, 8])]).toEqual([2, 2]);
    expect([...backSolve(factor.lower, [5, 3])]).toEqual([2, 1]);
    expect([
      ...multiplyVector(
        matrixOf([
          [4, 2],
          [2, 10],
        ]),
        solveCholesky(factor, [6, 12]),
      ),
    ]).toEqual([6, 12]);
  });

  test("says when a matrix is not positive definite", () => {
    expect(
      cholesky(
        matrixOf([
          [1, 2],
          [2, 1],
        ]),
      ),
    ).toBeUndefined();
    expect(
      cholesky(
        matrixOf([
          [1, 1],
          [1, 1],
        ]),
      ),
    ).toBeUndefined();
    expect(
      cholesky(
        matrixOf([
          [0.1, 0.3],
          [0.3, 0.9],
        ]),
      ),
    ).toBeUndefined();
    expect(cholesky(matrixOf([[NaN]]))).toBeUndefined();
    expect(cholesky(matrixOf([[Infinity]]))).toBeUndefined();
    expect(cholesky(zeros(0, 0))?.logDeterminant).toBe(0);
  });
});

describe("refuses", () => {
  test("shapes that do not fit", () => {
    expect(() => cholesky(zeros(2, 3))).toThrow("cholesky requires a square matrix, got 2 × 3");
    expect(() => forwardSolve(identity(2), [1])).toThrow(
      "forwardSolve requires a vector of 2 numbers, got 1",
    );
    expect(() => backSolve(identity(2), [1])).toThrow(
      "backSolve requires a vector of 2 numbers, got 1",
    );
  });
});
