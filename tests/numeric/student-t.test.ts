import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { fProbability } from "../../src/numeric/f-distribution.js";
import { normalProbability, normalQuantile } from "../../src/numeric/normal.js";
import { studentTProbability, studentTQuantile } from "../../src/numeric/student-t.js";
import { relativeError } from "./relative-error.js";

const tails = fc.constantFrom("lower" as const, "upper" as const);

describe("Student's t", () => {
  // independent: base R, qt(0.975, c(1, 10, 30))
  test("gives R's percentage points", () => {
    expect(studentTQuantile(0.975, 1).toFixed(9)).toBe("12.706204736");
    expect(studentTQuantile(0.975, 10).toFixed(9)).toBe("2.228138852");
    expect(studentTQuantile(0.975, 30).toFixed(9)).toBe("2.042272456");
  });

  // identity: closed forms with one and two degrees of freedom
  test("has its closed forms", () => {
    for (const t of [1e-9, 0.01, 0.7, 1, 3, 80, 1e6]) {
      const one = Math.atan2(1, t) / Math.PI;
      expect(relativeError(studentTProbability(t, 1, "upper"), one)).toBeLessThan(4e-15);
      expect(relativeError(studentTProbability(-t, 1), one)).toBeLessThan(4e-15);
      const root = Math.sqrt(2 + t * t);
      const two = 1 / (root * (root + t));
      expect(relativeError(studentTProbability(t, 2, "upper"), two)).toBeLessThan(4e-15);
    }
  });

  // identity: the square of a t is an F with one numerator degree of freedom
  test("squares to an F", () => {
    for (const n of [0.4, 3, 17.5, 1e5]) {
      for (const t of [0.1, 1, 4, 12]) {
        const both = 2 * studentTProbability(t, n, "upper");
        expect(relativeError(fProbability(t * t, 1, n, "upper"), both)).toBeLessThan(1e-13);
      }
    }
  });

  // identity: probability ∘ quantile = id; rounding of t alone moves p by n or t² machine epsilons
  test("quantile undoes probability for any degrees of freedom, in either tail", () => {
    fc.assert(
      fc.property(
        fc.double({ min: -300, max: Math.log10(0.5), noNaN: true }),
        fc.double({ min: 0, max: 6, noNaN: true }),
        tails,
        (power, size, tail) => {
          const p = 10 ** power;
          const n = 10 ** size;
          const t = studentTQuantile(p, n, tail);
          const room = (Math.min(n, t * t) + 50) * 1e-15;
          expect(relativeError(studentTProbability(t, n, tail), p)).toBeLessThan(room + 2e-13);
        },
      ),
      { seed: 6, numRuns: 500 },
    );
  });

  // identity: quantile grows with p
  test("quantile is monotone and symmetric", () => {
    fc.assert(
      fc.property(
        fc.double({ min: 1e-12, max: 0.499, noNaN: true }),
        fc.double({ min: 0.2, max: 500, noNaN: true }),
        (p, n) => {
          expect(studentTQuantile(p * 1.001, n)).toBeGreaterThan(studentTQuantile(p, n));
          expect(studentTQuantile(p, n, "upper")).toBe(-studentTQuantile(p, n));
        },
      ),
      { seed: 7 },
    );
  });

  // identity: the normal distribution is the limit
  test("tends to the normal", () => {
    expect(studentTProbability(-2, Infinity)).toBe(normalProbability(-2));
    expect(studentTQuantile(0.01, Infinity)).toBe(normalQuantile(0.01));
    expect(relativeError(studentTProbability(-2, 1e15), normalProbability(-2))).toBeLessThan(1e-13);
    expect(relativeError(studentTQuantile(1e-9, 1e16), normalQuantile(1e-9))).toBeLessThan(1e-13);
  });

  test("answers beyond the square root of the largest number", () => {
    // identity: with one degree of freedom the tail is 1/(πt)
    const p = 1e-300;
    expect(relativeError(studentTQuantile(p, 1, "upper"), 1 / Math.PI / p)).toBeLessThan(1e-12);
    expect(studentTQuantile(p, 0.5)).toBe(-Infinity);
  });

  test("keeps IEEE manners", () => {
    expect(studentTProbability(NaN, 3)).toBeNaN();
    expect(studentTProbability(1, NaN)).toBeNaN();
    expect(studentTQuantile(NaN, 3)).toBeNaN();
    expect(studentTProbability(Infinity, 3)).toBe(1);
    expect(studentTProbability(-Infinity, 3)).toBe(0);
    expect(studentTQuantile(0, 3)).toBe(-Infinity);
    expect(studentTQuantile(1, 3)).toBe(Infinity);
    expect(studentTQuantile(0.5, 3)).toBe(0);
    expect(studentTProbability(0, 3)).toBe(0.5);
  });
});

describe("refuses", () => {
  test("degrees of freedom that are not positive", () => {
    const message = "requires degrees of freedom above zero, got 0";
    expect(() => studentTProbability(1, 0)).toThrow(`studentTProbability ${message}`);
    expect(() => studentTQuantile(0.5, 0)).toThrow(`studentTQuantile ${message}`);
  });
  test("a probability outside zero to one", () => {
    expect(() => studentTQuantile(2, 5)).toThrow("studentTQuantile requires a probability");
  });
});
