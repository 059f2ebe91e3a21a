/** Mixtures of normal distributions: what a normal becomes when its mean and deviation are uncertain. */
import { CallError } from "../errors.js";
import { normalDensity, normalProbability } from "../numeric/normal.js";

/** Component i is normal with `means[i]` and `deviations[i]` and has `weights[i]`; the weights add up to 1. */
export type NormalMixture = Readonly<{
  weights: Float64Array;
  means: Float64Array;
  deviations: Float64Array;
}>;

/** Half-width and steps per unit of the table of normal probabilities. */
const tableReach = 9;
const stepsPerUnit = 32;
const probabilities = Float64Array.from({ length: 2 * tableReach * stepsPerUnit + 1 }, (_, i) =>
  normalProbability(i / stepsPerUnit - tableReach),
);
const slopes = Float64Array.from(
  { length: 2 * tableReach * stepsPerUnit + 1 },
  (_, i) => normalDensity(i / stepsPerUnit - tableReach) / stepsPerUnit,
);

/**
 * Normal probability by cubic interpolation of exact values and slopes, 1/32 apart.
 *
 * The error is below h⁴·max|φ‴|/384 = 1.4·10⁻⁹ with h = 1/32; hundreds of thousands of these make one
 * screen, where the exact function would take longer than a frame.
 */
export const quickNormalProbability = (x: number): number => {
  if (x <= -tableReach) return 0;
  if (x >= tableReach) return 1;
  const place = (x + tableReach) * stepsPerUnit;
  const i = Math.floor(place);
  const t = place - i;
  const [a, b] = [probabilities[i]!, probabilities[i + 1]!];
  const [da, db] = [slopes[i]!, slopes[i + 1]!];
  const gap = b - a;
  return a + t * (da + t * (3 * gap - 2 * da - db + t * (da + db - 2 * gap)));
};

/**
 * P(X ≤ x) of a mixture: Σ wᵢ Φ((x − mᵢ)/sᵢ).
 *
 * @source none: law of total probability
 */
export const mixtureProbability = (mixture: NormalMixture, x: number): number => {
  const { weights, means, deviations } = mixture;
  let total = 0;
  for (let i = 0; i < weights.length; i++) {
    total += weights[i]! * quickNormalProbability((x - means[i]!) / deviations[i]!);
  }
  return Math.min(1, Math.max(0, total));
};

/** Mean and standard deviation of a mixture: Σ wᵢmᵢ and √(Σ wᵢ(sᵢ² + mᵢ²) − mean²). */
export const mixtureMoments = (
  mixture: NormalMixture,
): Readonly<{ mean: number; deviation: number }> => {
  const { weights, means, deviations } = mixture;
  let mean = 0;
  for (let i = 0; i < weights.length; i++) mean += weights[i]! * means[i]!;
  let variance = 0;
  for (let i = 0; i < weights.length; i++) {
    variance += weights[i]! * (deviations[i]! ** 2 + (means[i]! - mean) ** 2);
  }
  return { mean, deviation: Math.sqrt(variance) };
};

/** Probability below x and density at x in one pass, from the same interpolation. */
const probabilityAndDensity = (
  { weights, means, deviations }: NormalMixture,
  x: number,
): readonly [number, number] => {
  let total = 0;
  let slope = 0;
  for (let i = 0; i < weights.length; i++) {
    const z = (x - means[i]!) / deviations[i]!;
    if (z <= -tableReach) continue;
    if (z >= tableReach) {
      total += weights[i]!;
      continue;
    }
    const place = (z + tableReach) * stepsPerUnit;
    const at = Math.floor(place);
    const t = place - at;
    const a = probabilities[at]!;
    const gap = probabilities[at + 1]! - a;
    const da = slopes[at]!;
    const db = slopes[at + 1]!;
    const c = 3 * gap - 2 * da - db;
    const d = da + db - 2 * gap;
    total += weights[i]! * (a + t * (da + t * (c + t * d)));
    slope += ((da + t * (2 * c + 3 * t * d)) * weights[i]!) / deviations[i]!;
  }
  return [total, slope * stepsPerUnit];
};

/** Quantile of a standard normal to three digits, enough to begin a search with (Abramowitz, Stegun 26.2.23). */
const roughNormalQuantile = (p: number): number => {
  const tail = Math.min(p, 1 - p);
  const t = Math.sqrt(-2 * Math.log(tail));
  const z =
    t -
    (2.515517 + t * (0.802853 + t * 0.010328)) /
      (1 + t * (1.432788 + t * (0.189269 + t * 0.001308)));
  return p < 0.5 ? -z : z;
};

/**
 * The values below which a mixture has the probabilities given, by root finding on its distribution.
 *
 * Newton's steps inside a bracket that only ever shrinks; a step outside is replaced by halving.
 * Settles when a step is below 10⁻⁹ of the mixture's deviation.
 *
 * @param probabilities each above 0 and below 1
 * @throws {CallError} "not-a-probability"
 * @source none: inversion of a distribution
 */
