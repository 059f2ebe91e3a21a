/** The three ranges of a projection: the average over such studies, a new group, a single person in one. */
import { CallError } from "../errors.js";
import { percentFromLogRatio } from "../effects/percent-from-log-ratio.js";
import {
  mergedMixture,
  mixtureProbability,
  mixtureQuantiles,
  widenedMixture,
  type NormalMixture,
} from "./normal-mixture.js";

/** One range: median, and limits that hold the stated share. `percent` is the same as 100·(eˣ − 1). */
export type Range = Readonly<{
  /** Median, log scale. */
  estimate: number;
  low: number;
  high: number;
  percent: Readonly<{ estimate: number; low: number; high: number }>;
  probabilityOfGain: number;
  /** Of a gain above the smallest worthwhile one; absent where none is set. */
  probabilityWorthwhile?: number;
}>;

export type ThreeRanges = Readonly<{ average: Range; newGroup: Range; person: Range }>;

/** What each range is made of, point by point of the posterior. */
export type RangeParts = Readonly<{
  /** The average gain. */
  average: NormalMixture;
  /** Deviation of a new group from the average, one for each component. */
  groupDeviations: Float64Array;
  /** Factor on people's own response, one for each component: the course over weeks. */
  responseFactors: Float64Array;
  /** Possible deviations of people's own response. */
  response: readonly Readonly<{ weight: number; deviation: number }>[];
  /** Typical error of one measurement; a change holds two. */
  measurementDeviation: number;
}>;

export type RangeOptions = Readonly<{
  /** Share of the probability inside a range. */
  confidence?: number;
  /** Smallest gain worth having, percent. */
  smallestWorthwhilePercent?: number;
}>;
export const rangeDefaults = { confidence: 0.95 } as const;

/** A range of exactly one value: before training nothing has changed. */
const nothing: Range = {
  estimate: 0,
  low: 0,
  high: 0,
  percent: { estimate: 0, low: 0, high: 0 },
  probabilityOfGain: 0,
};

/**
 * The range of a mixture: its median and the limits that cut equal shares from both ends.
 *
 * @throws {CallError} "confidence" outside 0 to 1
 */
export const rangeOf = (mixture: NormalMixture, options: RangeOptions = {}): Range => {
  const confidence = options.confidence ?? rangeDefaults.confidence;
  if (!(confidence > 0 && confidence < 1)) {
    throw new CallError({
      code: "confidence",
      where: "rangeOf",
      needs: "a confidence above 0 and below 1",
      got: String(confidence),
    });
  }
  const worthwhile = options.smallestWorthwhilePercent;
  const quantiles = mixtureQuantiles(mixture, [0.5, (1 - confidence) / 2, (1 + confidence) / 2]);
  const [estimate, low, high] = [quantiles[0]!, quantiles[1]!, quantiles[2]!];
  return {
    estimate,
    low,
    high,
    percent: {
      estimate: percentFromLogRatio(estimate),
      low: percentFromLogRatio(low),
      high: percentFromLogRatio(high),
    },
    probabilityOfGain: 1 - mixtureProbability(mixture, 0),
    ...(worthwhile === undefined
      ? {}
      : {
          probabilityWorthwhile: 1 - mixtureProbability(mixture, Math.log1p(worthwhile / 100)),
        }),
  };
};

/**
 * The three ranges.
 *
 *   average: the posterior of g·xβ
 *   new group: + study, arm and reading deviations, g²·(σ_study² + σ_arm² + σ_reading²)
 *   single person: + own response, g²·σ_response², and the error of two measurements, 2e²
 *
 * Each mixture keeps the uncertainty of its deviations; like components are merged before quantiles are searched.
 *
 * @source Hopkins WG (2015) for the parts of a person's change; Higgins JPT, Thompson SG, Spiegelhalter DJ (2009)
 *   Journal of the Royal Statistical Society A 172:137–159 for the range of a new study
 */
export const threeRanges = (parts: RangeParts, options: RangeOptions = {}): ThreeRanges => {
  const { average, groupDeviations, responseFactors, response, measurementDeviation } = parts;
  const moved = average.deviations.some((deviation) => deviation > 0);
  const error = Math.SQRT2 * measurementDeviation;
  if (!moved) {
    const noise: NormalMixture = {
      weights: Float64Array.of(1),
      means: Float64Array.of(0),
      deviations: Float64Array.of(error),
    };
    return {
      average: nothing,
      newGroup: nothing,
      person: error > 0 ? rangeOf(noise, options) : nothing,
    };
  }
  // Drawn together before it is widened, which only smooths it further.
  const group = mergedMixture({
    ...average,
    deviations: average.deviations.map((deviation, i) =>
      Math.sqrt(deviation ** 2 + groupDeviations[i]! ** 2),
    ),
  });
  // Own response grows with the gain; its factor varies little between points, so its mean serves.
  let factor = 0;
  for (let i = 0; i < average.weights.length; i++)
    factor += average.weights[i]! * responseFactors[i]!;
  const person = mergedMixture(
    widenedMixture(
      group,
      response.map(({ weight, deviation }) => ({
        weight,
        deviation: Math.hypot(factor * deviation, error),
      })),
    ),
  );
  return {
    average: rangeOf(mergedMixture(average), options),
    newGroup: rangeOf(group, options),
    person: rangeOf(person, options),
  };
};
