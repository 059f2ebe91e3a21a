import { describe, expect, test } from "vitest";
import { nelderMead } from "../../src/numeric/nelder-mead.js";

const at = (x: readonly number[], i: number): number => x[i] ?? NaN;

describe("nelderMead", () => {
  // identity: minima known by hand
  test("finds smooth and kinked minima, within bounds", () => {
    const smooth = nelderMead((x) => (at(x, 0) - 3) ** 2 + 2 * (at(x, 1) + 1) ** 2, [0, 0]);
    expect(smooth.converged).toBe(true);
    expect(Math.abs(at(smooth.x, 0) - 3) + Math.abs(at(smooth.x, 1) + 1)).toBeLessThan(1e-5);
    const kinked = nelderMead((x) => Math.abs(at(x, 0) - 1) + Math.abs(at(x, 1) + 2), [0, 0]);
    expect(kinked.value).toBeLessThan(1e-6);
    const bounded = nelderMead((x) => (at(x, 0) - 3) ** 2 + at(x, 1) ** 2, [0, 1], {
      upper: [2, 9],
    });
    expect(bounded.x[0]).toBeCloseTo(2, 6);
  });
  test("walks around places where f is not a number and says when it ran out", () => {
    const found = nelderMead((x) => (at(x, 0) < 0 ? NaN : (at(x, 0) - 1) ** 2), [0.1]);
    expect(Math.abs(at(found.x, 0) - 1)).toBeLessThan(1e-5);
    expect(nelderMead((x) => at(x, 0) ** 2, [9], { maxIterations: 2 }).converged).toBe(false);
  });
});

describe("refuses", () => {
  test("a start that is not finite", () => {
    expect(() => nelderMead(() => NaN, [1])).toThrow(
      "nelderMead requires a finite value at the start, got",
    );
  });
});
