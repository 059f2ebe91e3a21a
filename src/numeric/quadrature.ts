/** Gauss's rules for integrals, of any number of points. */
import { CallError } from "../errors.js";
import { requireCount } from "./scalar-guard.js";
import { tridiagonalEigen } from "./tridiagonal-eigen.js";

/** nodes ascending, weights[i] belongs to nodes[i]. */
export type QuadratureRule = Readonly<{ nodes: Float64Array; weights: Float64Array }>;

const legendreRules = new Map<number, QuadratureRule>();
const hermiteRules = new Map<number, QuadratureRule>();

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

/** Orthonormal Hermite polynomials 0…points at x: the last two values and the sum of squares before the last. */
const hermiteAt = (
  points: number,
  x: number,
): Readonly<{ value: number; before: number; squares: number }> => {
  let before = 0;
  let value = Math.PI ** -0.25;
  let squares = 0;
  for (let k = 0; k < points; k++) {
    squares += value * value;
    const next = x * Math.sqrt(2 / (k + 1)) * value - Math.sqrt(k / (k + 1)) * before;
    before = value;
    value = next;
    if (!Number.isFinite(squares)) return { value: 0, before: 1, squares: Infinity };
  }
  return { value, before, squares };
};

/**
 * Gauss–Hermite rule: Σ weightᵢ f(nodeᵢ) = ∫ f(x) exp(−x²) dx, exact for polynomials of degree 2·points − 1.
 *
 * The mean of g(Z), Z normal with mean μ and standard deviation σ, is Σ weightᵢ g(μ + √2 σ nodeᵢ) / √π.
 *
 * @param points whole number of at least one
 * @returns nodes, weights that add up to √π; weights too small for double precision are 0
 * @throws {CallError} "not-a-count"
 * @source Golub GH, Welsch JH (1969) Mathematics of Computation 23:221–230; weights by the sum of squares of
 *   the orthonormal polynomials
 * @example
 * gaussHermite(3).nodes[2] // => 1.2247449
 */
export const gaussHermite = (points: number): QuadratureRule => {
  requireCount("gaussHermite", "points", points, 1);
  const known = hermiteRules.get(points);
  if (known !== undefined) return copyOf(known);
  const main = new Float64Array(points);
  const off = Float64Array.from({ length: points }, (_, k) =>
    k < points - 1 ? Math.sqrt((k + 1) / 2) : 0,
  );
  tridiagonalEigen(main, off, new Float64Array(0), 0);
  main.sort();
  const nodes = new Float64Array(points);
  const weights = new Float64Array(points);
  for (let i = 0; i < (points + 1) >> 1; i++) {
    let x = 2 * i + 1 === points ? 0 : (main[points - 1 - i] as number);
    for (let iteration = 0; iteration < 2 && x !== 0; iteration++) {
      const { value, before } = hermiteAt(points, x);
      x -= value / (Math.sqrt(2 * points) * before);
    }
    const weight = 1 / hermiteAt(points, x).squares;
    nodes[points - 1 - i] = x;
    nodes[i] = x === 0 ? 0 : -x;
    weights[i] = weight;
    weights[points - 1 - i] = weight;
  }
  const rule = { nodes, weights };
  hermiteRules.set(points, rule);
  return copyOf(rule);
};

export type IntegrateOptions = Readonly<{
  /** Number of equal pieces the interval is cut into. */
  panels?: number;
  /** Points of the rule in each piece. */
  points?: number;
}>;
export const integrateDefaults = {
  panels: 16,
  points: 20,
} as const satisfies Required<IntegrateOptions>;

/**
 * ∫ f(x) dx from low to high by a Gauss–Legendre rule in each of several equal pieces.
 *
 * @param f finite inside the interval; the ends themselves are not asked
 * @param low finite
 * @param high finite; below low the sign turns
 * @returns the integral; nearly exact for a smooth f, check by doubling the panels
 * @throws {CallError} "bad-interval" for an end that is not finite, "not-a-count" for panels or points, "not-finite" when f
 *   is not finite at a node
 * @source Abramowitz and Stegun (1964), 25.4.30
 * @example
 * integrate(Math.exp, 0, 1) // => 1.7182818
 */
export const integrate = (
  f: (x: number) => number,
  low: number,
  high: number,
  options: IntegrateOptions = {},
): number => {
  const panels = options.panels ?? integrateDefaults.panels;
  const points = options.points ?? integrateDefaults.points;
  requireCount("integrate", "panels", panels, 1);
  requireCount("integrate", "points", points, 1);
  if (!Number.isFinite(low) || !Number.isFinite(high)) {
    throw new CallError({
      code: "bad-interval",
      where: "integrate",
      needs: "two finite ends",
      got: `${low} to ${high}`,
    });
  }
  const { nodes, weights } = legendreRule(points);
  const half = (high - low) / (2 * panels);
  let total = 0;
  for (let panel = 0; panel < panels; panel++) {
    const middle = low + (2 * panel + 1) * half;
    for (let i = 0; i < points; i++) {
      const x = middle + half * (nodes[i] as number);
      const value = f(x);
      if (!Number.isFinite(value)) {
        throw new CallError({
          code: "not-finite",
          where: "integrate",
          needs: "a function that is finite inside the interval",
          got: `${value} at ${x}`,
        });
      }
      total += (weights[i] as number) * value;
    }
  }
  return total * half;
};
