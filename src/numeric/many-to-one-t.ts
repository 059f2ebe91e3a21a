/** The largest of several Student t variables that share a baseline and an estimate of error. */
import { findRoot } from "./find-root.js";
import { logGamma } from "./log-gamma.js";
import { normalDensity, normalProbability } from "./normal.js";
import { gaussLegendre } from "./quadrature.js";
import { requirePositive, requireProbability } from "./scalar-guard.js";
import { studentTQuantile } from "./student-t.js";

/** Nodes and weights of a rule over [low, high], each weight times what `density` gives there. */
const weighted = (points: number, low: number, high: number, density: (x: number) => number) => {
  const { nodes, weights } = gaussLegendre(points);
  return Array.from(nodes, (node, i) => {
    const x = low + ((high - low) / 2) * (1 + node);
    return { x, weight: ((high - low) / 2) * weights[i]! * density(x) };
  });
};

/** Density of √(χ²ₙ/n), the estimated deviation over the true one. */
const deviationDensity = (degreesOfFreedom: number) => {
  const half = degreesOfFreedom / 2;
  const constant = Math.LN2 + half * Math.log(half) - logGamma(half);
  return (s: number): number =>
    Math.exp(constant + (degreesOfFreedom - 1) * Math.log(s) - half * s * s);
};

/** Beyond this loading variables are one and the same to the eye of the rule. */
const mostLoading = 0.9995;

/**
 * Probability that none of several t variables exceeds q in size, when each is a difference to one shared baseline.
 *
 *   Tⱼ = (lⱼ·Z₀ + √(1 − lⱼ²)·Zⱼ)/S,  P = ∫∫ Πⱼ[Φ((q·s − lⱼz)/√(1−lⱼ²)) − Φ((−q·s − lⱼz)/√(1−lⱼ²))] φ(z) f(s) dz ds
 *
 * Z₀ is the baseline's own error, S the estimated deviation over the true one, f its density.
 *
 * @param q               bound, 0 or more
 * @param loadings        lⱼ from 0 to 1: the root of the share of each difference's variance that is the baseline's
 * @param degreesOfFreedom of the estimate of error, above 0, may be Infinity
 * @returns a probability, right to about 10⁻⁵
 * @throws {CallError} "not-positive" for the degrees of freedom
 * @source Dunnett CW (1955) Journal of the American Statistical Association 50:1096–1121
 */
export const manyToOneProbability = (
  q: number,
  loadings: readonly number[],
  degreesOfFreedom: number,
): number => {
  requirePositive("manyToOneProbability", "degrees of freedom", degreesOfFreedom);
  const reach = 8 / Math.sqrt(2 * degreesOfFreedom);
  const deviations = Number.isFinite(degreesOfFreedom)
    ? weighted(32, Math.max(0, 1 - reach), 1 + reach, deviationDensity(degreesOfFreedom))
    : [{ x: 1, weight: 1 }];
  // Equal loadings, as of tests made alike, are worked out once.
  const counts = new Map<number, number>();
  for (const loading of loadings) {
    const kept = Math.min(loading, mostLoading);
    counts.set(kept, (counts.get(kept) ?? 0) + 1);
  }
  const baselines = weighted(48, 0, 6, (z) => 2 * normalDensity(z));
  let total = 0;
  for (const { x: s, weight } of deviations) {
    let inside = 0;
    for (const { x: z, weight: share } of baselines) {
      let all = 1;
      for (const [loading, count] of counts) {
        const own = Math.sqrt(1 - loading * loading);
        const one =
          normalProbability((q * s - loading * z) / own) -
          normalProbability((-q * s - loading * z) / own);
        all *= one ** count;
      }
      inside += share * all;
    }
    total += weight * inside;
  }
  return Math.min(1, total);
};

/**
 * Bound that none of several t variables with a shared baseline exceeds in size, with a given probability; of one
 * variable the two-sided quantile of t.
 *
 * @param confidence above 0 and below 1, for example 0.95
 * @param loadings   as `manyToOneProbability` takes them; at least one
 * @throws {CallError} "not-a-probability" and "not-positive"
 * @source Dunnett CW (1955), as `manyToOneProbability`
 * @example
 * manyToOneQuantile(0.95, [0.5], 7) // => 2.3646243
 */
export const manyToOneQuantile = (
  confidence: number,
  loadings: readonly number[],
  degreesOfFreedom: number,
): number => {
  requireProbability("manyToOneQuantile", confidence);
  const alone = studentTQuantile((1 - confidence) / 2, degreesOfFreedom, "upper");
  if (loadings.length < 2) return alone;
  // Between one variable alone and as many that know nothing of each other.
  const most = studentTQuantile((1 - confidence) / 2 / loadings.length, degreesOfFreedom, "upper");
  const gap = (q: number): number =>
    manyToOneProbability(q, loadings, degreesOfFreedom) - confidence;
  if (gap(alone) >= 0) return alone;
  return gap(most) <= 0 ? most : findRoot(gap, alone, most, { tolerance: 1e-6 });
};
