import type { OutcomeRow } from "../outcome-row.js";

const keyOf = (row: OutcomeRow): string =>
  [
    row.study,
    row.arm,
    row.outcome,
    row.method,
    row.unit,
    row.weekMeasured,
    row.testAngleDegrees,
    row.testSitePercent,
    row.preMean,
    row.postMean,
    row.changeMean,
    row.changePercentMean,
    row.tValue,
    row.effect,
  ].join("\u0000");

const allFields = (row: OutcomeRow): string =>
  JSON.stringify(
    Object.entries(row)
      .filter(([field]) => field !== "line")
      .sort(),
  );

/**
 * Rows that repeat an earlier row in every field: line of the later row, with the line it repeats. They
 * are set aside, since the same numbers would count twice.
 */
export const sameRowTwice = (rows: readonly OutcomeRow[]): ReadonlyMap<number, number> => {
  const seen = new Map<string, OutcomeRow[]>();
  const repeats = new Map<number, number>();
  for (const row of rows) {
    const key = keyOf(row);
    const alike = seen.get(key);
    if (alike === undefined) {
      seen.set(key, [row]);
      continue;
    }
    const whole = allFields(row);
    const first = alike.find((earlier) => allFields(earlier) === whole);
    if (first === undefined) alike.push(row);
    else repeats.set(row.line, first.line);
  }
  return repeats;
};
