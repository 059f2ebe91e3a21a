import { describe, expect, test } from "vitest";
import { logGamma, stirlingRemainder } from "../../src/numeric/log-gamma.js";
import { relativeError } from "./relative-error.js";

describe("logGamma", () => {
  // identity: Γ(n) = (n − 1)!, the product taken exactly in whole numbers
  test("agrees with factorials", () => {
    let factorial = 1n;
    for (let n = 2; n <= 150; n++) {
      factorial *= BigInt(n);
      expect(relativeError(logGamma(n + 1), Math.log(Number(factorial)))).toBeLessThan(1e-15);
    }
  });

  // identity: Γ(x + 1) = x Γ(x); Legendre's duplication, Abramowitz and Stegun 6.1.18
  test("obeys recurrence, duplication and reflection", () => {
    for (const x of [0.07, 0.3, 0.77, 1.2, 2.6, 4.5, 7.9, 9.6, 12.3, 88.1]) {
      const size = Math.max(1, Math.abs(logGamma(x)));
      expect(Math.abs(logGamma(x + 1) - Math.log(x) - logGamma(x)) / size).toBeLessThan(2e-15);
      const doubled =
        logGamma(x) + logGamma(x + 0.5) - (1 - 2 * x) * Math.LN2 - 0.5 * Math.log(Math.PI);
      expect(Math.abs(logGamma(2 * x) - doubled) / Math.max(1, logGamma(2 * x))).toBeLessThan(
        4e-15,
      );
      if (!Number.isInteger(x)) {
        const reflected = Math.log(Math.abs(Math.PI / Math.sin(Math.PI * x))) - logGamma(1 - x);
        expect(Math.abs(logGamma(x) - reflected) / size).toBeLessThan(2e-13);
      }
    }
  });

  // independent: two terms of Taylor's series about 2; slope 1 − γ, curvature π²/6 − 1
  test("keeps its digits beside the zero at 2", () => {
    const gap = 2 ** -30;
    const series = gap * (1 - 0.5772156649015329 + (gap / 2) * (Math.PI ** 2 / 6 - 1));
    expect(relativeError(logGamma(2 + gap), series)).toBeLessThan(1e-15);
    expect(logGamma(1)).toBe(0);
    expect(logGamma(2)).toBe(0);
  });

  test("keeps IEEE manners at the edges", () => {
    expect(logGamma(0)).toBe(Infinity);
    expect(logGamma(-3)).toBe(Infinity);
    expect(logGamma(Infinity)).toBe(Infinity);
    expect(logGamma(NaN)).toBeNaN();
  });

  // identity: both forms meet where the series takes over, and lie between Robbins's bounds
  test("leaves a remainder between 1/(12x + 1) and 1/(12x)", () => {
    for (const x of [0.5, 1, 5, 9.999, 10, 100, 1e6]) {
      expect(stirlingRemainder(x)).toBeLessThan(1 / (12 * x));
      expect(stirlingRemainder(x)).toBeGreaterThan(1 / (12 * x + 1));
    }
  });
});
