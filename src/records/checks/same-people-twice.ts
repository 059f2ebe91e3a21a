import type { Issue } from "../../errors.js";
import type { OutcomeRow } from "../outcome-row.js";
import { armKey, rowIssue } from "./row-check.js";
import type { TableCheck } from "./row-check.js";

/** The numbers that two groups of people do not share by chance. */
const numbersOf = (row: OutcomeRow): readonly (number | undefined)[] => [
  row.preMean,
  row.preSpread,
  row.postMean,
  row.postSpread,
];

const figures = (value: number): number =>
  String(value).replace(/\D/g, "").replace(/0+$/, "").length;

const decimals = (value: number): number => (String(value).split(".")[1] ?? "").length;

/** Whether one number is the other, printed with fewer digits. */
const sameRounded = (one: number, other: number): boolean => {
  const digits = Math.min(decimals(one), decimals(other));
  const half = 0.5 * 10 ** -digits * (1 + 1e-9);
  return Math.abs(one - other) <= (decimals(one) === decimals(other) ? 0 : half);
};

/**
 * Figures that two rows share, counted on the coarser print. Equal baselines are enough, for papers may print other
 * weeks; where the one rounds the other, every number that both print must agree.
 */
const sharedFigures = (one: OutcomeRow, other: OutcomeRow): number => {
  if (one.preMean === other.preMean && one.preSpread === other.preSpread)
    return figures(one.preMean ?? 0) + (one.preSpread === undefined ? 0 : figures(one.preSpread));
  const theirs = numbersOf(other);
  let shared = 0;
  for (const [i, mine] of numbersOf(one).entries()) {
    const their = theirs[i];
    if (mine === undefined || their === undefined) continue;
    if (!sameRounded(mine, their)) return 0;
    shared += Math.min(figures(mine), figures(their));
  }
  return shared;
};

/** Five figures in all seldom coincide by chance. */
const figuresNeeded = 5;
/** In longer files one coincidence is to be expected, so a pair of arms needs a second one, and rounding is not tried. */
const longFile = 2000;

/**
 * The same people in two papers that the file does not say are the same cohort: two studies with an arm of equal
 * size and equal means and spreads of the same outcome, up to rounding. One doubt for each pair of arms; in files of
 * more than 2000 rows only at the pair's second coincidence, to the last digit.
 */
export const samePeopleTwice: TableCheck = (rows) => {
  const isLong = rows.length > longFile;
  const alike = new Map<string, OutcomeRow[]>();
  const matches = new Map<string, number>();
  const issues: Issue[] = [];
  for (const row of rows) {
    const people = row.nStart ?? row.nEnd;
    if (people === undefined || row.preMean === undefined) continue;
    const key = `${people}|${row.outcome}${isLong ? `|${row.preMean}|${row.preSpread}` : ""}`;
    const earlier = alike.get(key);
    if (earlier === undefined) {
      alike.set(key, [row]);
      continue;
    }
    const first = earlier.find((other) => isSameGroup(other, row));
    if (first === undefined) {
      if (!isLong) earlier.push(row);
      continue;
    }
    const pair = `${armKey(first)}\u0000${armKey(row)}`;
    const count = (matches.get(pair) ?? 0) + 1;
    matches.set(pair, count);
    if (count !== (isLong ? 2 : 1)) continue;
    issues.push(
      rowIssue(row, "preMean", "warning", {
        code: "same-people-twice",
        message: `line ${first.line} of study ${first.study} has the same number of people, means and spreads`,
        mend: "if the two papers report on the same people, give all their rows one name in cohort",
      }),
    );
  }
  return issues;
};

const isSameGroup = (one: OutcomeRow, other: OutcomeRow): boolean =>
  one.study !== other.study &&
  (one.cohort === undefined || one.cohort !== other.cohort) &&
  sharedFigures(one, other) >= figuresNeeded;
