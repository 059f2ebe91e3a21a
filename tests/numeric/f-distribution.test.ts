import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { chiSquaredProbability } from "../../src/numeric/chi-squared.js";
import { fProbability } from "../../src/numeric/f-distribution.js";
import { relativeError } from "./relative-error.js";

const power = (min: number, max: number) =>
  fc.double({ min, max, noNaN: true }).map((exponent) => 10 ** exponent);

describe("F distribution", () => {
  // independent: base R, qf(0.95, 3, 10), qf(0.95, 1, 10), qf(0.99, 5, 20)
  test("gives R's percentage points", () => {
    expect(fProbability(3.708264819, 3, 10)).toBeCloseTo(0.95, 10);
    expect(fProbability(4.964602744, 1, 10)).toBeCloseTo(0.95, 10);
    expect(fProbability(4.102684631, 5, 20)).toBeCloseTo(0.99, 10);
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

  // identity: with a known denominator m·F is chi-squared with m degrees of freedom
  test("tends to chi-squared", () => {
    expect(fProbability(2.5, 4, Infinity, "upper")).toBe(chiSquaredProbability(10, 4, "upper"));
    expect(
      relativeError(fProbability(2.5, 4, 1e13, "upper"), chiSquaredProbability(10, 4, "upper")),
    ).toBeLessThan(1e-11);
  });

  test("keeps IEEE manners", () => {
    expect(fProbability(NaN, 1, 2)).toBeNaN();
    expect(fProbability(-1, 1, 2)).toBe(0);
    expect(fProbability(0, 1, 2, "upper")).toBe(1);
    expect(fProbability(Infinity, 1, 2, "upper")).toBe(0);
  });
});

describe("refuses", () => {
  test("degrees of freedom that are not positive", () => {
    expect(() => fProbability(1, 0, 2)).toThrow("requires numerator degrees of freedom above zero");
    expect(() => fProbability(1, 2, -1)).toThrow(
      "requires denominator degrees of freedom above zero",
    );
  });
});
