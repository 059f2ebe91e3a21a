import { median, medianSorted } from "simple-statistics";
import type { Issue } from "../../errors.js";
import type { OutcomeRow } from "../outcome-row.js";
import { grouped, noDoubts, rowIssue } from "./row-check.js";
import type { TableCheck } from "./row-check.js";

/** Fewest other studies that make a family of peers. */
const peersNeeded = 3;
/** A coefficient of variation this many times off its peers' median is worth a look. */
const farOff = 2.5;

type Spread = Readonly<{ row: OutcomeRow; people: number; variation: number }>;

/**
 * Coefficient of variation at baseline with the spread taken as the row states it: a standard error is
 * first multiplied by √n.
 */
const spreadOf = (row: OutcomeRow): Spread | undefined => {
  const people = row.nStart ?? row.nEnd;
  const { preMean, preSpread, spreadKind } = row;
  if (people === undefined || people < 4 || preMean === undefined || preSpread === undefined) {
    return undefined;
  }
  if (preMean <= 0 || preSpread <= 0 || spreadKind === "95% interval half-width") return undefined;
  const deviation = spreadKind === "standard error" ? preSpread * Math.sqrt(people) : preSpread;
  return { row, people, variation: deviation / preMean };
};

/**
 * Standard errors that look like deviations, and the reverse.
 *
 * Each baseline's coefficient of variation is compared with the median of the other studies in its
 * outcome family. Far below them, and near them once multiplied by √n, a "deviation" looks like a
 * standard error; far above them, and near them once divided by √n, an "error" looks like a deviation.
 * Within one row, spreads before and after in the ratio √n give the same doubt.
 */
export const errorOrDeviation: TableCheck = (rows) => {
  const spreads = rows.map(spreadOf).filter((spread) => spread !== undefined);
  const families = grouped(spreads, ({ row }) => row.outcomeFamily ?? row.outcome);
  return [...[...families.values()].flatMap(againstPeers), ...spreads.flatMap(withinRow)].sort(
    (a, b) => a.line - b.line,
  );
};

const againstPeers = (family: readonly Spread[]): Issue[] => {
  const byStudy = grouped(family, ({ row }) => row.study);
  if (byStudy.size <= peersNeeded) return [];
  // One study, one voice: its median, so that a paper with forty rows does not outvote the others.
  const voices = [...byStudy.values()].map((own) => median(own.map(({ variation }) => variation)));
  const order = [...voices.keys()].sort((i, j) => (voices[i] ?? 0) - (voices[j] ?? 0));
  const sorted = order.map((i) => voices[i] ?? 0);
  const rank = new Map(order.map((i, place) => [i, place]));
  return [...byStudy.values()].flatMap((own, i) => {
    const peers = medianSorted(sorted.toSpliced(rank.get(i) ?? 0, 1));
    return own.flatMap((spread) => doubt(spread, peers, byStudy.size - 1));
  });
};

const distance = (one: number, other: number): number => Math.abs(Math.log(one / other));

const doubt = (
  { row, people, variation }: Spread,
  peers: number,
  studies: number,
): readonly Issue[] => {
  const root = Math.sqrt(people);
  const statedError = row.spreadKind === "standard error";
  const instead = statedError ? variation / root : variation * root;
  const off = statedError ? variation / peers : peers / variation;
  if (off < farOff || distance(instead, peers) > 0.5 * distance(variation, peers)) return noDoubts;
  const percent = (value: number) => Number((100 * value).toPrecision(2));
  return [
    rowIssue(row, "preSpread", "warning", {
      code: statedError ? "deviation-for-error" : "error-for-deviation",
      message:
        `${statedError ? "as a standard error" : "as a standard deviation"} it makes a coefficient of variation of ` +
        `${percent(variation)} %, where the ${studies} other studies have ${percent(peers)} %`,
      mend: `check the source: is it a ${statedError ? "standard deviation" : "standard error"}? then say so in spread_kind`,
    }),
  ];
};

const withinRow = ({ row, people }: Spread): readonly Issue[] => {
  const { preSpread, postSpread } = row;
  if (preSpread === undefined || postSpread === undefined || postSpread === 0 || people < 6)
    return noDoubts;
  const ratio = distance(preSpread, postSpread);
  if (Math.abs(ratio - Math.log(Math.sqrt(people))) > 0.02) return noDoubts;
  return [
    rowIssue(row, "postSpread", "warning", {
      code: "spreads-of-two-kinds",
      message: `pre_spread and post_spread differ by the square root of ${people}, the number of people`,
      mend: "one of them may be a standard error and the other a standard deviation",
    }),
  ];
};
