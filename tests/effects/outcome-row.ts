import type { OutcomeRow } from "../../src/records/outcome-row.js";

/** A row of an invented trial with only the fields a test names. */
export const rowOf = (fields: Partial<OutcomeRow> & Readonly<{ line: number }>): OutcomeRow => ({
  notReported: [],
  study: "Invented 1",
  arm: "trained",
  armKind: "isometric",
  outcome: "peak isometric torque",
  outcomeFamily: "strength",
  testMode: "isometric",
  unit: "N·m",
  spreadKind: "standard deviation",
  ...fields,
});

/** Means and deviations at both times, as a row's fields. */
export const bothTimes = (
  before: readonly [mean: number, deviation: number],
  after: readonly [mean: number, deviation: number],
  nEnd: number,
): Partial<OutcomeRow> => ({
  statistic: "means at both times",
  preMean: before[0],
  preSpread: before[1],
  postMean: after[0],
  postSpread: after[1],
  nEnd,
});
