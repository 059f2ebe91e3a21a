import type { IssueCode, Issue } from "../../errors.js";
import { familyRecord } from "../outcome-families.js";
import type { OutcomeRow } from "../outcome-row.js";
import { distance, medianOfOthers, shown } from "./peers.js";
import type { Peers } from "./peers.js";
import { grouped } from "../grouped.js";
import { noDoubts, rowIssue } from "./row-check.js";
import type { TableCheck } from "./row-check.js";

/** Before and after, people differ about as much: their coefficients of variation seldom differ by more. */
const farWithinRow = 2;
/** A coefficient of variation this many times off the other studies' is worth a look. */
const farOff = 2.2;
/** Changes differ more from study to study: controls hardly change. */
const farOffChange = 4;
/** A tenfold slip is near this far from either neighbour on the list of slips. */
const nearTen = 5.5;

type Field = "preSpread" | "postSpread" | "changeSpread" | "changePercentSpread";

/** One printed spread as a share of the mean it belongs to, the spread taken as the row states it. */
type Spread = Readonly<{
  row: OutcomeRow;
  study: string;
  field: Field;
  people: number;
  value: number;
}>;

const spreadsOf = (row: OutcomeRow): readonly Spread[] => {
  const people = row.nStart ?? row.nEnd;
  const error = row.spreadKind === "standard error";
  if (row.spreadKind === "95% interval half-width") return noDoubts;
  if (error && people === undefined) return noDoubts;
  const whole = error ? Math.sqrt(people ?? 1) : 1;
  const share = (field: Field, of: number | undefined): readonly Spread[] => {
    const spread = row[field];
    return spread === undefined || spread === 0 || of === undefined || of <= 0
      ? noDoubts
      : [{ row, study: row.study, field, people: people ?? 0, value: (spread * whole) / of }];
  };
  return [
    ...share("preSpread", row.preMean),
    ...share("postSpread", row.postMean),
    ...share("changeSpread", row.preMean ?? row.postMean),
    ...share("changePercentSpread", 100),
  ];
};

/**
 * Spreads that no group of people has: a decimal point lost, or a standard error typed as a deviation (and the
 * reverse).
 *
 * Three looks, in this order, and one doubt a row: before against after in the row itself; against the median of
 * the other studies in the outcome family, as coefficients of variation; against limits that hold for any group.
 */
export const spreadOutOfScale: TableCheck = (rows) => {
  const spreads = rows.flatMap(spreadsOf);
  const isLevel = ({ field }: Spread) => field === "preSpread" || field === "postSpread";
  const family = ({ row }: Spread) => row.outcomeFamily ?? row.outcome;
  const peers = new Map(
    [...grouped(spreads, (one) => `${family(one)}|${isLevel(one)}`)].map(([key, own]) => [
      key,
      medianOfOthers(own),
    ]),
  );
  const peersOf = (one: Spread) => peers.get(`${family(one)}|${isLevel(one)}`)?.(one.study);
  return [...grouped(spreads, ({ row }) => String(row.line)).values()].flatMap(
    (own): readonly Issue[] => {
      const levels = own.filter(isLevel);
      const within = levels.length === 2 ? withinRow(levels, peersOf) : undefined;
      if (within !== undefined) return [within];
      for (const one of own) {
        const doubt =
          againstPeers(one, peersOf(one), isLevel(one)) ?? againstLimits(one, isLevel(one));
        if (doubt !== undefined) return [doubt];
      }
      return noDoubts;
    },
  );
};

const issueAt = ({ row, field }: Spread, code: IssueCode, message: string, mend: string): Issue =>
  rowIssue(row, field, "warning", { code, message, mend });

const pointMend = "check the decimal point, and that mean and spread are in the same unit";

