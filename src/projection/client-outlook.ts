/** What a file and a client's own tests together expect of one person. */
import { chiSquaredQuantile } from "../numeric/chi-squared.js";
import { cholesky, forwardSolve } from "../numeric/cholesky.js";
import type { ClientChange, UntrainedChange } from "./client-change.js";
import { mergedMixture, mixtureProbability, type NormalMixture } from "./normal-mixture.js";
import type { ReadyProjection } from "./prepare-projection.js";
import type { PlacedProtocol } from "./placed-protocol.js";
import { placedMixture } from "./project-protocol.js";
import { rangeOf, type Range, type RangeOptions } from "./three-ranges.js";
import { weeksCurve } from "./weeks-curve.js";

/** One of the ways people like those studied may gain, before a client's tests are seen. */
export type GainCase = Readonly<{
  weight: number;
  /** Gain at eight weeks: middle, its variance over averages and groups, and the deviation of people's own response. */
  mean: number;
  variance: number;
  response: number;
  /** Weeks to 63% of the final gain. */
  constant: number;
}>;

/** A person's own response keeps this correlation over eight weeks of training. Ours, and open to change. */
export const keptOverEightWeeks = 0.8;

/** The cases of a projection: each point of its posterior with each deviation of people's own response. */
export const gainCases = (
  prepared: ReadyProjection,
  placed: Pick<PlacedProtocol, "means" | "whitened">,
): readonly GainCase[] => {
  const { weights, means, deviations } = placedMixture(prepared, placed);
  const { groupDeviations, parameters } = prepared.posterior;
  return prepared.individual.points.flatMap((point) =>
    Array.from(weights, (weight, i) => ({
      weight: weight * point.weight,
      mean: means[i]!,
      variance: deviations[i]! ** 2 + groupDeviations[i]! ** 2,
      response: point.deviation,
      constant: parameters[i]!,
    })),
  );
};

export type ClientOutlook = Readonly<{
  /** Chance that a person of the projection would have measured less than the client at the last test. */
  below: number;
  /** True change by the end without the error of a test: by the file alone, and with the client's tests. */
  alone: Range;
  together: Range;
  /** Correlation of the true change at the last test and at the end, before the client's tests. */
  correlation: number;
}>;

export type OutlookOptions = RangeOptions &
  Readonly<{
    /** The projection is over people who do not train, so that what these show is taken off the client's tests. */
    overUntrained?: boolean;
    untrained?: UntrainedChange;
    kept?: number;
  }>;

/**
 * A projection for one person brought up to date by the person's own tests.
 *
 *   θ(w) = g(w)·(x + rₖ·h(w)),  x ~ N(m, s²),  corr(h(w), h(w′)) = k^(|w−w′|/8);   Yⱼ − Y₀ = θ(wⱼ) + eⱼ − e₀ + d
 *
 * θ is the true change, g the course over weeks, h a person's own response; e the error of a test, which enters once for
 * each retest and once for the baseline that all share, d what people change by without training. Within a case all of
 * this is normal: its middle and variance at the end are those given the tests, and its weight grows with how well it
 * foretold them.
 *
 * e is not known but estimated: it stands at the middles of four equal shares of its own distribution, n·s²/χ²ₙ.
 *
 * @param cases   from `gainCases`
 * @param client  with at least one test after training began
 * @param weeks   of training at the end
 * @source Gelman A and others (2013) Bayesian Data Analysis, 3rd edition, sections 2.5 and 14.8, for normal updating
 */
