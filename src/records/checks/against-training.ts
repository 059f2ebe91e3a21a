import type { Issue } from "../../errors.js";
import { higherIs } from "../outcome-families.js";
import type { OutcomeRow } from "../outcome-row.js";
import { isTrained, medianOfOthers, shown } from "./peers.js";
import { grouped } from "../grouped.js";
import { noDoubts, rowIssue } from "./row-check.js";
import type { TableCheck } from "./row-check.js";

/** A fall of this share of the others' rise is more than chance around a small gain. */
const shareOfRise = 0.25;
/** In small arms chance is larger: this share divided by the root of the people. */
const chance = 1.2;
/** Rise reckoned with where too few other studies tell, or they hardly rose. */
const leastRise = 0.06;

type Change = Readonly<{ row: OutcomeRow; study: string; value: number }>;

/** Log ratio of after to before, in the direction that counts as better; undefined where no size is printed. */
const betterBy = (row: OutcomeRow): number | undefined => {
  const way = higherIs(row) === "worse" ? -1 : 1;
  const { preMean, postMean, changePercentMean, changeMean } = row;
  if (preMean !== undefined && postMean !== undefined)
    return preMean > 0 && postMean > 0 ? way * Math.log(postMean / preMean) : undefined;
  if (changePercentMean !== undefined && changePercentMean > -100)
    return way * Math.log(1 + changePercentMean / 100);
  const base = preMean ?? postMean;
  return changeMean === undefined || base === undefined || base + changeMean <= 0 || base <= 0
    ? undefined
    : way * Math.log((base + changeMean) / base);
};

/** Where only a sign is printed: whether it says that the outcome got worse. */
const signSaysWorse = (row: OutcomeRow): boolean => {
  const way = higherIs(row) === "worse" ? -1 : 1;
  const { changeMean, tValue, intervalLow, intervalHigh, direction } = row;
  if (changeMean !== undefined) return way * changeMean < 0;
  if (tValue !== undefined) return way * tValue < -1;
  if (intervalLow !== undefined && intervalHigh !== undefined)
    return way * (intervalLow + intervalHigh) < 0;
  return direction !== undefined && (direction === "decrease") === way > 0;
};

/** Arms that trained and got worse where training makes better: numbers swapped, or a sign turned. */
export const againstTraining: TableCheck = (rows) => {
  const trained = rows.filter((row) => isTrained(row) && row.outcomeFamily !== "other");
  const changes = trained.flatMap((row): Change[] => {
    const value = betterBy(row);
    return value === undefined ? [] : [{ row, study: row.study, value }];
  });
  const told = new Set(changes.map(({ row }) => row));
  return [
    ...[...grouped(changes, ({ row }) => row.outcomeFamily ?? row.outcome).values()].flatMap(
      inFamily,
    ),
    ...trained.filter((row) => !told.has(row) && signSaysWorse(row)).map((row) => worse(row, "")),
  ];
};

/** Tested far from where it trained, an arm may lose a little. */
const isElsewhere = ({
  testAngleDegrees: test,
  trainingAngleDegrees: angles,
}: OutcomeRow): boolean =>
  test !== undefined &&
  angles !== undefined &&
  angles.every((angle) => Math.abs(angle - test) > 20);

const inFamily = (changes: readonly Change[]): readonly Issue[] => {
  const others = medianOfOthers(changes);
  return changes.flatMap(({ row, study, value }): readonly Issue[] => {
    const peers = others(study);
    const rise = Math.max(peers?.median ?? 0, leastRise);
    const people = row.nEnd ?? row.nStart ?? 10;
    const share = Math.max(shareOfRise, chance / Math.sqrt(people)) * (isElsewhere(row) ? 2 : 1);
    if (value >= -share * rise) return noDoubts;
    const percent = (log: number) => `${shown(100 * Math.abs(Math.expm1(log)))}%`;
    const rest =
      peers === undefined
        ? ""
        : `, where the ${peers.studies} other studies changed by ${percent(peers.median)} for the better`;
    return [worse(row, ` by ${percent(value)}${rest}`)];
  });
};

const worse = (row: OutcomeRow, by: string): Issue =>
  rowIssue(
    row,
    row.postMean !== undefined
      ? "postMean"
      : row.changePercentMean !== undefined
        ? "changePercentMean"
        : row.changeMean !== undefined
          ? "changeMean"
          : row.tValue !== undefined
            ? "tValue"
            : row.intervalLow !== undefined
              ? "intervalLow"
              : "direction",
    "warning",
    {
      code: "against-training",
      message: `the arm trained and its outcome got worse${by}`,
      mend: "check that before and after are not swapped and the sign not turned; if it is so, write against-training into confirmed",
    },
  );
