import { describe, expect, test } from "vitest";
import { minimiseScalar } from "../../src/numeric/minimise-scalar.js";

describe("minimiseScalar", () => {
  // identity: minima known in closed form; near a minimum a double holds half the digits of x
  test("finds closed-form minima", () => {
    for (const [f, low, high, place] of [
      [(x: number) => (x - 2) ** 2, 0, 5, 2],
      [Math.cos, 0, 5, Math.PI],
      [(x: number) => x - Math.log(x), 0.01, 50, 1],
      [(x: number) => Math.abs(x - 1 / 3), -1, 1, 1 / 3],
    ] as const) {
      const found = minimiseScalar(f, low, high);
      expect(found.converged).toBe(true);
      expect(Math.abs(found.x - place)).toBeLessThan(1e-7);
      expect(found.value).toBe(f(found.x));
    }
  });
  test("returns a minimum on the border exactly", () => {
    expect(minimiseScalar((x) => x, 1, 5)).toMatchObject({ x: 1, value: 1, converged: true });
    expect(minimiseScalar((x) => -x, 1, 5)).toMatchObject({ x: 5, value: -5, converged: true });
    expect(minimiseScalar((x) => (x + 1) ** 2, 0, 9).x).toBe(0);
    expect(minimiseScalar((x) => x, 3, 3)).toMatchObject({ x: 3, converged: true });
  });
  test("walks around places where f is not a number", () => {
    const found = minimiseScalar((x) => (x > 2 ? NaN : (x - 1) ** 2), 0, 10);
    expect(Math.abs(found.x - 1)).toBeLessThan(1e-7);
  });
  test("says when it ran out of iterations or found nothing finite", () => {
    expect(minimiseScalar(Math.cos, 0, 5, { maxIterations: 3 }).converged).toBe(false);
    expect(minimiseScalar(() => NaN, 0, 1).converged).toBe(false);
  });
});

describe("refuses", () => {
  test("an interval that is not finite and in order", () => {
    expect(() => minimiseScalar(Math.cos, 5, 0)).toThrow(
      "minimiseScalar requires two finite ends in order, got 5 to 0",
    );
    expect(() => minimiseScalar(Math.cos, 0, Infinity)).toThrow("got 0 to Infinity");
  });
});
