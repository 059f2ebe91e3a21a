import fc from "fast-check";
import { describe, expect, test } from "vitest";
import {
  erf,
  erfc,
  expMinusSquare,
  scaledErrorComplement,
} from "../../src/numeric/error-function.js";
import { relativeError } from "./relative-error.js";

describe("error function", () => {
  // independent: base R, 2 * pnorm(x * sqrt(2)) - 1
  test("gives R's values", () => {
    for (const [x, theirs] of [
      [0.1, "0.112462916018"],
      [0.5, "0.520499877813"],
      [1, "0.842700792950"],
      [1.5, "0.966105146475"],
      [2, "0.995322265019"],
    ] as const) {
      expect(erf(x).toFixed(12)).toBe(theirs);
    }
  });

  // identity: erf is odd, erf + erfc = 1, also across the seams at 0.5 and 1
  test("is odd and complements erfc", () => {
    fc.assert(
      fc.property(fc.double({ min: -6, max: 6, noNaN: true }), (x) => {
        expect(erf(-x)).toBe(-erf(x));
        expect(Math.abs(erf(x) + erfc(x) - 1)).toBeLessThan(4e-16);
        expect(Math.abs(erfc(x) + erfc(-x) - 2)).toBeLessThan(8e-16);
      }),
      { seed: 3 },
    );
  });

  // independent: Laplace's continued fraction, evaluated from 400 terms deep
  test("agrees with the continued fraction in the far tail", () => {
    for (const x of [1.5, 2, 3.3, 5, 6.2, 6.3, 6.5, 9, 26]) {
      let tail = 0;
      for (let k = 400; k >= 1; k--) tail = k / 2 / (x + tail);
      const fraction = 1 / ((x + tail) * Math.sqrt(Math.PI));
      expect(relativeError(scaledErrorComplement(x), fraction)).toBeLessThan(2e-15);
      expect(relativeError(erfc(x), fraction * expMinusSquare(x, 1))).toBeLessThan(2e-15);
    }
    expect(relativeError(scaledErrorComplement(1e9), 1e-9 / Math.sqrt(Math.PI))).toBeLessThan(
      1e-15,
    );
  });

  test("keeps IEEE manners", () => {
    expect(erf(NaN)).toBeNaN();
    expect(erfc(NaN)).toBeNaN();
    expect(erf(Infinity)).toBe(1);
    expect(erfc(Infinity)).toBe(0);
    expect(erfc(-Infinity)).toBe(2);
    expect(erf(0)).toBe(0);
  });
});
