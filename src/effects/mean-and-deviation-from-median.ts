import { normalQuantile } from "../numeric/normal.js";
import type { MeanAndDeviation } from "./arm-summary.js";
import { demanded } from "./arm-summary.js";

export type MedianSummary = Readonly<{
  median: number;
  quartileLow?: number;
  quartileHigh?: number;
  minimum?: number;
  maximum?: number;
  participants: number;
}>;

/**
 * Width of the interquartile range of a normal sample in standard deviations (expected, approximate).
 *
 *   2·z at (0.75n − 0.125)/(n + 0.25)
 *
 * @source Wan X et al. (2014) BMC Medical Research Methodology 14:135
 */
export const expectedQuartileWidth = (participants: number): number =>
  2 * normalQuantile((0.75 * participants - 0.125) / (participants + 0.25));

/**
 * Width of the range of a normal sample in standard deviations (expected, approximate).
 *
 *   2·z at (n − 0.375)/(n + 0.25)
 *
 * @source Wan X et al. (2014) BMC Medical Research Methodology 14:135
 */
export const expectedRangeWidth = (participants: number): number =>
  2 * normalQuantile((participants - 0.375) / (participants + 0.25));

/**
 * Mean and standard deviation that a median with quartiles, or with the range, stands for in normal data.
 *
 * Supposes the people are normally spread; skewed data bend both numbers, so every effect that came
 * this way is flagged.
 *
 *   mean (Luo 2018)   range      w(a+b)/2 + (1−w)m,  w = 4/(4+n^0.75)
 *                     quartiles  w(q₁+q₃)/2 + (1−w)m,  w = 0.7 + 0.39/n
 *                     both       w₁(a+b)/2 + w₂(q₁+q₃)/2 + (1−w₁−w₂)m,  w₁ = 2.2/(2.2+n^0.75), w₂ = 0.7 − 0.72/n^0.55
 *   deviation (Wan 2014)   (b−a)/range width;  (q₃−q₁)/quartile width;  both: the mean of the two
 *   a, q₁, m, q₃, b = minimum, quartiles and median, maximum;  n = participants
 *
 * @param summary  median with both quartiles, or both ends of the range, or all four; at least 2 participants
 * @returns mean and deviation in the same unit
 * @throws {CallError} "out-of-range" when neither pair is complete or the numbers are out of order
 * @source Wan X et al. (2014) BMC Medical Research Methodology 14:135; Luo D et al. (2018) Statistical
 *   Methods in Medical Research 27:1785–1805
 */
export const meanAndDeviationFromMedian = (summary: MedianSummary): MeanAndDeviation => {
  const where = "meanAndDeviationFromMedian";
  const { median, participants } = summary;
  demanded(participants, { where, needs: "at least 2 participants", holds: (n) => n >= 2 });
  const quartiles = pairAround(median, summary.quartileLow, summary.quartileHigh, where);
  const range = pairAround(median, summary.minimum, summary.maximum, where);
  if (quartiles === undefined && range === undefined) {
    demanded(Number.NaN, {
      where,
      needs: "both quartiles or both ends of the range",
      holds: () => false,
    });
  }
  const deviations = [
    ...(quartiles === undefined ? [] : [quartiles.width / expectedQuartileWidth(participants)]),
    ...(range === undefined ? [] : [range.width / expectedRangeWidth(participants)]),
  ];
  const deviation = deviations.reduce((total, one) => total + one, 0) / deviations.length;
  const slow = participants ** 0.75;
  if (quartiles !== undefined && range !== undefined) {
    const ofRange = 2.2 / (2.2 + slow);
    const ofQuartiles = 0.7 - 0.72 / participants ** 0.55;
    const ofMedian = 1 - ofRange - ofQuartiles;
    return {
      mean: ofRange * range.middle + ofQuartiles * quartiles.middle + ofMedian * median,
      deviation,
    };
  }
  const weight = range === undefined ? 0.7 + 0.39 / participants : 4 / (4 + slow);
  const middle = (range ?? quartiles)?.middle ?? median;
  return { mean: weight * middle + (1 - weight) * median, deviation };
};

const pairAround = (
  median: number,
  low: number | undefined,
  high: number | undefined,
  where: string,
): Readonly<{ middle: number; width: number }> | undefined => {
  if (low === undefined || high === undefined) return undefined;
  demanded(median, {
    where,
    needs: `a median between the numbers around it (${low} and ${high})`,
    holds: (value) => low <= value && value <= high,
  });
  return { middle: (low + high) / 2, width: high - low };
};
