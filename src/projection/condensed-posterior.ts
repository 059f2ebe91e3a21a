/** A posterior of thousands of points drawn together into a few hundred, so that a slider can move. */
import type { RegressionPosterior } from "./bayesian-regression.js";
import { squaresOf } from "./conditional-posterior.js";
import { mergedMixture, mixtureQuantiles, type NormalMixture } from "./normal-mixture.js";
import { posteriorMixture } from "./posterior-mixture.js";

/** As a regression's posterior, with covariances in place of precisions and the scatter of groups in one number. */
export type CondensedPosterior = Readonly<{
  /** Most coefficients that a component has. */
  columns: number;
  /** Components × columns: the place in the design's row of each coefficient; −1 where the component has no more. */
  active: Int32Array;
  weights: Float64Array;
  means: Float64Array;
  /** Components × coefficients × coefficients: lower L with LLᵀ = covariance. */
  covarianceFactors: Float64Array;
  /** √(Σ σ²) over the levels that scatter. */
  groupDeviations: Float64Array;
  /** σ² of each level, components × levels. */
  levelVariances: Float64Array;
  /** The curve's parameter; 1 where there is no curve. */
  parameters: Float64Array;
}>;

/** L with LLᵀ = a, row-major; a pivot that rounding pushed to zero or below becomes zero. */
export const lowerFactor = (a: Float64Array, size: number): Float64Array => {
  const lower = new Float64Array(size * size);
  for (let i = 0; i < size; i++) {
    for (let j = 0; j <= i; j++) {
      let total = a[i * size + j]!;
      for (let k = 0; k < j; k++) total -= lower[i * size + k]! * lower[j * size + k]!;
      if (i === j) lower[i * size + i] = Math.sqrt(Math.max(total, 0));
      else lower[i * size + j] = lower[j * size + j]! > 0 ? total / lower[j * size + j]! : 0;
    }
  }
  return lower;
};

/** Adds weight × (P⁻¹ + mmᵀ) to a sum, with P = LLᵀ. */
export const addSecondMoment = (
  sum: Float64Array,
  weight: number,
  factor: Float64Array,
  mean: Float64Array,
): void => {
  const p = mean.length;
  // Rows of L⁻¹, then P⁻¹ = L⁻ᵀL⁻¹.
  const inverse = new Float64Array(p * p);
  for (let column = 0; column < p; column++) {
    for (let i = column; i < p; i++) {
      let total = i === column ? 1 : 0;
      for (let k = column; k < i; k++) total -= factor[i * p + k]! * inverse[k * p + column]!;
      inverse[i * p + column] = total / factor[i * p + i]!;
    }
  }
  for (let a = 0; a < p; a++) {
    for (let b = 0; b <= a; b++) {
      let total = mean[a]! * mean[b]!;
      for (let k = a; k < p; k++) total += inverse[k * p + a]! * inverse[k * p + b]!;
      sum[a * p + b]! += weight * total;
    }
  }
};

type Cell = Readonly<{ points: readonly number[]; spread: number; axis: number }>;

const cellOf = (
  points: readonly number[],
  weights: Float64Array,
  features: readonly Float64Array[],
): Cell => {
  let mass = 0;
  for (const point of points) mass += weights[point]!;
  let [spread, axis] = [0, 0];
  features.forEach((feature, f) => {
    let mean = 0;
    for (const point of points) mean += (weights[point]! / mass) * feature[point]!;
    let variance = 0;
    for (const point of points) variance += weights[point]! * (feature[point]! - mean) ** 2;
    if (variance > spread) [spread, axis] = [variance, f];
  });
  return { points, spread, axis };
};

/** Points put into cells by always halving the cell with the largest spread across its widest feature. */
export const cells = (
  weights: Float64Array,
  features: readonly Float64Array[],
  count: number,
): readonly (readonly number[])[] => {
  const list: Cell[] = [cellOf(Array.from(weights.keys()), weights, features)];
  while (list.length < count) {
    let widest = 0;
    list.forEach((cell, i) => {
      if (cell.spread > list[widest]!.spread) widest = i;
    });
    const { points, spread, axis } = list[widest]!;
    if (spread === 0 || points.length < 2) break;
    const feature = features[axis]!;
    let [mass, mean] = [0, 0];
    for (const point of points) {
      mass += weights[point]!;
      mean += weights[point]! * feature[point]!;
    }
    mean /= mass;
    const low = points.filter((point) => feature[point]! <= mean);
    const high = points.filter((point) => feature[point]! > mean);
    if (low.length === 0 || high.length === 0) break;
    list[widest] = cellOf(low, weights, features);
    list.push(cellOf(high, weights, features));
  }
  return list.map(({ points }) => points);
};

