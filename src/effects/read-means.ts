import type { Note } from "../errors.js";
import { CallError } from "../errors.js";
import type { OutcomeRow } from "../records/outcome-row.js";
import type { MeanAndDeviation } from "./arm-summary.js";
import { meanAndDeviationFromMedian } from "./mean-and-deviation-from-median.js";
import { rowNote } from "./refusal.js";
import {
  standardDeviationFromHalfWidth,
  standardDeviationFromStandardError,
} from "./standard-deviation-from-standard-error.js";

/** Means and deviations at the two times, as far as the row gives them. */
export type ReadMeans = Readonly<{
  meanBefore?: number;
  deviationBefore?: number;
  meanAfter?: number;
  deviationAfter?: number;
  route: string;
  notes: readonly Note[];
}>;

/**
 * Standard deviation of a printed spread, by the kind the row names (blank: a standard deviation).
 *
 * @source none: as `standardDeviationFromStandardError` and `standardDeviationFromHalfWidth`
 */
export const printedDeviation = (
  row: OutcomeRow,
  spread: number | undefined,
  participants: number,
): number | undefined => {
  if (spread === undefined) return undefined;
  if (row.spreadKind === "standard error") {
    return standardDeviationFromStandardError({ standardError: spread, participants });
  }
  if (row.spreadKind === "95% interval half-width") {
    return standardDeviationFromHalfWidth({ halfWidth: spread, participants });
  }
  return spread;
};

/**
 * The kind of spread in words, for a route.
 *
 * @source none: wording of this project
 */
export const spreadWords = (row: OutcomeRow): string => {
  if (row.spreadKind === "standard error") return "standard errors turned into standard deviations";
  if (row.spreadKind === "95% interval half-width") {
    return "interval half-widths turned into standard deviations";
  }
  return "standard deviations";
};

/**
 * Means and deviations at both times; medians are converted where no means are printed.
 *
 * @param row  any row
 * @param participants  people behind its numbers, at least 2
 * @returns whatever the row gives, with the route in words
 * @source Wan X et al. (2014); Luo D et al. (2018) for medians
 */
export const readMeans = (row: OutcomeRow, participants: number): ReadMeans => {
  const asMedians = row.statistic?.startsWith("medians") ?? false;
  if (asMedians || (row.preMean === undefined && row.postMean === undefined)) {
    const before = fromMedian(row, "before", participants);
    const after = fromMedian(row, "after", participants);
    const read = [before.read, after.read];
    if (read.some((one) => one !== undefined)) {
      return {
        ...(before.read && {
          meanBefore: before.read.mean,
          deviationBefore: before.read.deviation,
        }),
        ...(after.read && { meanAfter: after.read.mean, deviationAfter: after.read.deviation }),
        route: "medians turned into means (Luo 2018) and standard deviations (Wan 2014)",
        notes: [fromMediansNote(row)],
      };
    }
    if (asMedians) {
      const refused = before.refused ?? after.refused;
      const notes = refused === undefined ? [] : [rowNote(row, "medians-unusable", refused)];
      return { route: "medians", notes };
    }
  }
  const deviationBefore = printedDeviation(row, row.preSpread, participants);
  const deviationAfter = printedDeviation(row, row.postSpread, participants);
  const anySpread = deviationBefore !== undefined || deviationAfter !== undefined;
  return {
    ...(row.preMean !== undefined && { meanBefore: row.preMean }),
    ...(row.postMean !== undefined && { meanAfter: row.postMean }),
    ...(deviationBefore !== undefined && { deviationBefore }),
    ...(deviationAfter !== undefined && { deviationAfter }),
    route: anySpread ? `means with ${spreadWords(row)}` : "means",
    notes: [],
  };
};

/**
 * What is said of numbers that came from medians.
 *
 * @source none: wording of this project
 */
export const fromMediansNote = (row: OutcomeRow): Note =>
  rowNote(
    row,
    "from-medians",
    "means and deviations are converted from medians, which supposes the people are normally spread",
  );

const medianFields = { before: "pre", after: "post", change: "change" } as const;

/**
 * Mean and deviation that a printed median with quartiles or range stands for, before, after, or of the changes.
 *
 * @returns nothing without a median; why it cannot be used where its spread is missing or out of order
 * @source as `meanAndDeviationFromMedian`
 */
export const fromMedian = (
  row: OutcomeRow,
  time: keyof typeof medianFields,
  participants: number,
): Readonly<{ read?: MeanAndDeviation; refused?: string }> => {
  const field = medianFields[time];
  const median = row[`${field}Median`];
  const quartileLow = row[`${field}QuartileLow`];
  const quartileHigh = row[`${field}QuartileHigh`];
  const minimum = row[`${field}Minimum`];
  const maximum = row[`${field}Maximum`];
  if (median === undefined) return {};
  try {
    const read = meanAndDeviationFromMedian({
      median,
      ...(quartileLow !== undefined && { quartileLow }),
      ...(quartileHigh !== undefined && { quartileHigh }),
      ...(minimum !== undefined && { minimum }),
      ...(maximum !== undefined && { maximum }),
      participants,
    });
    return { read };
  } catch (failure) {
    if (failure instanceof CallError)
      return {
        refused: `${time === "change" ? "median change" : `${time} training`}, ${failure.message}`,
      };
    throw failure;
  }
};
