import type { Note } from "../errors.js";
import type { OutcomeRow } from "../records/outcome-row.js";
import { rowNote } from "./refusal.js";
import { tFromF, tFromP } from "./standard-deviation-from-test.js";

/** A paired test as a t value: its size, its size with the sign of the change, and how it was printed. */
export type ReadTest = Readonly<{
  size?: number;
  signed?: number;
  words?: string;
  notes: readonly Note[];
}>;

/** Values that papers print as bounds far more often than as exact p. */
const thresholds = [0.05, 0.025, 0.01, 0.005, 0.001, 0.0001];

/**
 * The test of a row's change as a paired t value, from the first of t, F and p that may be used.
 *
 * Where deviations at both times are known, the test only tells the correlation; F then counts only when
 * it is the row's stated form, and p only when it is, and does not look like a threshold.
 *
 * @param row  a row whose numbers are of the change within its arm
 * @param known  people less one, the mean change, whether deviations at both times are known
 * @returns the test, empty when there is none, with notes on contradictions
 * @source none: identities of t, F(1, m) and the two-sided p
 */
export const readTest = (
  row: OutcomeRow,
  known: Readonly<{
    degreesOfFreedom: number;
    meanChange: number | undefined;
    deviationsKnown: boolean;
  }>,
): ReadTest => {
  const change = Math.sign(known.meanChange ?? 0);
  if (row.tValue !== undefined) return fromT(row, row.tValue, change);
  const { fValue, pValue } = row;
  if (fValue !== undefined && (!known.deviationsKnown || row.statistic === "F value")) {
    return directed(row, tFromF(fValue), change, "F value on one degree of freedom");
  }
  if (pValue === undefined) return { notes: [] };
  const threshold = thresholds.includes(pValue);
  if (known.deviationsKnown && (row.statistic !== "p value" || threshold)) return { notes: [] };
  if (!(pValue > 0)) {
    const message = "a p value of 0 cannot be turned into a spread; give the bound it stands for";
    return { notes: [rowNote(row, "p-of-zero", message)] };
  }
  const size = tFromP({ p: pValue, degreesOfFreedom: known.degreesOfFreedom });
  const test = directed(row, size, change, "two-sided p value");
  if (!threshold) return test;
  const message = `the p value (${pValue}) looks like a threshold; taken as exact, it makes the spread too large rather than too small`;
  return { ...test, notes: [...test.notes, rowNote(row, "p-threshold", message)] };
};

const fromT = (row: OutcomeRow, t: number, change: number): ReadTest => {
  const disagrees = change !== 0 && t !== 0 && Math.sign(t) !== change;
  const message = `the t value (${t}) and the mean change have different signs; the sign of the change is used`;
  return {
    size: Math.abs(t),
    signed: change === 0 ? t : change * Math.abs(t),
    words: "paired t value",
    notes: disagrees ? [rowNote(row, "sign-disagrees", message)] : [],
  };
};

const directed = (row: OutcomeRow, size: number, change: number, words: string): ReadTest => {
  const told = row.direction === undefined ? 0 : row.direction === "decrease" ? -1 : 1;
  const message =
    "the direction coded and the mean change disagree; the sign of the change is used";
  const disagrees = change !== 0 && told !== 0 && change !== told;
  const sign = change === 0 ? told : change;
  return {
    size,
    words,
    ...(sign !== 0 && { signed: sign * size }),
    notes: disagrees ? [rowNote(row, "sign-disagrees", message)] : [],
  };
};
