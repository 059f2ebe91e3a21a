import type { FieldName } from "../codebook.js";
import { fieldNames } from "../codebook.js";
import type { OutcomeRow } from "../outcome-row.js";

const hashedNumbers: readonly FieldName[] = [
  "weekMeasured",
  "testAngleDegrees",
  "testSitePercent",
  "preMean",
  "postMean",
  "changeMean",
  "changePercentMean",
  "tValue",
  "pValue",
  "effect",
];

/** Small whole numbers for texts, in order of first appearance. */
const numbering = (): ((text: string) => number) => {
  const known = new Map<string, number>();
  return (text) => {
    const number = known.get(text) ?? known.size + 1;
    if (number > known.size) known.set(text, number);
    return number;
  };
};

const sameFields = (one: OutcomeRow, other: OutcomeRow): boolean =>
  one.notReported.join() === other.notReported.join() &&
  fieldNames.every((name) => {
    const left = one[name];
    const right = other[name];
    return left === right || (Array.isArray(left) && String(left) === String(right));
  });

/**
 * Rows that repeat an earlier row in every field: line of the later row, with the line it repeats. They
 * are set aside, since the same numbers would count twice.
 */
export const sameRowTwice = (rows: readonly OutcomeRow[]): ReadonlyMap<number, number> => {
  const studyNumber = numbering();
  const armNumber = numbering();
  const outcomeNumber = numbering();
  const seen = new Map<number, OutcomeRow | OutcomeRow[]>();
  const repeats = new Map<number, number>();
  for (const row of rows) {
    let hash = studyNumber(row.study) * 1e4 + armNumber(row.arm) * 37 + outcomeNumber(row.outcome);
    for (const field of hashedNumbers) {
      hash = (hash * 31.7 + ((row[field] as number | undefined) ?? 0.37)) % 1e15;
    }
    const alike = seen.get(hash);
    if (alike === undefined) {
      seen.set(hash, row);
      continue;
    }
    const earlier = Array.isArray(alike) ? alike : [alike];
    const first = earlier.find((candidate) => sameFields(candidate, row));
    if (first !== undefined) repeats.set(row.line, first.line);
    else seen.set(hash, [...earlier, row]);
  }
  return repeats;
};
