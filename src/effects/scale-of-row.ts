import { familyRecord, higherIs } from "../records/outcome-families.js";
import type { OutcomeRow } from "../records/outcome-row.js";
import type { EffectScale } from "./effect.js";

const writtenBounds = /(?<![\d.])(?<low>\d+)\s*(?:–|-|to)\s*(?<high>10|100)(?![\d.]|\s*m?s\b)/u;

/** Floor and ceiling of a score as the row states them, or as its unit, outcome or method writes them: "0–10". */
export const scoreBounds = (
  row: OutcomeRow,
): Readonly<{ lowest?: number; highest?: number }> | undefined => {
  const { lowestScore: lowest, highestScore: highest } = row;
  if (lowest !== undefined || highest !== undefined)
    return {
      ...(lowest === undefined ? {} : { lowest }),
      ...(highest === undefined ? {} : { highest }),
    };
  const written = [row.unit, row.outcome, row.method]
    .map((words) => writtenBounds.exec(words ?? "")?.groups)
    .find((groups) => groups?.["low"] === "0");
  return written === undefined ? undefined : { lowest: 0, highest: Number(written["high"]) };
};

/** Whether an outcome is a score with a floor and a ceiling; by its family where nothing of the row says. */
export const isScore = (row: OutcomeRow): boolean =>
  scoreBounds(row) !== undefined || familyRecord(row.outcomeFamily).isScore;

const pointsOf = (row: OutcomeRow): string =>
  JSON.stringify([row.unit?.trim().toLowerCase(), scoreBounds(row)]);

/**
 * The scale each row's effect stands on, where a log ratio of means was asked for: a score has a floor and a ceiling, so
 * that a ratio says little of it, and stands in its own points, or standardised where a family holds several kinds of points; where
 * lower is better the ratio is shown as a fall. Every other scale holds for all rows.
 *
 * @source none: a ratio asks for a true zero and no ceiling
 */
export const scalesOfRows = (
  rows: readonly OutcomeRow[],
  asked: EffectScale,
): ((row: OutcomeRow) => EffectScale) => {
  if (asked !== "log-ratio-of-means") return () => asked;
  const points = new Map<string, Set<string>>();
  for (const row of rows.filter(isScore)) {
    const family = row.outcomeFamily ?? "";
    points.set(family, (points.get(family) ?? new Set<string>()).add(pointsOf(row)));
  }
  return (row) => {
    if (isScore(row))
      return points.get(row.outcomeFamily ?? "")?.size === 1
        ? "raw-mean-difference"
        : "standardised-mean-change-baseline-deviation";
    return higherIs(row) === "worse" ? "log-ratio-of-means-where-lower-is-better" : asked;
  };
};
