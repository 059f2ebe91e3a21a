import { describe, expect, test } from "vitest";
import {
  add,
  at,
  diagonal,
  dot,
  identity,
  matrixOf,
  multiply,
  multiplyVector,
  quadraticForm,
  scale,
  submatrix,
  symmetrised,
  transpose,
} from "../../src/numeric/matrix.js";
import { largestGap, randomMatrix } from "./random-matrix.js";

const a = matrixOf([
  [1, 2, 3],
  [4, 5, 6],
]);
const b = matrixOf([
  [1, 0],
  [2, -1],
  [0, 3],
]);

describe("matrices", () => {
  // identity: products worked by hand
  test("multiply by the definition", () => {
    expect(multiply(a, b)).toEqual(
      matrixOf([
        [5, 7],
        [14, 13],
      ]),
    );
    expect([...multiplyVector(a, [1, 0, -1])]).toEqual([-2, -2]);
    expect(
      quadraticForm(
        [1, 2],
        matrixOf([
          [2, 1],
          [1, 3],
        ]),
      ),
    ).toBe(18);
    expect(dot([1, 2, 3], [4, 5, 6])).toBe(32);
  });

  // identity: (AB)ᵀ = BᵀAᵀ, A(B + C) = AB + AC, tr(AB) = tr(BA)
  test("obey the laws of algebra", () => {
    const p = randomMatrix(4, 6, 1);
    const q = randomMatrix(6, 4, 2);
    const r = randomMatrix(6, 4, 3);
    expect(
      largestGap(transpose(multiply(p, q)), multiply(transpose(q), transpose(p))),
    ).toBeLessThan(1e-14);
    expect(largestGap(multiply(p, add(q, r)), add(multiply(p, q), multiply(p, r)))).toBeLessThan(
      1e-14,
    );
    expect(multiply(identity(4), p)).toEqual(p);
  });

  test("give out their parts", () => {
    expect(at(a, 1, 2)).toBe(6);
    expect(submatrix(a, [1, 0], [2])).toEqual(matrixOf([[6], [3]]));
    expect(scale(a, 2)).toEqual(add(a, a));
    expect(
      symmetrised(
        matrixOf([
          [1, 2],
          [4, 1],
        ]),
      ),
    ).toEqual(
      matrixOf([
        [1, 3],
        [3, 1],
      ]),
    );
    expect(diagonal([3, 4])).toEqual(
      matrixOf([
        [3, 0],
        [0, 4],
      ]),
    );
    expect(matrixOf([])).toEqual({ rows: 0, columns: 0, values: new Float64Array(0) });
  });
});

describe("refuses", () => {
  test("shapes that do not fit", () => {
    expect(() => matrixOf([[1, 2], [3]])).toThrow(
      "matrixOf requires rows of 2 numbers, got 1 in row 2",
    );
    expect(() => multiply(a, a)).toThrow(
      "multiply requires matching inner sizes, got 2 × 3 times 2 × 3",
    );
    expect(() => multiplyVector(a, [1])).toThrow(
      "multiplyVector requires a vector of 3 numbers, got 1",
    );
    expect(() => add(a, b)).toThrow("add requires two matrices of one shape, got 2 × 3 and 3 × 2");
    expect(() => quadraticForm([1], a)).toThrow("quadraticForm requires");
    expect(() => dot([1], [1, 2])).toThrow("dot requires two vectors of one length, got 1 and 2");
    expect(() => symmetrised(a)).toThrow("symmetrised requires a square matrix, got 2 × 3");
  });
  test("a place outside", () => {
    expect(() => at(a, 0, 3)).toThrow("at requires a place inside 2 × 3, got (0, 3)");
    expect(() => at(a, 2, 0)).toThrow("got (2, 0)");
  });
});
