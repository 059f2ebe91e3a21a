/** Projected ranges and probabilities as the cells of tables, the words of sentences and the labels of figures. */
import type { Range } from "../projection/three-ranges.js";
import { shownEstimate, shownInterval } from "./scale-display.js";

const scale = "log-ratio-of-means";

/** The middle of a range in percent, one decimal. */
export const rangeMiddle = ({ estimate }: Pick<Range, "estimate">): string =>
  shownEstimate(estimate, scale, 0);

/** The limits of a range in percent, "2.1 to 5.4". */
export const rangeLimits = ({ low, high }: Pick<Range, "low" | "high">): string =>
  shownInterval({ low, high }, scale, 0);

/** Middle and limits in percent, "4.0 (2.1 to 5.4)". */
export const rangeCell = (range: Pick<Range, "estimate" | "low" | "high">): string =>
  `${rangeMiddle(range)} (${rangeLimits(range)})`;

/** Middle and limits for a sentence, "4.0% (2.1 to 5.4%)". */
export const rangeText = (range: Pick<Range, "estimate" | "low" | "high">): string =>
  `${rangeMiddle(range)}% (${rangeLimits(range)}%)`;

/**
 * A probability in whole percent; never 0 or 100, since a model is not that sure of anything.
 *
 * @param probability from 0 to 1
 */
export const probabilityCell = (probability: number): string => {
  const percent = Math.round(100 * probability);
  if (percent >= 100) return "over 99%";
  return percent <= 0 ? "under 1%" : `${percent}%`;
};
