import { describe, expect, test } from "vitest";
import { gaussHermite, gaussLegendre, integrate } from "../../src/numeric/quadrature.js";
import { normalDensity, normalProbability } from "../../src/numeric/normal.js";
import { relativeError } from "./relative-error.js";

const applied = (rule: ReturnType<typeof gaussLegendre>, f: (x: number) => number): number =>
  rule.weights.reduce((total, weight, i) => total + weight * f(rule.nodes[i] ?? NaN), 0);

describe("Gauss's rules", () => {
  // identity: ∫₋₁¹ x^k = 2/(k + 1) for even k; exact up to degree 2n − 1
  test("Legendre's is exact on polynomials", () => {
    for (const n of [1, 2, 3, 7, 20, 64, 101, 400]) {
      const rule = gaussLegendre(n);
      for (let degree = 0; degree <= 2 * n - 1; degree += Math.max(1, Math.floor(n / 4))) {
        const exact = degree % 2 === 0 ? 2 / (degree + 1) : 0;
        expect(Math.abs(applied(rule, (x) => x ** degree) - exact)).toBeLessThan(2e-14);
      }
    }
  });

  // identity: ∫ x^2k exp(−x²) = Γ(k + 1/2)
  test("Hermite's is exact on polynomials", () => {
    for (const n of [1, 2, 3, 10, 33, 100, 300, 900]) {
      const rule = gaussHermite(n);
      let exact = Math.sqrt(Math.PI);
      for (let k = 0; k <= Math.min(n - 1, 40); k++) {
        expect(
          relativeError(
            applied(rule, (x) => x ** (2 * k)),
            exact,
          ),
        ).toBeLessThan(1e-13);
        exact *= k + 0.5;
      }
      expect(rule.weights.every((weight) => weight >= 0 && Number.isFinite(weight))).toBe(true);
    }
  });

  // identity: with three points the nodes are ±√(3/5) and ±√(3/2), the middle weights 8/9 and 2√π/3
  test("with three points have closed forms", () => {
    const legendre = gaussLegendre(3);
    expect(Math.abs((legendre.nodes[2] ?? NaN) - Math.sqrt(3 / 5))).toBeLessThan(1e-15);
    expect(Math.abs((legendre.weights[1] ?? NaN) - 8 / 9)).toBeLessThan(1e-15);
    const hermite = gaussHermite(3);
    expect(Math.abs((hermite.nodes[2] ?? NaN) - Math.sqrt(3 / 2))).toBeLessThan(1e-15);
    expect(Math.abs((hermite.weights[1] ?? NaN) - (2 * Math.sqrt(Math.PI)) / 3)).toBeLessThan(
      2e-15,
    );
  });

  test("are symmetric, ascending, and the caller's own copy", () => {
    for (const rule of [gaussLegendre(9), gaussHermite(8)]) {
      const nodes = [...rule.nodes];
      expect(nodes).toEqual([...nodes].sort((a, b) => a - b));
      nodes.forEach((node, i) => expect(node + (nodes[nodes.length - 1 - i] ?? NaN)).toBe(0));
      rule.nodes.fill(NaN);
    }
    expect(gaussLegendre(9).nodes[4]).toBe(0);
    expect(gaussHermite(8).nodes.every(Number.isFinite)).toBe(true);
  });
});

describe("integrate", () => {
  // identity: integrals in closed form
  test("agrees with closed forms and turns its sign with the ends", () => {
    expect(relativeError(integrate(Math.exp, 0, 1), Math.E - 1)).toBeLessThan(1e-15);
    expect(integrate(Math.exp, 1, 0)).toBeCloseTo(1 - Math.E, 14);
    expect(
      relativeError(
        integrate((x) => 1 / x, 1, 1000, { panels: 200 }),
        Math.log(1000),
      ),
    ).toBeLessThan(1e-13);
    expect(
      relativeError(integrate(normalDensity, -1, 2), normalProbability(2) - normalProbability(-1)),
    ).toBeLessThan(1e-14);
    expect(integrate(Math.exp, 2, 2)).toBe(0);
  });
});

describe("refuses", () => {
  test("a number of points that is not a count", () => {
    expect(() => gaussLegendre(0)).toThrow(
      "gaussLegendre requires points to be a whole number of at least 1, got 0",
    );
    expect(() => gaussHermite(2.5)).toThrow("gaussHermite requires points to be a whole number");
    expect(() => integrate(Math.exp, 0, 1, { panels: 0 })).toThrow("integrate requires panels");
    expect(() => integrate(Math.exp, 0, 1, { points: -1 })).toThrow("integrate requires points");
  });
  test("ends and values that are not finite", () => {
    expect(() => integrate(Math.exp, 0, Infinity)).toThrow(
      "integrate requires two finite ends, got 0 to Infinity",
    );
    expect(() => integrate(() => NaN, 0, 1)).toThrow(
      "integrate requires a function that is finite inside the interval",
    );
  });
});
