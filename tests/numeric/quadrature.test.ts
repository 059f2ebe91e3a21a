import { describe, expect, test } from "vitest";
import { gaussLegendre } from "../../src/numeric/quadrature.js";

const applied = (rule: ReturnType<typeof gaussLegendre>, f: (x: number) => number): number =>
  rule.weights.reduce((total, weight, i) => total + weight * f(rule.nodes[i] ?? NaN), 0);

describe("Gauss's rule", () => {
  // identity: ∫₋₁¹ x^k = 2/(k + 1) for even k; exact up to degree 2n − 1
  test("is exact on polynomials", () => {
    for (const n of [1, 2, 3, 7, 20, 64, 101, 400]) {
      const rule = gaussLegendre(n);
      for (let degree = 0; degree <= 2 * n - 1; degree += Math.max(1, Math.floor(n / 4))) {
        const exact = degree % 2 === 0 ? 2 / (degree + 1) : 0;
        expect(Math.abs(applied(rule, (x) => x ** degree) - exact)).toBeLessThan(2e-14);
      }
    }
  });

  // identity: with three points the nodes are ±√(3/5), the middle weight 8/9
  test("with three points has closed forms", () => {
    const legendre = gaussLegendre(3);
    expect(Math.abs((legendre.nodes[2] ?? NaN) - Math.sqrt(3 / 5))).toBeLessThan(1e-15);
    expect(Math.abs((legendre.weights[1] ?? NaN) - 8 / 9)).toBeLessThan(1e-15);
  });

  test("is symmetric, ascending, and the caller's own copy", () => {
    const rule = gaussLegendre(9);
    const nodes = [...rule.nodes];
    expect(nodes).toEqual([...nodes].sort((a, b) => a - b));
    nodes.forEach((node, i) => expect(node + (nodes[nodes.length - 1 - i] ?? NaN)).toBe(0));
    rule.nodes.fill(NaN);
    expect(gaussLegendre(9).nodes[4]).toBe(0);
  });
});

describe("refuses", () => {
  test("a number of points that is not a count", () => {
    expect(() => gaussLegendre(0)).toThrow(
      "gaussLegendre requires points to be a whole number of at least 1, got 0",
    );
  });
});
