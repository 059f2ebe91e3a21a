import { expect, test } from "vitest";
import { CallError } from "../../src/errors.js";
import { smallSampleFactor } from "../../src/effects/small-sample-factor.js";
import { expectPrinted, expectRelative } from "./agreement.js";

// Base R: gamma(49) / (sqrt(49) * gamma(48.5))
test("independent: the factor for 98 degrees of freedom, in base R", () => {
  expectPrinted(smallSampleFactor(98), "0.992324087421");
});

test("identity: at 2 degrees of freedom it is 1/√π, at 3 it is √(π/6)", () => {
  expectRelative(smallSampleFactor(2), 1 / Math.sqrt(Math.PI), 1e-13);
  expectRelative(smallSampleFactor(3), Math.sqrt(Math.PI / 6), 1e-13);
});

test("identity: J(m)·J(m+1) = (m−1)/√(m(m+1)), far past where the gamma function overflows", () => {
  for (const m of [2, 2.5, 7, 20, 341, 5000]) {
    const product = smallSampleFactor(m) * smallSampleFactor(m + 1);
    expectRelative(product, (m - 1) / Math.sqrt(m * (m + 1)), 1e-11);
  }
});

test("independent: the usual approximation is off by 1.3% at 2, by 0.01% at 18 and by 0.0001% at 180", () => {
  const off = (m: number): number => (1 - 3 / (4 * m - 1)) / smallSampleFactor(m) - 1;
  // By hand: J(2) = 1/√π; J(18) = Γ(9)/(3·Γ(8.5)) = 40320/(3·14034.407293).
  expectRelative(off(2), (4 / 7) * Math.sqrt(Math.PI) - 1, 1e-9);
  expectRelative(off(18), (1 - 3 / 71) / (40320 / (3 * 14034.407293483413)) - 1, 1e-6);
  expect(Math.abs(off(180))).toBeLessThan(2e-6);
});

test("refuses fewer than 2 degrees of freedom", () => {
  expect(() => smallSampleFactor(1.9)).toThrow(CallError);
  expect(() => smallSampleFactor(Number.NaN)).toThrow(CallError);
});
