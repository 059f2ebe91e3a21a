import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { multiplyVector, quadraticForm } from "../../src/numeric/matrix.js";
import { minimise } from "../../src/numeric/minimise.js";
import { randomDefinite } from "./random-matrix.js";

const at = (x: readonly number[], i: number): number => x[i] ?? NaN;

/** Rosenbrock's curved valley (1960), least at (1, …, 1). */
const valley = (x: readonly number[]): number =>
  x
    .slice(1)
    .reduce((total, next, i) => total + 100 * (next - at(x, i) ** 2) ** 2 + (1 - at(x, i)) ** 2, 0);

const gap = (x: readonly number[], exact: readonly number[]): number =>
  Math.max(...exact.map((value, i) => Math.abs(at(x, i) - value)));

describe("minimise", () => {
  // published: test functions whose minimum is known: Rosenbrock (1960), Powell (1962), Beale (1958)
  test("follows curved and flat valleys", () => {
    for (const start of [[-1.2, 1], [-1.2, 1, -1.2, 1, 0], Array<number>(10).fill(-1)]) {
      const found = minimise(valley, start);
      expect(found.converged).toBe(true);
      expect(
        gap(
          found.x,
          start.map(() => 1),
        ),
      ).toBeLessThan(1e-8);
    }
    const beale = minimise(
      (x) =>
        [1.5, 2.25, 2.625].reduce(
          (total, target, i) => total + (target - at(x, 0) * (1 - at(x, 1) ** (i + 1))) ** 2,
          0,
        ),
      [1, 1],
    );
    expect(beale.converged).toBe(true);
    expect(gap(beale.x, [3, 0.5])).toBeLessThan(1e-8);
    const powell = minimise(
      (x) =>
        (at(x, 0) + 10 * at(x, 1)) ** 2 +
        5 * (at(x, 2) - at(x, 3)) ** 2 +
        (at(x, 1) - 2 * at(x, 2)) ** 4 +
        10 * (at(x, 0) - at(x, 3)) ** 4,
      [3, -1, 0, 1],
    );
    // its curvature at the minimum is singular, so the place is only known to the fourth root of rounding
    expect(gap(powell.x, [0, 0, 0, 0])).toBeLessThan(1e-3);
    expect(powell.value).toBeLessThan(1e-12);
  });

  test("takes a gradient when given one", () => {
    const found = minimise(valley, [-1.2, 1], {
      gradient: (x) => [
        -400 * at(x, 0) * (at(x, 1) - at(x, 0) ** 2) - 2 * (1 - at(x, 0)),
        200 * (at(x, 1) - at(x, 0) ** 2),
      ],
    });
    expect(found.converged).toBe(true);
    expect(gap(found.x, [1, 1])).toBeLessThan(1e-9);
  });

  // identity: by hand, the valley cut at x ≤ 1/2 is least at (1/2, 1/4)
  test("reaches a bound exactly", () => {
    const cut = minimise(valley, [-1.2, 1], { upper: [0.5, 2] });
    expect(cut.converged).toBe(true);
    expect(cut.x[0]).toBe(0.5);
    expect(gap(cut.x, [0.5, 0.25])).toBeLessThan(1e-9);
    const corner = minimise((x) => at(x, 0) + 2 * at(x, 1), [5, 5], { lower: [1, 1] });
    expect(corner).toMatchObject({ x: [1, 1], value: 3, converged: true });
    const outside = minimise((x) => (at(x, 0) - 3) ** 2, [90], { upper: [2] });
    expect(outside).toMatchObject({ x: [2], converged: true });
    const fixed = minimise((x) => (at(x, 0) - 3) ** 2 + (at(x, 1) + 2) ** 2, [1, 0], {
      lower: [1, -9],
      upper: [1, 9],
    });
    expect(fixed.x[0]).toBe(1);
    expect(Math.abs(at(fixed.x, 1) + 2)).toBeLessThan(1e-8);
  });

  // identity: the conditions of Karush, Kuhn and Tucker, on random convex quadratics in a box
  test("meets the optimality conditions of bounded quadratics", () => {
    fc.assert(
      fc.property(
        fc.integer({ min: 1, max: 1e6 }),
        fc.integer({ min: 1, max: 6 }),
        (seed, size) => {
          const m = randomDefinite(size, seed);
          const pull = randomDefinite(size, seed + 1).values.slice(0, size);
          const lower = Array<number>(size).fill(-0.3);
          const upper = Array<number>(size).fill(0.4);
          const f = (x: readonly number[]): number =>
            0.5 * quadraticForm(x, m) -
            x.reduce((total, value, i) => total + value * (pull[i] ?? NaN), 0);
          const found = minimise(f, Array<number>(size).fill(0), { lower, upper });
          expect(found.converged).toBe(true);
          const slope = multiplyVector(m, found.x).map((value, i) => value - (pull[i] ?? NaN));
          slope.forEach((value, i) => {
            const x = at(found.x, i);
            if (x === -0.3) expect(value).toBeGreaterThan(-1e-7);
            else if (x === 0.4) expect(value).toBeLessThan(1e-7);
            else expect(Math.abs(value)).toBeLessThan(1e-6);
          });
        },
      ),
      { seed: 15, numRuns: 60 },
    );
  });

  // identity: adding a constant and rescaling variables leaves the place where it is
  test("keeps its digits under a large constant and bad scales", () => {
    const lifted = minimise((x) => 1e5 + (at(x, 0) - 3) ** 2 + (at(x, 1) + 2) ** 2, [1, 0]);
    expect(lifted.converged).toBe(true);
    expect(gap(lifted.x, [3, -2])).toBeLessThan(1e-6);
    const stretched = minimise(
      (x) => 1e6 * (at(x, 0) - 1e-3) ** 2 + 1e-4 * (at(x, 1) - 500) ** 2,
      [1, 1],
    );
    expect(stretched.converged).toBe(true);
    expect(gap(stretched.x, [1e-3, 500])).toBeLessThan(1e-4);
  });

  test("walks around places where f is not a number", () => {
    const found = minimise((x) => at(x, 0) - Math.log(at(x, 0)) + at(x, 1) ** 2, [5, 5]);
    expect(found.converged).toBe(true);
    expect(gap(found.x, [1, 0])).toBeLessThan(1e-8);
  });

  test("goes on past a kink with the simplex search", () => {
    const found = minimise((x) => Math.abs(at(x, 0) - 1) + Math.abs(at(x, 1) + 2), [0.3, 0.1]);
    expect(gap(found.x, [1, -2])).toBeLessThan(1e-5);
  });

  test("does not claim to have converged when it ran out of iterations", () => {
    expect(minimise(valley, [-1.2, 1], { maxIterations: 3 }).converged).toBe(false);
  });

  test("gives the same answer twice", () => {
    expect(minimise(valley, [-1.2, 1])).toEqual(minimise(valley, [-1.2, 1]));
  });
});

describe("refuses", () => {
  const f = (x: readonly number[]): number => at(x, 0) ** 2;
  test("no variables, and bounds that do not fit", () => {
    expect(() => minimise(() => 0, [])).toThrow(
      "minimise requires at least one variable, got none",
    );
    expect(() => minimise(f, [1], { lower: [0, 0] })).toThrow(
      "minimise requires 1 bounds, one for each variable",
    );
    expect(() => minimise(f, [1], { lower: [2], upper: [1] })).toThrow(
      "minimise requires bounds in order",
    );
  });
  test("a start that is not finite, in place or value", () => {
    expect(() => minimise(f, [NaN])).toThrow(
      "minimise requires a finite start, got NaN for variable 0",
    );
    expect(() => minimise(() => NaN, [1])).toThrow(
      "minimise requires a finite value at the start, got NaN at (1)",
    );
  });
});
