import type { RandomStream } from "../numeric/random-stream.js";

/** Variance of a sample of `people` from a normal population, over the population's variance. */
const sampledVariance = (people: number, stream: RandomStream): number => {
  let squares = 0;
  for (let index = 1; index < people; index += 1) squares += stream.normal() ** 2;
  return squares / (people - 1);
};

/**
 * Sampling errors of the mean changes of one group at several readings, and their variances.
 *
 * @param readings number of angles, sites or times
 * @param people size of the group, at least 2
 * @param changeDeviation deviation of one person's change
 * @param shared correlation of the errors of two readings, 0–1: the part of the change that is the person's own
 * @param estimated whether the variances are estimated from as many people, or the true ones
 */
export const groupErrors = (
  readings: number,
  people: number,
  changeDeviation: number,
  shared: number,
  estimated: boolean,
  stream: RandomStream,
): Readonly<{ error: readonly number[]; variance: readonly number[] }> => {
  const standardError = changeDeviation / Math.sqrt(people);
  const common = stream.normal();
  const error: number[] = [];
  const variance: number[] = [];
  for (let reading = 0; reading < readings; reading += 1) {
    const own = stream.normal();
    error.push(standardError * (Math.sqrt(shared) * common + Math.sqrt(1 - shared) * own));
    variance.push(standardError ** 2 * (estimated ? sampledVariance(people, stream) : 1));
  }
  return { error, variance };
};
