import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { logBeta } from "../../src/numeric/log-gamma.js";

const size = fc.double({ min: -4, max: 7, noNaN: true }).map((exponent) => 10 ** exponent);

describe("logBeta", () => {
  // identity: B(1, b) = 1/b
  test("is −ln b when a is one", () => {
    fc.assert(
      fc.property(size, (b) => {
        expect(Math.abs(logBeta(1, b) + Math.log(b))).toBeLessThan(4e-15 * (1 + Math.log(1 + b)));
      }),
      { seed: 1 },
    );
  });

  // identity: B(a, b) = B(b, a) and B(a + 1, b) = B(a, b) · a/(a + b)
  test("is symmetric and obeys its recurrence, also at a million", () => {
    fc.assert(
      fc.property(size, size, (a, b) => {
        expect(logBeta(a, b)).toBe(logBeta(b, a));
        const next = logBeta(a, b) + Math.log(a / (a + b));
        expect(Math.abs(logBeta(a + 1, b) - next)).toBeLessThan(2e-14 * (2 + Math.abs(next)));
      }),
      { seed: 2 },
    );
  });

  test("keeps IEEE manners", () => {
    expect(logBeta(NaN, 1)).toBeNaN();
    expect(logBeta(2, Infinity)).toBe(-Infinity);
  });
});

describe("refuses", () => {
  test("an argument that is not positive", () => {
    expect(() => logBeta(0, 1)).toThrow("logBeta requires a above zero, got 0");
    expect(() => logBeta(1, -2)).toThrow("logBeta requires b above zero, got -2");
  });
});
