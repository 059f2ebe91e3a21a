import { describe, expect, test } from "vitest";
import { numericalGradient } from "../../src/numeric/finite-difference.js";

const f = (x: readonly number[]): number => {
  const [a = NaN, b = NaN, c = NaN] = x;
  return a ** 2 * b + Math.sin(c) * b + Math.exp(a * c);
};
const place = [0.7, -1.3, 0.4];
const [a, b, c] = place as [number, number, number];
const e = Math.exp(a * c);
const gradient = [2 * a * b + c * e, a ** 2 + Math.sin(c), b * Math.cos(c) + a * e];

const worst = (values: ArrayLike<number>, exact: readonly number[]): number =>
  Math.max(...exact.map((value, i) => Math.abs((values[i] ?? NaN) - value)));

describe("finite differences", () => {
  // identity: derivatives worked by hand
  test("agree with derivatives by hand", () => {
    expect(worst(numericalGradient(f, place), gradient)).toBeLessThan(1e-9);
    expect(worst(numericalGradient(f, place, { order: 4 }), gradient)).toBeLessThan(5e-12);
  });
  test("never ask beyond a bound", () => {
    const lower = [0.7, -1.3, 0.4];
    const upper = [9, 9, 0.4 + 1e-6];
    const watched = (x: readonly number[]): number => {
      x.forEach((value, i) => {
        if (value < (lower[i] ?? 0) || value > (upper[i] ?? 0))
          throw new Error(`asked at ${value}`);
      });
      return f(x);
    };
    for (const order of [2, 4] as const) {
      expect(
        worst(numericalGradient(watched, place, { lower, upper, order }), gradient),
      ).toBeLessThan(1e-8);
    }
  });
  test("give 0 for a variable that bounds hold fast", () => {
    const fixed = { lower: [0.7, -9, -9], upper: [0.7, 9, 9] };
    expect(numericalGradient(f, place, fixed)[0]).toBe(0);
  });
});

describe("refuses", () => {
  test("a function that is not finite", () => {
    expect(() => numericalGradient(() => NaN, [1])).toThrow(
      "numericalGradient requires a function that is finite around the place, got NaN at (",
    );
  });
});
