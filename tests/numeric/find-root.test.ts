import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { ConvergenceError } from "../../src/errors.js";
import { findRoot } from "../../src/numeric/find-root.js";

describe("findRoot", () => {
  // identity: roots known in closed form
  test("finds closed-form roots to the last digits", () => {
    expect(Math.abs(findRoot((x) => x * x - 2, 0, 2) - Math.SQRT2)).toBeLessThan(4e-16);
    expect(Math.abs(findRoot(Math.cos, 1, 2) - Math.PI / 2)).toBeLessThan(4e-16);
    expect(Math.abs(findRoot((x) => Math.exp(x) - 1e-5, -100, 100) - Math.log(1e-5))).toBeLessThan(
      1e-13,
    );
    expect(findRoot((x) => x, 0, 3)).toBe(0);
    expect(findRoot((x) => x - 3, 0, 3)).toBe(3);
  });
  test("finds a root wherever it lies, with the ends in either order", () => {
    fc.assert(
      fc.property(fc.double({ min: -50, max: 50, noNaN: true }), fc.boolean(), (root, turn) => {
        const f = (x: number): number => Math.atan(x - root) + (x - root) ** 3;
        const found = turn ? findRoot(f, 60, -60) : findRoot(f, -60, 60);
        expect(Math.abs(found - root)).toBeLessThan(2e-14 * (1 + Math.abs(root)));
      }),
      { seed: 14 },
    );
  });
  test("closes in on a jump", () => {
    expect(Math.abs(findRoot((x) => (x < 0.3 ? -1 : 1), 0, 1) - 0.3)).toBeLessThan(1e-14);
  });
});

describe("refuses", () => {
  test("a bracket without a change of sign", () => {
    expect(() => findRoot((x) => x * x + 1, -1, 1)).toThrow(
      "findRoot requires a function of opposite sign at the two ends, got 2 at -1 and 2 at 1; widen the bracket",
    );
  });
  test("a function that is not a number", () => {
    expect(() => findRoot(() => NaN, 0, 1)).toThrow(
      "findRoot requires a function that is a number at both ends",
    );
    expect(() => findRoot((x) => (x === 0 || x === 1 ? x - 0.5 : NaN), 0, 1)).toThrow(
      "inside the bracket",
    );
  });
  test("to pretend when the iterations run out", () => {
    expect(() => findRoot((x) => x ** 3 - 2, 0, 10, { maxIterations: 2 })).toThrow(
      ConvergenceError,
    );
  });
});
