import type { Issue } from "../../errors.js";
import { familyRecord } from "../outcome-families.js";
import type { OutcomeRow } from "../outcome-row.js";
import { distance, measurementKey, shown } from "./peers.js";
import { grouped } from "../grouped.js";
import { armKey, noDoubts, rowIssue } from "./row-check.js";
import type { TableCheck } from "./row-check.js";

/** Groups of one trial start near each other; a pound is 2.2 times off. */
const farBetweenArms = 1.75;
const farManyfold = 6;
/** At its weeks an arm starts from the same mean, but for people who were lost in between. */
const farInArm = 0.08;

type Baseline = Readonly<{ row: OutcomeRow; mean: number }>;

/**
 * Baselines that do not fit the rest of their trial: another one than the same arm has on its other rows, or one far
 * from the other arms' for the same measurement (pounds for newtons, a decimal point lost).
 */
export const meanOutOfScale: TableCheck = (rows) => {
  const baselines = rows.flatMap((row): Baseline[] =>
    row.preMean === undefined || row.preMean <= 0 ? [] : [{ row, mean: row.preMean }],
  );
  return [...grouped(baselines, ({ row }) => measurementKey(row)).values()].flatMap(inOneTrial);
};

const inOneTrial = (trial: readonly Baseline[]): readonly Issue[] => {
  if (trial.length < 2) return noDoubts;
  const arms = [...grouped(trial, ({ row }) => armKey(row)).values()];
  // Rows of one week are of measurements that the file does not tell apart.
  if (arms.some(isSeveral)) return noDoubts;
  const usual = arms.map((own) => commonest(own.map(({ mean }) => mean)));
  const sorted = [...usual].sort((a, b) => a - b);
  const place = new Map(sorted.map((mean, i) => [mean, i]));
  return arms.flatMap((own, i) => {
    const mean = usual[i] ?? 0;
    const at = place.get(mean) ?? 0;
    return [
      ...ownDisagree(own, mean),
      ...farFromOthers(own[0], mean, sorted[at - 1], sorted[at + 1]),
    ];
  });
};

const isSeveral = (own: readonly Baseline[]): boolean =>
  new Set(own.map(({ row }) => row.weekMeasured)).size < own.length;

/** The value most rows have; the first of several. */
const commonest = (values: readonly number[]): number => {
  const counts = new Map<number, number>();
  for (const value of values) counts.set(value, (counts.get(value) ?? 0) + 1);
  return [...counts].reduce((best, one) => (one[1] > best[1] ? one : best))[0];
};

const ownDisagree = (own: readonly Baseline[], usual: number): readonly Issue[] =>
  own
    // Fewer people may be left at a later week, and the mean before is then of those.
    .filter(({ mean }) => distance(mean, usual) > farInArm)
    // Two rows that disagree are told at the second.
    .slice(own.length === 2 ? -1 : 0)
    .map(({ row }) =>
      rowIssue(row, "preMean", "warning", {
        code: "baselines-disagree",
        message: `the arm's other rows of this measurement have ${shown(usual)} before training`,
        mend: "check pre_mean, and that before and after are not swapped; other people or another test are another arm, method or angle",
      }),
    );

/** An arm nearby vouches for another; the odd one has none. Of two arms apart only one can be told: the higher. */
const farFromOthers = (
  first: Baseline | undefined,
  mean: number,
  below: number | undefined,
  above: number | undefined,
): readonly Issue[] => {
  if (first === undefined || (below === undefined && above === undefined)) return noDoubts;
  const manyfold = familyRecord(first.row.outcomeFamily).canChangeManyfold;
  const far = Math.log(manyfold ? farManyfold : farBetweenArms);
  const [low, high] = [below, above].map((other) =>
    other === undefined ? Infinity : distance(mean, other),
  ) as [number, number];
  if (Math.min(low, high) < far) return noDoubts;
  const nearest = (low <= high ? below : above) ?? mean;
  return [
    rowIssue(first.row, "preMean", "warning", {
      code: "mean-out-of-scale",
      message: `before training this arm has ${shown(mean)} and the trial's nearest other arm ${shown(nearest)}, ${shown(Math.exp(Math.min(low, high)))} times apart`,
      mend: "check the decimal point and the unit of this arm: pounds, kilograms and newtons may be mixed",
    }),
  ];
};
