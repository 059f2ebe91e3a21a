import type { OutcomeRow } from "../records/outcome-row.js";
import type { Refusal } from "./refusal.js";
import { intervalQuantile } from "./standard-deviation-from-standard-error.js";
import { tFromF, tFromP } from "./standard-deviation-from-test.js";

/** A printed difference between two arms' changes, as far as the row gives it. */
export type PrintedDifference = Readonly<{
  difference?: number;
  standardError?: number;
  /** Its t, two-sample or paired, with the sign of the difference. */
  t?: number;
  words: string;
}>;

/** How many people stand on either side of a difference, and whether they are the same ones. */
export type PeopleOfDifference = Readonly<{ first: number; second: number; same: boolean }>;

/**
 * Degrees of freedom of a difference between two groups, or between two limbs or periods of one group.
 *
 * @source none: definition of the two-sample and the paired t
 */
export const differenceFreedom = ({ first, second, same }: PeopleOfDifference): number =>
  same ? Math.min(first, second) - 1 : first + second - 2;

/**
 * A printed difference from the comparator with its standard error or test, from the first of: its spread,
 * its interval, t, F, p.
 *
 * Where both arms are the same people the differences are paired: n − 1 degrees of freedom, and a printed
 * deviation is that of the people's differences.
 *
 * @param row  a row whose numbers are of the difference from its comparator
 * @param people  of the row's arm and of the comparator, and whether they are the same
 * @returns what the row gives, or why it is not enough
 * @source Cochrane Handbook for Systematic Reviews of Interventions, chapter 6
 */
export const readDifference = (
  row: OutcomeRow,
  people: PeopleOfDifference,
): PrintedDifference | Refusal => {
  const freedom = differenceFreedom(people);
  const { intervalLow: low, intervalHigh: high } = row;
  const hasInterval = low !== undefined && high !== undefined && low < high;
  const difference = row.changeMean ?? (hasInterval ? (low + high) / 2 : undefined);
  const told = difference ?? (row.direction === "decrease" ? -1 : row.direction && 1);
  const signed = (size: number): Readonly<{ t?: number }> =>
    told === undefined ? {} : { t: (told < 0 ? -1 : 1) * size };
  const withError = (standardError: number, words: string): PrintedDifference | Refusal =>
    difference === undefined || !(standardError > 0)
      ? { refused: "the difference from the comparator is printed without a usable spread" }
      : { difference, standardError, t: difference / standardError, words };
  if (row.changeSpread !== undefined)
    return withError(differenceError(row, people), "its spread as printed");
  if (hasInterval) {
    if (difference !== undefined && !(low <= difference && difference <= high)) {
      return {
        refused: `the difference (${difference}) lies outside its interval (${low} to ${high})`,
      };
    }
    const percent = row.intervalPercent ?? 95;
    return withError(
      (high - low) / 2 / intervalQuantile(percent, freedom),
      `its ${percent}% interval`,
    );
  }
  const { tValue, fValue, pValue } = row;
  const test =
    tValue !== undefined
      ? { size: Math.abs(tValue), words: "its t value", t: tValue }
      : fValue !== undefined
        ? { size: tFromF(fValue), words: "its F value on one degree of freedom" }
        : pValue !== undefined && pValue > 0
          ? {
              size: tFromP({ p: pValue, degreesOfFreedom: freedom }),
              words: "its two-sided p value",
            }
          : undefined;
  if (test === undefined) {
    return { refused: "the difference from the comparator is printed without a usable spread" };
  }
  if (difference !== undefined && difference !== 0 && test.size > 0) {
    return withError(Math.abs(difference) / test.size, test.words);
  }
  const sign = signed(test.size).t ?? test.t;
  return sign === undefined
    ? { refused: "the direction of the difference is not coded" }
    : { t: sign, words: test.words };
};

/** Standard error of a printed difference from its spread: an error or half-width as such, a deviation as within arms. */
const differenceError = (row: OutcomeRow, people: PeopleOfDifference): number => {
  const { first, second, same } = people;
  const spread = row.changeSpread ?? 0;
  if (row.spreadKind === "standard error") return spread;
  if (row.spreadKind === "95% interval half-width") {
    return spread / intervalQuantile(95, differenceFreedom(people));
  }
  return spread * Math.sqrt(same ? 1 / Math.min(first, second) : 1 / first + 1 / second);
};
