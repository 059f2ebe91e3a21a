import type { Range, ThreeRanges } from "../../../projection/three-ranges.js";
import { formatInterval, formatPercent } from "../../../tables/number-format.js";

/** The three ranges, in the order in which they widen. */
export const rangeNames = [
  "average",
  "newGroup",
  "person",
] as const satisfies readonly (keyof ThreeRanges)[];

/** What each range is of, in words. */
export const rangeLabels: Readonly<Record<keyof ThreeRanges, string>> = {
  average: "Average of such studies",
  newGroup: "A new group",
  person: "One person in a new group",
};

/** A range as people read it: "4.2% (1.0 to 7.5)". */
export const rangeText = ({ percent }: Pick<Range, "percent">): string =>
  `${formatPercent(percent.estimate)} (${formatInterval(percent, { digits: 1 })})`;

/** A probability in whole percent, never 0 or 100. */
export const chanceText = (probability: number): string => {
  const whole = Math.round(100 * probability);
  return whole >= 100 ? "over 99%" : whole <= 0 ? "under 1%" : `${whole}%`;
};
