import type { OutcomeRow } from "../outcome-row.js";
import { rowIssue } from "./row-check.js";
import type { RowCheck } from "./row-check.js";

/** Numbers that two groups of people do not share by chance: people, and baseline mean with its spread. */
const fingerprint = (row: OutcomeRow): string | undefined => {
  const people = row.nStart ?? row.nEnd;
  const { preMean, preSpread } = row;
  if (people === undefined || preMean === undefined || preSpread === undefined) return undefined;
  const digits =
    String(preMean).replace(/\D/g, "").length + String(preSpread).replace(/\D/g, "").length;
  // Short numbers coincide by chance; five digits in all seldom do.
  return digits < 5 ? undefined : `${people}|${preMean}|${preSpread}`;
};

/**
 * The same people in two papers that the file does not say are the same cohort: two studies with an arm
 * of equal size and equal baseline mean and spread. One doubt for each pair of studies.
 */
export const samePeopleTwice: RowCheck = (rows) => {
  const firsts = new Map<string, OutcomeRow>();
  const told = new Set<string>();
  return rows.flatMap((row) => {
    const print = fingerprint(row);
    if (print === undefined) return [];
    const first = firsts.get(print);
    if (first === undefined) {
      firsts.set(print, row);
      return [];
    }
    if (first.study === row.study) return [];
    if (first.cohort !== undefined && first.cohort === row.cohort) return [];
    const pair = `${first.study}\u0000${row.study}`;
    if (told.has(pair)) return [];
    told.add(pair);
    return [
      rowIssue(row, "preMean", "warning", {
        code: "same-people-twice",
        message: `line ${first.line} of study ${first.study} has the same number of people, baseline mean and spread`,
        mend: "if the two papers report on the same people, give all their rows one name in cohort",
      }),
    ];
  });
};