export const mixtureQuantiles = (
  mixture: NormalMixture,
  probabilities: readonly number[],
): readonly number[] => {
  const { mean, deviation } = mixtureMoments(mixture);
  let least = Infinity;
  let most = -Infinity;
  for (let i = 0; i < mixture.means.length; i++) {
    least = Math.min(least, mixture.means[i]! - 9 * mixture.deviations[i]!);
    most = Math.max(most, mixture.means[i]! + 9 * mixture.deviations[i]!);
  }
  return probabilities.map((probability) => {
    if (!(probability > 0 && probability < 1)) {
      throw new CallError({
        code: "not-a-probability",
        where: "mixtureQuantile",
        needs: "a probability above 0 and below 1",
        got: String(probability),
      });
    }
    let [low, high] = [least, most];
    let x = Math.min(high, Math.max(low, mean + deviation * roughNormalQuantile(probability)));
    for (let step = 0; step < 200; step++) {
      const [reached, slope] = probabilityAndDensity(mixture, x);
      const gap = reached - probability;
      if (gap > 0) high = x;
      else low = x;
      let next = slope > 0 ? x - gap / slope : NaN;
      if (!(next > low && next < high)) next = (low + high) / 2;
      if (Math.abs(next - x) <= 1e-9 * deviation) return next;
      x = next;
    }
    return x;
  });
};

/** One of `mixtureQuantiles`. */
export const mixtureQuantile = (mixture: NormalMixture, probability: number): number =>
  mixtureQuantiles(mixture, [probability])[0]!;

/** Widest bin of means, as part of the mixture's typical deviation, and of deviations, as a share. */
const meanBin = 0.25;
const deviationBin = 0.03;
/** A mixture spread over more bins than this has nothing to merge. */
const mostCells = 1e6;

/**
 * A mixture with like components merged, each merger keeping weight, mean and variance exactly.
 *
 * Components are merged when their means differ by less than a quarter of the typical deviation and their deviations
 * by less than 3%; a quantile moves by less than 10⁻⁴ of the deviation, and later searches are many times faster.
 */
export const mergedMixture = (mixture: NormalMixture): NormalMixture => {
  const { weights, means, deviations } = mixture;
  const size = weights.length;
  let variance = 0;
  for (let i = 0; i < size; i++) variance += weights[i]! * deviations[i]! ** 2;
  const width = meanBin * Math.sqrt(variance);
  // Bins of each component, counted from the lowest, then one number for both.
  const meanBins = new Int32Array(size);
  const deviationBins = new Int32Array(size);
  let [lowMean, highMean, lowDeviation, highDeviation] = [Infinity, -Infinity, Infinity, -Infinity];
  for (let i = 0; i < size; i++) {
    const a = (meanBins[i] = Math.round(means[i]! / width));
    const b = (deviationBins[i] = Math.round(Math.log(deviations[i]!) / deviationBin));
    if (a < lowMean) lowMean = a;
    if (a > highMean) highMean = a;
    if (b < lowDeviation) lowDeviation = b;
    if (b > highDeviation) highDeviation = b;
  }
  const across = highMean - lowMean + 1;
  const cellCount = across * (highDeviation - lowDeviation + 1);
  if (!(cellCount <= mostCells)) return mixture;
  // Place of each bin among those met, one more, so that 0 is a bin not met yet.
  const place = new Int32Array(cellCount);
  let bins = 0;
  // Weight, first and second moment of each bin, in the order in which bins are met.
  const weightOf = new Float64Array(size);
  const meanOf = new Float64Array(size);
  const squareOf = new Float64Array(size);
  for (let i = 0; i < size; i++) {
    const mean = means[i]!;
    const deviation = deviations[i]!;
    const weight = weights[i]!;
    const cell = (deviationBins[i]! - lowDeviation) * across + meanBins[i]! - lowMean;
    const at = (place[cell] ||= ++bins) - 1;
    weightOf[at]! += weight;
    meanOf[at]! += weight * mean;
    squareOf[at]! += weight * (deviation * deviation + mean * mean);
  }
  for (let at = 0; at < bins; at++) {
    meanOf[at]! /= weightOf[at]!;
    squareOf[at] = Math.sqrt(Math.max(squareOf[at]! / weightOf[at]! - meanOf[at]! ** 2, 1e-300));
  }
  return {
    weights: weightOf.slice(0, bins),
    means: meanOf.slice(0, bins),
    deviations: squareOf.slice(0, bins),
  };
};

/**
 * The mixture of X + Z, with Z normal around 0 whose deviation is itself uncertain and independent of X.
 *
 * @param spreads possible deviations of Z with weights that add up to 1
 */
export const widenedMixture = (
  mixture: NormalMixture,
  spreads: readonly Readonly<{ weight: number; deviation: number }>[],
): NormalMixture => {
  const size = mixture.weights.length;
  const weights = new Float64Array(size * spreads.length);
  const means = new Float64Array(size * spreads.length);
  const deviations = new Float64Array(size * spreads.length);
  spreads.forEach((spread, k) => {
    for (let i = 0; i < size; i++) {
      weights[k * size + i] = mixture.weights[i]! * spread.weight;
      means[k * size + i] = mixture.means[i]!;
      deviations[k * size + i] = Math.sqrt(mixture.deviations[i]! ** 2 + spread.deviation ** 2);
    }
  });
  return { weights, means, deviations };
};