export const standardised = (
  values: Float64Array,
  weights: Float64Array,
  factor: number,
): Float64Array => {
  let mean = 0;
  values.forEach((value, i) => (mean += weights[i]! * value));
  let variance = 0;
  values.forEach((value, i) => (variance += weights[i]! * (value - mean) ** 2));
  const scale = variance > 0 ? factor / Math.sqrt(variance) : 0;
  return values.map((value) => (value - mean) * scale);
};

/** How finely the curve's parameter is kept apart, beside the other two features. */
export const parameterWeight = 2.5;

/**
 * A posterior in a few hundred components.
 *
 * Points are put together when they agree in what a projection does with them beyond adding up: the curve's parameter, the
 * scatter of groups, and the error of a typical protocol. A component keeps weight, mean and covariance of all coefficients
 * and the variances of all levels of its points exactly; what is lost is how they vary inside a component.
 *
 * @param typical design row whose error is one of the features
 * @param count components at most
 * @source none: moment matching
 */
export const condensedPosterior = (
  posterior: RegressionPosterior,
  typical: ArrayLike<number>,
  count: number,
): CondensedPosterior => {
  const { weights, columns: p } = posterior;
  const points = weights.length;
  const levels = points === 0 ? 0 : posterior.deviations.length / points;
  const group = fullGroups(posterior);
  const parameters = fullParameters(posterior);
  const features = [
    standardised(parameters.map(Math.log), weights, parameterWeight),
    standardised(group, weights, 1),
    standardised(posteriorMixture(posterior, typical).deviations, weights, 1),
  ];
  const groups = cells(weights, features, count);
  const size = groups.length;
  const condensed = {
    columns: p,
    active: Int32Array.from({ length: size * p }, (_, at) => at % p),
    weights: new Float64Array(size),
    means: new Float64Array(size * p),
    covarianceFactors: new Float64Array(size * p * p),
    groupDeviations: new Float64Array(size),
    levelVariances: new Float64Array(size * levels),
    parameters: new Float64Array(size),
  };
  groups.forEach((members, cell) => {
    let mass = 0;
    const mean = new Float64Array(p);
    const second = new Float64Array(p * p);
    const variances = new Float64Array(levels);
    let log = 0;
    for (const point of members) {
      const weight = weights[point]!;
      const own = posterior.means.subarray(point * p, (point + 1) * p);
      mass += weight;
      for (let a = 0; a < p; a++) mean[a]! += weight * own[a]!;
      addSecondMoment(
        second,
        weight,
        posterior.precisionFactors.subarray(point * p * p, (point + 1) * p * p),
        own,
      );
      for (let k = 0; k < levels; k++)
        variances[k]! += weight * posterior.deviations[point * levels + k]! ** 2;
      log += weight * Math.log(parameters[point]!);
    }
    for (let a = 0; a < p; a++) mean[a]! /= mass;
    for (let a = 0; a < p; a++)
      for (let b = 0; b <= a; b++)
        second[a * p + b] = second[a * p + b]! / mass - mean[a]! * mean[b]!;
    condensed.weights[cell] = mass;
    condensed.means.set(mean, cell * p);
    condensed.covarianceFactors.set(lowerFactor(second, p), cell * p * p);
    let total = 0;
    for (let k = 0; k < levels; k++) {
      condensed.levelVariances[cell * levels + k] = variances[k]! / mass;
      total += variances[k]! / mass;
    }
    condensed.groupDeviations[cell] = Math.sqrt(total);
    condensed.parameters[cell] = Math.exp(log / mass);
  });
  return condensed;
};

/** Fewest and most components tried. */
const fewestComponents = 200;
const mostComponents = 800;

/**
 * A posterior condensed as far as its quantiles allow.
 *
 * Components are doubled until the 2.5, 50 and 97.5% points of the rows given, after quarter, whole and nearly double the
 * reference time, for the average and for a new group, are within the tolerance of the full posterior's.
 *
 * @param rows sums of coefficients to keep; the first is the typical protocol
 * @param factorsAt the curve's factor at each of some parameters, for the weeks watched
 * @returns the condensed posterior and its largest error on those quantiles
 */
