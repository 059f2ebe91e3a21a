import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { chiSquaredProbability, chiSquaredQuantile } from "../../src/numeric/chi-squared.js";
import { fProbability, fQuantile } from "../../src/numeric/f-distribution.js";
import { relativeError } from "./relative-error.js";

const tails = fc.constantFrom("lower" as const, "upper" as const);
const power = (min: number, max: number) =>
  fc.double({ min, max, noNaN: true }).map((exponent) => 10 ** exponent);

describe("F distribution", () => {
  // independent: base R, qf(0.95, 3, 10), qf(0.95, 1, 10), qf(0.99, 5, 20)
  test("gives R's percentage points", () => {
    expect(fQuantile(0.95, 3, 10).toFixed(9)).toBe("3.708264819");
    expect(fQuantile(0.95, 1, 10).toFixed(9)).toBe("4.964602744");
    expect(fQuantile(0.99, 5, 20).toFixed(9)).toBe("4.102684631");
  });

  // identity: with two numerator degrees of freedom the upper tail is (1 + 2f/n)^(−n/2)
  test("has its closed form", () => {
    for (const n of [0.5, 2, 7.3, 300, 1e5]) {
      for (const f of [1e-8, 0.3, 1, 4, 200]) {
        const exponent = (-n / 2) * Math.log1p((2 * f) / n);
        const room = (Math.abs(exponent) + 10) * 5e-16;
        expect(relativeError(fProbability(f, 2, n, "upper"), Math.exp(exponent))).toBeLessThan(
          room,
        );
        expect(relativeError(fProbability(f, 2, n), -Math.expm1(exponent))).toBeLessThan(1e-14);
      }
    }
  });

  // identity: P(F ≤ f; m, n) = P(F > 1/f; n, m)
  test("turns over when the two are exchanged", () => {
    fc.assert(
      fc.property(power(-3, 3), power(-0.5, 6), power(-0.5, 6), (f, m, n) => {
        const there = fProbability(f, m, n);
        const back = fProbability(1 / f, n, m, "upper");
        if (there < 1e-290) return;
        expect(relativeError(back, there)).toBeLessThan(1e-13 + 2e-15 * Math.min(m, n) * 1e-2);
      }),
      { seed: 9 },
    );
  });

  // identity: probability ∘ quantile = id
  test("quantile undoes probability, in either tail", () => {
    fc.assert(
      fc.property(
        power(-250, Math.log10(0.5)),
        power(0.2, 5),
        power(0.2, 5),
        tails,
        (p, m, n, tail) => {
          const f = fQuantile(p, m, n, tail);
          if (f === 0 || f === Infinity) return;
          // rounding of f alone moves p by at most min(m, n)/2 machine epsilons
          const room = 2e-13 + Math.min(m, n) * 2e-16;
          expect(relativeError(fProbability(f, m, n, tail), p)).toBeLessThan(room);
        },
      ),
      { seed: 10, numRuns: 500 },
    );
  });

  // identity: with a known denominator m·F is chi-squared with m degrees of freedom
  test("tends to chi-squared", () => {
    expect(fProbability(2.5, 4, Infinity, "upper")).toBe(chiSquaredProbability(10, 4, "upper"));
    expect(fQuantile(0.9, 4, Infinity)).toBe(chiSquaredQuantile(0.9, 4) / 4);
    expect(
      relativeError(fProbability(2.5, 4, 1e13, "upper"), chiSquaredProbability(10, 4, "upper")),
    ).toBeLessThan(1e-11);
  });

  test("keeps IEEE manners", () => {
    expect(fProbability(NaN, 1, 2)).toBeNaN();
    expect(fQuantile(NaN, 1, 2)).toBeNaN();
    expect(fProbability(-1, 1, 2)).toBe(0);
    expect(fProbability(0, 1, 2, "upper")).toBe(1);
    expect(fProbability(Infinity, 1, 2, "upper")).toBe(0);
    expect(fQuantile(0, 1, 2)).toBe(0);
    expect(fQuantile(1, 1, 2)).toBe(Infinity);
  });
});

describe("refuses", () => {
  test("degrees of freedom that are not positive, a probability outside zero to one", () => {
    expect(() => fProbability(1, 0, 2)).toThrow("requires numerator degrees of freedom above zero");
    expect(() => fProbability(1, 2, -1)).toThrow(
      "requires denominator degrees of freedom above zero",
    );
    expect(() => fQuantile(0.5, 2, 0)).toThrow(
      "requires denominator degrees of freedom above zero",
    );
    expect(() => fQuantile(1.5, 2, 3)).toThrow("requires a probability between 0 and 1, got 1.5");
  });
});
