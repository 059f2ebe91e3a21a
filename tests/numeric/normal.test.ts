import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { normalDensity, normalProbability, normalQuantile } from "../../src/numeric/normal.js";
import { integrate } from "./integrate.js";
import { relativeError } from "./relative-error.js";

const exponent = fc.double({ min: -300, max: Math.log10(0.5), noNaN: true });

describe("normal distribution", () => {
  // independent: base R, qnorm(0.975), qnorm(0.95), qnorm(0.995)
  test("gives R's percentage points", () => {
    expect(normalQuantile(0.975).toFixed(9)).toBe("1.959963985");
    expect(normalQuantile(0.95).toFixed(9)).toBe("1.644853627");
    expect(normalQuantile(0.995).toFixed(9)).toBe("2.575829304");
  });

  // identity: probability ∘ quantile = id, in either tail, down to 1e-300
  test("quantile undoes probability", () => {
    fc.assert(
      fc.property(exponent, fc.constantFrom("lower" as const, "upper" as const), (power, tail) => {
        const p = 10 ** power;
        const z = normalQuantile(p, tail);
        // rounding of z alone moves p by z² machine epsilons
        expect(relativeError(normalProbability(z, tail), p)).toBeLessThan((z * z + 8) * 2.3e-16);
      }),
      { seed: 4, numRuns: 500 },
    );
  });

  // identity: the tails mirror each other and add up to one
  test("tails mirror and add up", () => {
    fc.assert(
      fc.property(fc.double({ min: -38, max: 38, noNaN: true }), (x) => {
        expect(normalProbability(x, "upper")).toBe(normalProbability(-x));
        expect(Math.abs(normalProbability(x) + normalProbability(-x) - 1)).toBeLessThan(3e-16);
      }),
      { seed: 5 },
    );
  });

  // independent: quadrature of the density
  test("is the integral of the density", () => {
    expect(
      relativeError(normalProbability(-1.3), integrate(normalDensity, -12, -1.3, { panels: 40 })),
    ).toBeLessThan(1e-14);
  });

  test("keeps IEEE manners", () => {
    expect(normalProbability(NaN)).toBeNaN();
    expect(normalDensity(NaN)).toBeNaN();
    expect(normalQuantile(NaN)).toBeNaN();
    expect(normalQuantile(0)).toBe(-Infinity);
    expect(normalQuantile(1)).toBe(Infinity);
    expect(normalQuantile(0.5)).toBe(0);
    expect(normalProbability(Infinity)).toBe(1);
    expect(normalProbability(-Infinity)).toBe(0);
    expect(normalDensity(Infinity)).toBe(0);
  });
});

describe("refuses", () => {
  test("a probability outside zero to one", () => {
    expect(() => normalQuantile(1.2)).toThrow(
      "normalQuantile requires a probability between 0 and 1, got 1.2",
    );
    expect(() => normalQuantile(-0.1, "upper")).toThrow("got -0.1");
  });
});