export const clientOutlook = (
  cases: readonly GainCase[],
  { baseline, occasions, error }: ClientChange,
  weeks: number,
  options: OutlookOptions = {},
): ClientOutlook => {
  const { untrained, kept = keptOverEightWeeks, overUntrained = false } = options;
  const degrees = error.degreesOfFreedom;
  const squares = [1, 3, 5, 7].map(
    (eighth) => (degrees * error.deviation ** 2) / chiSquaredQuantile(eighth / 8, degrees),
  );
  const without =
    (untrained?.personVariance ?? 0) + (overUntrained ? (untrained?.meanVariance ?? 0) : 0);
  const seen = occasions.map(({ measured, change }) => (overUntrained ? change : measured));
  const times = [...occasions.map((one) => one.weeks), weeks];
  const [last, end] = [occasions.length - 1, occasions.length];
  const likeness = times.map((one) => times.map((other) => kept ** (Math.abs(one - other) / 8)));
  const logs: number[] = [];
  const all = squares.flatMap((square) =>
    cases.map((one) => ({ ...one, square, weight: one.weight / squares.length })),
  );
  const parts = all.map(({ weight, mean, variance, response, constant, square }) => {
    const shared = square / baseline.days + without;
    const course = times.map((time) => weeksCurve(time, constant));
    const truth = (j: number, k: number): number =>
      course[j]! * course[k]! * (variance + response ** 2 * likeness[j]![k]!);
    const noise = (j: number, k: number): number =>
      shared + (j === k ? square / occasions[j]!.days : 0);
    const values = new Float64Array(end * end);
    for (let j = 0; j < end; j++)
      for (let k = 0; k < end; k++) values[j * end + k] = truth(j, k) + noise(j, k);
    // Error is above 0, so the matrix has a factor.
    const { lower, logDeterminant } = cholesky({ rows: end, columns: end, values })!;
    const gap = forwardSolve(
      lower,
      seen.map((one, j) => one - course[j]! * mean),
    );
    const toEnd = forwardSolve(
      lower,
      seen.map((_, j) => truth(j, end)),
    );
    let [fit, shift, told] = [logDeterminant, 0, 0];
    for (let j = 0; j < end; j++) {
      fit += gap[j]! ** 2;
      shift += gap[j]! * toEnd[j]!;
      told += toEnd[j]! ** 2;
    }
    logs.push(Math.log(weight) - fit / 2);
    return {
      weight,
      now: course[last]! * mean,
      nowVariance: truth(last, last),
      seenVariance: values[last * end + last]!,
      end: course[end]! * mean,
      endVariance: truth(end, end),
      both: truth(last, end),
      middle: course[end]! * mean + shift,
      left: truth(end, end) - told,
    };
  });
  const top = Math.max(...logs);
  const total = logs.reduce((sum, log) => sum + Math.exp(log - top), 0);
  const mixture = (
    of: (part: (typeof parts)[number], place: number) => readonly [number, number, number],
  ): NormalMixture => {
    const made = parts.map(of).filter(([weight]) => weight > 1e-12);
    return mergedMixture({
      weights: Float64Array.from(made, ([weight]) => weight),
      means: Float64Array.from(made, ([, mean]) => mean),
      deviations: Float64Array.from(made, ([, , variance]) => Math.sqrt(Math.max(variance, 1e-18))),
    });
  };
  const average = (of: (part: (typeof parts)[number]) => number): number =>
    parts.reduce((sum, part) => sum + part.weight * of(part), 0);
  const [now, at] = [average((part) => part.now), average((part) => part.end)];
  const spread = (of: "nowVariance" | "endVariance", middle: "now" | "end", mean: number): number =>
    average((part) => part[of] + (part[middle] - mean) ** 2);
  return {
    below: mixtureProbability(
      mixture((part) => [part.weight, part.now, part.seenVariance]),
      seen[last]!,
    ),
    alone: rangeOf(
      mixture((part) => [part.weight, part.end, part.endVariance]),
      options,
    ),
    together: rangeOf(
      mixture((part, place) => [Math.exp(logs[place]! - top) / total, part.middle, part.left]),
      options,
    ),
    correlation:
      average((part) => part.both + (part.now - now) * (part.end - at)) /
      Math.sqrt(spread("nowVariance", "now", now) * spread("endVariance", "end", at)),
  };
};
