/** What the middle of a projection would be with the priors of slopes halved and doubled, without a refit. */
import { percentFromLogRatio } from "../effects/percent-from-log-ratio.js";
import { scaledMixture } from "./condensed-posterior.js";
import { forwardSolved } from "./conditional-posterior.js";
import { mergedMixture, mixtureQuantiles } from "./normal-mixture.js";
import type { ReadyProjection } from "./prepare-projection.js";

/** Percent: the middle of the average with the deviations of the slopes' priors halved, and doubled. */
export type PriorSensitivity = Readonly<{ halved: number; doubled: number }>;

/** A posterior under other priors of its slopes. */
type Reweighted = Readonly<{
  weights: Float64Array;
  means: Float64Array;
  /** Components × coefficients × coefficients: W with WWᵀ the covariance, LC⁻ᵀ with CCᵀ = I + LᵀΔL. */
  factors: Float64Array;
}>;

/** Rounding and what was drawn together may push a pivot below what a single point would have. */
const leastPivot = 0.02;

/** Lower C with CCᵀ = a. */
const lowerOf = (a: Float64Array, size: number): Float64Array => {
  const lower = new Float64Array(size * size);
  for (let i = 0; i < size; i++)
    for (let j = 0; j <= i; j++) {
      let total = a[i * size + j]!;
      for (let k = 0; k < j; k++) total -= lower[i * size + k]! * lower[j * size + k]!;
      lower[i * size + j] =
        i === j ? Math.sqrt(Math.max(total, leastPivot)) : total / lower[j * size + j]!;
    }
  return lower;
};

/** The deviation of each column's prior where it is a slope's. */
const slopesOf = ({ design, priors }: ReadyProjection): ReadonlyMap<number, number> => {
  const chosen = new Map(
    design.choices.flatMap(({ options }) =>
      options.flatMap(({ column, deviation }) =>
        column === undefined ? [] : [[column, deviation] as const],
      ),
    ),
  );
  const isOther = (name: string): boolean =>
    name === "typical protocol" || name === "test distance" || name.endsWith(", mean of the study");
  return new Map(
    design.columnNames.flatMap((name, column) => {
      const deviation = chosen.get(column) ?? design.priors[column]!.deviation;
      return isOther(name) || deviation !== priors.slopeDeviation
        ? []
        : [[column, deviation] as const];
    }),
  );
};

const reweighted = (prepared: ReadyProjection, factor: number): Reweighted | undefined => {
  const { columns: p, active, weights, covarianceFactors: l } = prepared.posterior;
  const slopes = slopesOf(prepared);
  if (slopes.size === 0 || slopes.values().next().value === Infinity) return undefined;
  const size = weights.length;
  const means = new Float64Array(size * p);
  const factors = new Float64Array(size * p * p);
  const logs = new Float64Array(size);
  for (let cell = 0; cell < size; cell++) {
    const corner = cell * p * p;
    const mean = prepared.posterior.means.subarray(cell * p, (cell + 1) * p);
    let log = Math.log(weights[cell]!);
    const delta = Float64Array.from(mean, (_, a) => {
      const deviation = slopes.get(active[cell * p + a]!);
      if (deviation === undefined) return 0;
      log -= Math.log(factor);
      return (factor ** -2 - 1) / deviation ** 2;
    });
    const inner = new Float64Array(p * p);
    const pull = new Float64Array(p);
    for (let i = 0; i < p; i++) {
      for (let a = i; a < p; a++) pull[i]! += l[corner + a * p + i]! * delta[a]! * mean[a]!;
      for (let j = 0; j <= i; j++) {
        let total = i === j ? 1 : 0;
        for (let a = i; a < p; a++)
          total += l[corner + a * p + i]! * delta[a]! * l[corner + a * p + j]!;
        inner[i * p + j] = total;
      }
    }
    const c = lowerOf(inner, p);
    const z = forwardSolved(c, pull);
    for (let a = 0; a < p; a++) {
      // A row of W is C⁻¹ of that of L; m′ = m − Wz.
      const own = forwardSolved(c, l.subarray(corner + a * p, corner + (a + 1) * p));
      factors.set(own, corner + a * p);
      let moved = mean[a]!;
      for (let k = 0; k < p; k++) moved -= own[k]! * z[k]!;
      means[cell * p + a] = moved;
      log -= 0.5 * mean[a]! * delta[a]! * moved + Math.log(c[a * p + a]!);
    }
    logs[cell] = log;
  }
  const top = Math.max(...logs);
  const masses = logs.map((log) => Math.exp(log - top));
  const total = masses.reduce((sum, mass) => sum + mass, 0);
  return { weights: masses.map((mass) => mass / total), means, factors };
};

const made = new WeakMap<
  ReadyProjection,
  Readonly<Record<"halved" | "doubled", Reweighted>> | null
>();

const bothOf = (prepared: ReadyProjection) => {
  const before = made.get(prepared);
  if (before !== undefined) return before;
  const [halved, doubled] = [reweighted(prepared, 0.5), reweighted(prepared, 2)];
  const both = halved === undefined || doubled === undefined ? null : { halved, doubled };
  made.set(prepared, both);
  return both;
};

/**
 * The middle of the average gain with the priors' deviations of all slopes halved and doubled.
 *
 *   S′ = (S⁻¹ + Δ)⁻¹,  m′ = (I + SΔ)⁻¹m,  w′ ∝ w·f⁻ᵏ·|I + SΔ|^(−½)·exp(−½ mᵀΔm′)      Δ = (1/f² − 1)/s² on the k slopes
 *
 * Given the spreads the coefficients are normal and a normal prior can be exchanged for another in closed form, so
 * the file is not fitted again; the posterior's points and models stay where they are and are weighed anew.
 *
 * @param row     a protocol on the design
 * @param factors the course's factor at each component
 * @returns undefined without slopes, or where their priors are flat
 * @source none: exchange of a conjugate prior
 */
export const priorSensitivity = (
  prepared: ReadyProjection,
  row: Float64Array,
  factors: Float64Array,
): PriorSensitivity | undefined => {
  const both = bothOf(prepared);
  if (both === null) return undefined;
  const { columns: p, active, weights } = prepared.posterior;
  const middle = (one: Reweighted): number => {
    const means = new Float64Array(weights.length);
    const deviations = new Float64Array(weights.length);
    const whitened = new Float64Array(p);
    for (let cell = 0; cell < weights.length; cell++) {
      const at = cell * p;
      whitened.fill(0);
      for (let a = 0; a < p; a++) {
        const x = row[active[at + a]!] ?? 0;
        if (x === 0) continue;
        means[cell]! += x * one.means[at + a]!;
        const line = (at + a) * p;
        for (let k = 0; k < p; k++) whitened[k]! += x * one.factors[line + k]!;
      }
      let squares = 0;
      for (const value of whitened) squares += value * value;
      deviations[cell] = Math.sqrt(squares);
    }
    const mixture = scaledMixture({ weights: one.weights, means, deviations }, factors);
    return percentFromLogRatio(mixtureQuantiles(mergedMixture(mixture), [0.5])[0]!);
  };
  return { halved: middle(both.halved), doubled: middle(both.doubled) };
};
