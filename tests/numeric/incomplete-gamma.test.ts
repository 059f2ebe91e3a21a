import fc from "fast-check";
import { describe, expect, test } from "vitest";
import {
  gammaDensityTimesX,
  incompleteGammaLower,
  incompleteGammaUpper,
} from "../../src/numeric/incomplete-gamma.js";
import { relativeError } from "./relative-error.js";

describe("incomplete gamma function", () => {
  // identity: for a whole shape the upper tail is a Poisson sum
  test("is a Poisson sum for a whole shape", () => {
    for (const shape of [1, 2, 5, 14, 16, 40]) {
      for (const x of [0.1, 1, 6, 15, 17, 41, 90]) {
        let term = Math.exp(-x);
        let total = term;
        for (let k = 1; k < shape; k++) {
          term *= x / k;
          total += term;
        }
        expect(relativeError(incompleteGammaUpper(shape, x), total)).toBeLessThan(3e-14);
      }
    }
  });

  // identity: P(s, x) + Q(s, x) = 1 and P(s + 1, x) = P(s, x) − x^s e^−x / Γ(s + 1)
  test("tails add up and obey the recurrence", () => {
    const size = fc.double({ min: -1, max: 3, noNaN: true }).map((exponent) => 10 ** exponent);
    fc.assert(
      fc.property(size, size, (shape, x) => {
        const lower = incompleteGammaLower(shape, x);
        expect(Math.abs(lower + incompleteGammaUpper(shape, x) - 1)).toBeLessThan(4e-16);
        const step = gammaDensityTimesX(shape, x) / shape;
        expect(Math.abs(incompleteGammaLower(shape + 1, x) - (lower - step))).toBeLessThan(5e-14);
      }),
      { seed: 11 },
    );
  });

  test("keeps IEEE manners", () => {
    expect(incompleteGammaLower(NaN, 1)).toBeNaN();
    expect(incompleteGammaUpper(1, NaN)).toBeNaN();
    expect(incompleteGammaLower(2, 0)).toBe(0);
    expect(incompleteGammaUpper(2, 0)).toBe(1);
    expect(incompleteGammaLower(2, Infinity)).toBe(1);
    expect(incompleteGammaUpper(2, Infinity)).toBe(0);
  });
});

describe("refuses", () => {
  test("a shape that is not positive and a negative x", () => {
    expect(() => incompleteGammaLower(0, 1)).toThrow(
      "incompleteGammaLower requires shape above zero, got 0",
    );
    expect(() => incompleteGammaUpper(1, -1)).toThrow(
      "incompleteGammaUpper requires x of zero or more, got -1",
    );
  });
});
