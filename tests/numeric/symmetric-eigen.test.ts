import { describe, expect, test } from "vitest";
import {
  diagonal,
  identity,
  matrixOf,
  multiply,
  symmetrised,
  transpose,
} from "../../src/numeric/matrix.js";
import { symmetricEigen, symmetricPower } from "../../src/numeric/symmetric-eigen.js";
import { largestGap, randomDefinite, randomMatrix, zeros } from "./random-matrix.js";

describe("symmetricEigen", () => {
  // identity: A·V = V·D, VᵀV = 1, values ascending
  test("fits the matrix and is orthonormal", () => {
    for (const size of [1, 2, 3, 8, 40]) {
      const m = symmetrised(randomMatrix(size, size, size));
      const { values, vectors } = symmetricEigen(m);
      expect(largestGap(multiply(m, vectors), multiply(vectors, diagonal(values)))).toBeLessThan(
        5e-14,
      );
      expect(largestGap(multiply(transpose(vectors), vectors), identity(size))).toBeLessThan(5e-14);
      expect([...values]).toEqual([...values].sort((x, y) => x - y));
    }
  });

  // published: the second-difference matrix has eigenvalues 2 − 2 cos(kπ/(n + 1)), a textbook closed form
  test("gives the closed form of the second-difference matrix", () => {
    const n = 12;
    const m = matrixOf(
      Array.from({ length: n }, (_, i) =>
        Array.from({ length: n }, (_unused, j) => (i === j ? 2 : Math.abs(i - j) === 1 ? -1 : 0)),
      ),
    );
    symmetricEigen(m).values.forEach((value, k) => {
      expect(Math.abs(value - (2 - 2 * Math.cos(((k + 1) * Math.PI) / (n + 1))))).toBeLessThan(
        1e-14,
      );
    });
  });

  test("takes repeated values, huge and tiny scales, and the empty matrix", () => {
    expect([...symmetricEigen(identity(5)).values]).toEqual([1, 1, 1, 1, 1]);
    expect([...symmetricEigen(zeros(3, 3)).values]).toEqual([0, 0, 0]);
    expect(symmetricEigen(zeros(0, 0)).values.length).toBe(0);
    for (const size of [1e-200, 1e150]) {
      const m = matrixOf([
        [2 * size, size, 0],
        [size, 2 * size, size],
        [0, size, 2 * size],
      ]);
      const top = symmetricEigen(m).values[2] ?? NaN;
      expect(Math.abs(top / size - (2 + Math.SQRT2))).toBeLessThan(1e-14);
    }
  });
});

describe("symmetricPower", () => {
  // identity: roots multiply back; Moore and Penrose's four conditions for the pseudo-inverse
  test("roots and inverse roots multiply back", () => {
    const m = randomDefinite(6, 4);
    const root = symmetricPower(m, 0.5);
    expect(largestGap(multiply(root, root), m)).toBeLessThan(1e-12);
    const inverseRoot = symmetricPower(m, -0.5);
    expect(largestGap(multiply(multiply(inverseRoot, m), inverseRoot), identity(6))).toBeLessThan(
      1e-11,
    );
  });
  test("is the pseudo-inverse of a singular matrix", () => {
    const thin = randomMatrix(5, 2, 8);
    const m = multiply(thin, transpose(thin));
    const pseudo = symmetricPower(m, -1);
    const product = multiply(m, pseudo);
    expect(largestGap(multiply(product, m), m)).toBeLessThan(1e-12);
    expect(largestGap(multiply(pseudo, product), pseudo)).toBeLessThan(1e-11);
    expect(largestGap(product, transpose(product))).toBeLessThan(1e-12);
  });
  test("leaves zero at zero, whatever the power", () => {
    expect(symmetricPower(zeros(2, 2), -0.5)).toEqual(zeros(2, 2));
  });
});

describe("refuses", () => {
  test("what is not a finite symmetric matrix", () => {
    expect(() => symmetricEigen(zeros(2, 3))).toThrow(
      "symmetricEigen requires a square matrix, got 2 × 3",
    );
    expect(() => symmetricEigen(matrixOf([[NaN]]))).toThrow(
      "symmetricEigen requires finite numbers, got NaN",
    );
    expect(() =>
      symmetricEigen(
        matrixOf([
          [1, 2],
          [3, 1],
        ]),
      ),
    ).toThrow("symmetricEigen requires a symmetric matrix, got 3 at (1, 0) and 2 at (0, 1)");
  });
  test("a fractional power of a matrix with a negative eigenvalue", () => {
    expect(() =>
      symmetricPower(
        matrixOf([
          [1, 2],
          [2, 1],
        ]),
        0.5,
      ),
    ).toThrow("symmetricPower requires no negative eigenvalue for a fractional power, got -");
  });
});
