import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { incompleteBeta } from "../../src/numeric/incomplete-beta.js";
import { relativeError } from "./relative-error.js";

const size = fc.double({ min: -1, max: 5, noNaN: true }).map((exponent) => 10 ** exponent);
const fraction = fc.double({ min: 0.001, max: 0.999, noNaN: true });

describe("incomplete beta function", () => {
  // identity: for whole a and b the tail is a binomial sum, here of positive terms
  test("is a binomial sum for whole parameters", () => {
    for (const [a, b] of [
      [1, 1],
      [2, 3],
      [7, 2],
      [20, 31],
    ] as const) {
      for (const x of [0.01, 0.2, 0.5, 0.9]) {
        const trials = a + b - 1;
        let choose = 1;
        let total = 0;
        for (let k = 0; k <= trials; k++) {
          if (k >= a) total += choose * x ** k * (1 - x) ** (trials - k);
          choose = (choose * (trials - k)) / (k + 1);
        }
        expect(relativeError(incompleteBeta(x, a, b), total)).toBeLessThan(2e-14);
      }
    }
  });

  // identity: I_x(a, b) = 1 − I_{1−x}(b, a); the parts add up to one
  test("turns over and adds up", () => {
    fc.assert(
      fc.property(fraction, size, size, (x, a, b) => {
        const lower = incompleteBeta(x, a, b);
        const upper = incompleteBeta(x, a, b, { upper: true });
        expect(Math.abs(lower + upper - 1)).toBeLessThan(4e-16);
        const turned = incompleteBeta(1 - x, b, a, { complement: x, upper: true });
        expect(turned).toBe(lower);
      }),
      { seed: 12 },
    );
  });

  // identity: I_x(a, 1) = x^a
  test("is a power when b is one", () => {
    fc.assert(
      fc.property(fraction, fc.double({ min: 0.1, max: 40, noNaN: true }), (x, a) => {
        // the rounding of an exponential grows with its exponent
        const room = (10 - a * Math.log(x)) * 3e-16;
        expect(relativeError(incompleteBeta(x, a, 1), x ** a)).toBeLessThan(room);
      }),
      { seed: 13 },
    );
  });

  test("keeps IEEE manners", () => {
    expect(incompleteBeta(NaN, 1, 1)).toBeNaN();
    expect(incompleteBeta(0.5, NaN, 1)).toBeNaN();
    expect(incompleteBeta(0, 2, 1)).toBe(0);
    expect(incompleteBeta(1, 2, 1)).toBe(1);
    expect(incompleteBeta(0, 2, 1, { upper: true })).toBe(1);
    expect(incompleteBeta(1, 2, 1, { upper: true })).toBe(0);
  });
});

describe("refuses", () => {
  test("parameters that are not positive and x outside zero to one", () => {
    expect(() => incompleteBeta(0.5, 0, 1)).toThrow("incompleteBeta requires a above zero, got 0");
    expect(() => incompleteBeta(0.5, 1, -1)).toThrow(
      "incompleteBeta requires b above zero, got -1",
    );
    expect(() => incompleteBeta(1.5, 1, 1)).toThrow(
      "incompleteBeta requires x between 0 and 1, got 1.5",
    );
  });
});
