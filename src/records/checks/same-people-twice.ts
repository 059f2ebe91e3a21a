import type { Issue } from "../../errors.js";
import type { OutcomeRow } from "../outcome-row.js";
import { armKey, rowIssue } from "./row-check.js";
import type { TableCheck } from "./row-check.js";

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

/** In longer files one coincidence is to be expected, so a pair of arms needs a second one. */
const longFile = 2000;

/**
 * The same people in two papers that the file does not say are the same cohort: two studies with an arm
 * of equal size and equal baseline mean and spread of the same outcome. One doubt for each pair of
 * arms; in files of more than 2000 rows only at the pair's second coincidence.
 */
export const samePeopleTwice: TableCheck = (rows) => {
  const needed = rows.length > longFile ? 2 : 1;
  const firsts = new Map<string, OutcomeRow>();
  const matches = new Map<string, number>();
  const issues: Issue[] = [];
  for (const row of rows) {
    const print = fingerprint(row);
    if (print === undefined) continue;
    const first = firsts.get(print);
    if (first === undefined) {
      firsts.set(print, row);
      continue;
    }
    if (first.study === row.study || first.outcome !== row.outcome) continue;
    if (first.cohort !== undefined && first.cohort === row.cohort) continue;
    const pair = `${armKey(first)}\u0000${armKey(row)}`;
    const count = (matches.get(pair) ?? 0) + 1;
    matches.set(pair, count);
    if (count !== needed) continue;
    issues.push(
      rowIssue(row, "preMean", "warning", {
        code: "same-people-twice",
        message: `line ${first.line} of study ${first.study} has the same number of people, baseline mean and spread`,
        mend: "if the two papers report on the same people, give all their rows one name in cohort",
      }),
    );
  }
  return issues;
};
