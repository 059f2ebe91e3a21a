import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { chiSquaredProbability, chiSquaredQuantile } from "../../src/numeric/chi-squared.js";
import { normalProbability } from "../../src/numeric/normal.js";
import { relativeError } from "./relative-error.js";

const tails = fc.constantFrom("lower" as const, "upper" as const);

describe("chi-squared distribution", () => {
  // independent: base R, qchisq(0.95, 1), qchisq(0.95, 10), qchisq(0.05, 10)
  test("gives R's percentage points", () => {
    expect(chiSquaredQuantile(0.95, 1).toFixed(9)).toBe("3.841458821");
    expect(chiSquaredQuantile(0.95, 10).toFixed(9)).toBe("18.307038053");
    expect(chiSquaredQuantile(0.05, 10).toFixed(9)).toBe("3.940299136");
  });

  // identity: exponential with two degrees of freedom, squared normal with one
  test("has its closed forms", () => {
    for (const x of [1e-12, 0.02, 0.9, 2.9, 3.1, 7, 60, 1300]) {
      expect(relativeError(chiSquaredProbability(x, 2, "upper"), Math.exp(-x / 2))).toBeLessThan(
        2e-15,
      );
      expect(relativeError(chiSquaredProbability(x, 2), -Math.expm1(-x / 2))).toBeLessThan(2e-15);
      const both = 2 * normalProbability(Math.sqrt(x), "upper");
      expect(relativeError(chiSquaredProbability(x, 1, "upper"), both)).toBeLessThan(
        2e-15 + x * 3e-16,
      );
    }
  });

  // identity: probability ∘ quantile = id; rounding of x alone moves p by |d ln p / d ln x| machine epsilons
  test("quantile undoes probability, in either tail", () => {
    fc.assert(
      fc.property(
        fc.double({ min: -300, max: Math.log10(0.5), noNaN: true }),
        fc.double({ min: 0.1, max: 6, noNaN: true }),
        tails,
        (power, size, tail) => {
          const p = 10 ** power;
          const n = 10 ** size;
          const x = chiSquaredQuantile(p, n, tail);
          if (x === 0) return;
          const room = (Math.abs(x - n) + Math.sqrt(n) + 20) * 4e-16;
          expect(relativeError(chiSquaredProbability(x, n, tail), p)).toBeLessThan(room + 2e-13);
        },
      ),
      { seed: 8, numRuns: 500 },
    );
  });

  test("keeps IEEE manners", () => {
    expect(chiSquaredProbability(NaN, 1)).toBeNaN();
    expect(chiSquaredQuantile(NaN, 1)).toBeNaN();
    expect(chiSquaredProbability(-1, 3)).toBe(0);
    expect(chiSquaredProbability(-1, 3, "upper")).toBe(1);
    expect(chiSquaredProbability(Infinity, 3)).toBe(1);
    expect(chiSquaredQuantile(0, 3)).toBe(0);
    expect(chiSquaredQuantile(1, 3)).toBe(Infinity);
    expect(chiSquaredQuantile(0, 3, "upper")).toBe(Infinity);
    // the answer, near 1e-60000, is below every double
    expect(chiSquaredQuantile(1e-300, 0.01)).toBe(0);
  });
});

describe("refuses", () => {
  test("degrees of freedom that are not positive, a probability outside zero to one", () => {
    expect(() => chiSquaredProbability(1, 0)).toThrow(
      "requires degrees of freedom above zero, got 0",
    );
    expect(() => chiSquaredQuantile(0.5, -1)).toThrow(
      "requires degrees of freedom above zero, got -1",
    );
    expect(() => chiSquaredQuantile(7, 1)).toThrow("requires a probability between 0 and 1, got 7");
  });
});
