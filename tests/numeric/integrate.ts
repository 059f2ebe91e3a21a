import { gaussLegendre } from "../../src/numeric/quadrature.js";

/** ∫ f(x) dx from low to high by a rule of twenty points in each of several equal pieces (Abramowitz and Stegun 25.4.30). */
export const integrate = (
  f: (x: number) => number,
  low: number,
  high: number,
  { panels = 16 } = {},
): number => {
  const { nodes, weights } = gaussLegendre(20);
  const half = (high - low) / (2 * panels);
  let total = 0;
  for (let panel = 0; panel < panels; panel++) {
    const middle = low + (2 * panel + 1) * half;
    nodes.forEach((node, i) => (total += weights[i]! * f(middle + half * node)));
  }
  return total * half;
};
