import { expect, test } from "vitest";
import { solvePositiveQuantile } from "../../src/numeric/solve-positive-quantile.js";
import { relativeError } from "./relative-error.js";

/** Upper tail exp(−x^shape) with a first guess far away. */
const weibull = (shape: number, start: number) => ({
  where: "test",
  grows: false,
  start,
  probability: (x: number) => Math.exp(-(x ** shape)),
  densityTimesX: (x: number) => shape * x ** shape * Math.exp(-(x ** shape)),
});

// identity: the quantile is (−ln p)^(1/shape)
test("solvePositiveQuantile finds the answer from any start", () => {
  for (const shape of [0.2, 1, 6]) {
    for (const p of [1e-250, 1e-9, 0.3, 0.999]) {
      for (const start of [1e-200, 1e-3, 1, 1e5, 1e200]) {
        const exact = (-Math.log(p)) ** (1 / shape);
        const room = 1e-14 + 2e-16 / shape / -Math.log(p);
        const found = solvePositiveQuantile(weibull(shape, start), p);
        expect(relativeError(found, exact)).toBeLessThan(room);
      }
    }
  }
});

test("solvePositiveQuantile gives 0 and Infinity beyond the range of numbers", () => {
  const power = (grows: boolean) => ({
    where: "test",
    grows,
    start: 1,
    probability: (x: number) => 0.5 * x ** (grows ? 0.01 : -0.01),
    densityTimesX: (x: number) => 0.005 * x ** (grows ? 0.01 : -0.01),
  });
  expect(solvePositiveQuantile(power(true), 1e-100)).toBe(0);
  expect(solvePositiveQuantile(power(false), 1e-100)).toBe(Infinity);
});