export const condensedWithin = (
  posterior: RegressionPosterior,
  rows: readonly ArrayLike<number>[],
  factorsAt: readonly ((parameter: number) => number)[],
  tolerance: number,
): Readonly<{ condensed: CondensedPosterior; largestError: number }> => {
  const full = condensedWatch(posterior.weights, fullGroups(posterior), fullParameters(posterior));
  const wanted = rows.map((row) => posteriorMixture(posterior, row)).flatMap(full(factorsAt));
  for (let count = fewestComponents; ; count *= 2) {
    const condensed = condensedPosterior(posterior, rows[0]!, count);
    const watch = condensedWatch(
      condensed.weights,
      condensed.groupDeviations,
      condensed.parameters,
    );
    const got = rows.map((row) => condensedMixture(condensed, row)).flatMap(watch(factorsAt));
    const largestError = got.reduce(
      (error, value, i) => Math.max(error, Math.abs(value - wanted[i]!)),
      0,
    );
    if (largestError <= tolerance || count >= mostComponents) return { condensed, largestError };
  }
};

export const fullParameters = ({ parameters, weights }: RegressionPosterior): Float64Array =>
  parameters ?? new Float64Array(weights.length).fill(1);

const fullGroups = ({ weights, deviations }: RegressionPosterior): Float64Array => {
  const levels = deviations.length / weights.length;
  return weights.map((_, point) => {
    let squares = 0;
    for (let k = 0; k < levels; k++) squares += deviations[point * levels + k]! ** 2;
    return Math.sqrt(squares);
  });
};

/** Quantiles of a mixture at some times, for the average and for a new group. */
const condensedWatch =
  (weights: Float64Array, groups: Float64Array, parameters: Float64Array) =>
  (factorsAt: readonly ((parameter: number) => number)[]) =>
  ({ means, deviations }: NormalMixture): readonly number[] =>
    factorsAt.flatMap((factorAt) => {
      const factors = parameters.map(factorAt);
      const scaled = { weights, means, deviations };
      const group = {
        ...scaled,
        deviations: deviations.map((deviation, i) => Math.sqrt(deviation ** 2 + groups[i]! ** 2)),
      };
      return [scaled, group].flatMap((mixture) => {
        const merged = mergedMixture(scaledMixture(mixture, factors));
        return mixtureQuantiles(merged, [0.025, 0.5, 0.975]);
      });
    });

/**
 * At each component, the mean of x′β and Lᵀx, whose inner products are covariances.
 *
 * @param row x, one number for each coefficient
 * @returns means, and `whitened` (components × coefficients) with Cov(x′β, z′β) = whitened(x)·whitened(z)
 */
export const condensedOf = (
  condensed: CondensedPosterior,
  row: ArrayLike<number>,
): Readonly<{ means: Float64Array; whitened: Float64Array }> => {
  const { columns: p, weights, active, covarianceFactors: factors } = condensed;
  const size = weights.length;
  const means = new Float64Array(size);
  const whitened = new Float64Array(size * p);
  for (let cell = 0; cell < size; cell++) {
    const at = cell * p;
    let mean = 0;
    for (let a = 0; a < p; a++) {
      const x = row[active[at + a]!] ?? 0;
      if (x === 0) continue;
      mean += x * condensed.means[at + a]!;
      const line = (at + a) * p;
      for (let k = 0; k <= a; k++) whitened[at + k]! += x * factors[line + k]!;
    }
    means[cell] = mean;
  }
  return { means, whitened };
};

/** What `condensedOf` gives as a mixture over components. */
export const whitenedMixture = (
  { columns: p, weights }: CondensedPosterior,
  { means, whitened }: ReturnType<typeof condensedOf>,
): NormalMixture => ({
  weights,
  means,
  deviations: means.map((_, cell) =>
    Math.sqrt(squaresOf(whitened.subarray(cell * p, (cell + 1) * p))),
  ),
});

/** The average x′β as a mixture over components. */
export const condensedMixture = (
  condensed: CondensedPosterior,
  row: ArrayLike<number>,
): NormalMixture => whitenedMixture(condensed, condensedOf(condensed, row));

/** A mixture with its means and deviations multiplied by factors, component by component. */
export const scaledMixture = (
  mixture: NormalMixture,
  factors: ArrayLike<number>,
): NormalMixture => ({
  weights: mixture.weights,
  means: mixture.means.map((mean, i) => mean * factors[i]!),
  deviations: mixture.deviations.map((deviation, i) => deviation * factors[i]!),
});