const withinRow = (
  [before, after]: readonly Spread[],
  peersOf: (one: Spread) => Peers | undefined,
): Issue | undefined => {
  if (before === undefined || after === undefined || before.people === 1) return undefined;
  // Where a mean has grown and its spread has not, neither way of looking alone may raise a doubt.
  const ratio = Math.exp(
    Math.min(
      distance(before.value, after.value),
      distance(before.row.preSpread ?? 1, before.row.postSpread ?? 1),
    ),
  );
  const family = familyRecord(before.row.outcomeFamily);
  // A share with a ceiling, or an outcome that can grow many times over, may change its spread as well.
  const far =
    family.canChangeManyfold || before.row.unit === "%"
      ? nearTen
      : Math.max(farWithinRow, Math.exp(1.7 / Math.sqrt(Math.max(before.people, 2) - 1)));
  if (ratio < far) return undefined;
  const peers = peersOf(before);
  const odd =
    peers === undefined
      ? after
      : distance(before.value, peers.median) > distance(after.value, peers.median)
        ? before
        : after;
  const other = odd === before ? after : before;
  const root = Math.sqrt(before.people);
  const isRoot = before.people > 1 && distance(ratio, root) < distance(ratio, 10);
  const message = `relative to the mean it is ${shown(100 * odd.value)}%, and ${shown(100 * other.value)}% ${other === before ? "before" : "after"}`;
  return isRoot
    ? issueAt(
        odd,
        "spreads-of-two-kinds",
        `${message}: apart by nearly the square root of ${before.people}, the number of people`,
        "one of the two may be a standard error and the other a standard deviation: type both as one kind",
      )
    : issueAt(odd, "spread-out-of-scale", message, pointMend);
};

const againstPeers = (
  one: Spread,
  peers: Peers | undefined,
  isLevel: boolean,
): Issue | undefined => {
  if (peers === undefined) return undefined;
  const off = distance(one.value, peers.median);
  const far = isLevel ? farOff : farOffChange;
  const percent = (value: number) => shown(100 * value);
  const told = `${percent(one.value)}% of the mean, where the ${peers.studies} other studies have ${percent(peers.median)}%`;
  const root = Math.sqrt(one.people);
  const error = one.row.spreadKind === "standard error";
  const instead = error ? one.value / root : one.value * root;
  const wrongWay = error ? one.value < peers.median : one.value > peers.median;
  if (
    one.people >= 4 &&
    !wrongWay &&
    off > Math.log(far) &&
    distance(instead, peers.median) <= 0.5 * off
  )
    return issueAt(
      one,
      error ? "deviation-for-error" : "error-for-deviation",
      `as a standard ${error ? "error" : "deviation"} it makes people differ by ${told}`,
      `check the source: is it a standard ${error ? "deviation" : "error"}? then say so in spread_kind`,
    );
  const manyfold = familyRecord(one.row.outcomeFamily).canChangeManyfold;
  if (off < Math.log(manyfold ? 2 * nearTen : nearTen)) return undefined;
  return issueAt(one, "spread-out-of-scale", `it makes people differ by ${told}`, pointMend);
};

/** Shares of the mean that no group is known to leave: wide enough that only slips fall outside. */
const againstLimits = (one: Spread, isLevel: boolean): Issue | undefined => {
  const family = familyRecord(one.row.outcomeFamily);
  const isOther = one.row.outcomeFamily === undefined || one.row.outcomeFamily === "other";
  const high = family.canChangeManyfold ? 4 : isOther ? 2 : isLevel ? 1 : 0.6;
  const low = isLevel ? (isOther ? 0.004 : 0.03) : 0.008;
  if (one.value <= high && one.value >= low) return undefined;
  return issueAt(
    one,
    "spread-out-of-scale",
    `it makes people differ by ${shown(100 * one.value)}% of the mean, where ${100 * low}% to ${100 * high}% are expected`,
    one.value < low && one.row.spreadKind !== "standard error"
      ? "check the decimal point; if it is a standard error, say so in spread_kind"
      : pointMend,
  );
};
