/** Gauss's rule for integrals, of any number of points. */
import { requireCount } from "./scalar-guard.js";

/** nodes ascending, weights[i] belongs to nodes[i]. */
export type QuadratureRule = Readonly<{ nodes: Float64Array; weights: Float64Array }>;

const legendreRules = new Map<number, QuadratureRule>();

const copyOf = (rule: QuadratureRule): QuadratureRule => ({
  nodes: rule.nodes.slice(),
  weights: rule.weights.slice(),
});

const legendreRule = (points: number): QuadratureRule => {
  const known = legendreRules.get(points);
  if (known !== undefined) return known;
  const nodes = new Float64Array(points);
  const weights = new Float64Array(points);
  for (let i = 0; i < (points + 1) >> 1; i++) {
    let x = Math.cos((Math.PI * (i + 0.75)) / (points + 0.5));
    let slope = 1;
    for (let iteration = 0; iteration < 12; iteration++) {
      let before = 1;
      let value = x;
      for (let k = 2; k <= points; k++) {
        const next = ((2 * k - 1) * x * value - (k - 1) * before) / k;
        before = value;
        value = next;
      }
      slope = (points * (before - x * value)) / ((1 - x) * (1 + x));
      const change = value / slope;
      x -= change;
      if (Math.abs(change) < 4e-17) break;
    }
    if (2 * i + 1 === points) x = 0;
    // slope once more at the settled node
    let before = 1;
    let value = x;
    for (let k = 2; k <= points; k++) {
      const next = ((2 * k - 1) * x * value - (k - 1) * before) / k;
      before = value;
      value = next;
    }
    if (points > 1) slope = (points * (before - x * value)) / ((1 - x) * (1 + x));
    else slope = 1;
    const weight = 2 / ((1 - x) * (1 + x) * slope * slope);
    nodes[points - 1 - i] = x;
    nodes[i] = -x;
    weights[i] = weight;
    weights[points - 1 - i] = weight;
  }
  if (points % 2 === 1) nodes[points >> 1] = 0;
  const rule = { nodes, weights };
  legendreRules.set(points, rule);
  return rule;
};

/**
 * Gauss–Legendre rule: Σ weightᵢ f(nodeᵢ) = ∫₋₁¹ f(x) dx, exact for polynomials of degree 2·points − 1.
 *
 * @param points whole number of at least one
 * @returns nodes in (−1, 1), weights above zero that add up to 2
 * @throws {CallError} "not-a-count"
 * @source Abramowitz and Stegun (1964), 25.4.29; nodes by Newton's method
 * @example
 * gaussLegendre(2).nodes[1] // => 0.5773503
 */
export const gaussLegendre = (points: number): QuadratureRule => {
  requireCount("gaussLegendre", "points", points, 1);
  return copyOf(legendreRule(points));
};
