/** How the verdict on a statement moves when what stands behind it is chosen otherwise. */
import { statementVerdict } from "../certainty/statement-verdict.js";
import type { Way } from "../certainty/sweep.js";
import { CallError } from "../errors.js";
import { folded, type Table } from "../tables/table.js";
import type { Evidence } from "./evidence.js";
import type { StatementReading } from "./statement-form.js";
import { groundOf, type StatementChoices, type Tested } from "./statement-ground.js";
import { askingOf, testedStatement } from "./statement-tested.js";
import { trialsOn, type JudgedStatement } from "./statements-shown.js";
import { chosenWay, notChances, sweptChoices } from "./swept-choices.js";
import {
  extremesWords,
  turnedCells,
  turnedColumns,
  turnedVerdict,
  type TurnedVerdict,
} from "./swept-verdicts.js";

/** What of a statement its sweep needs, as plain data. */
export type StatementToSweep = Readonly<{
  /** Its place among the statements. */
  place: number;
  reading: StatementReading;
  /** What of it can be settled: an average or a dose; undefined where neither can. */
  settle: NonNullable<Tested["settle"]>["on"] | undefined;
  /** The coverage at which its verdict was given. */
  confidence: number;
}>;

/** What can be asked otherwise of a statement; undefined for what has no interval of this file. */
export const toSweep = (
  { read: { reading }, tested, judged }: JudgedStatement,
  place: number,
): StatementToSweep | undefined =>
  reading === undefined || judged === undefined || tested?.isFixed === true
    ? undefined
    : { place, reading, settle: tested?.settle?.on, confidence: judged.confidence };

/**
 * The verdict with one choice at a time made otherwise and at the two extremes, each judged at the coverage it was given
 * at; undefined where nothing is left to turn.
 */
export const sweptStatement = (
  evidence: Evidence,
  { reading, settle, confidence }: StatementToSweep,
  options: StatementChoices,
): TurnedVerdict | undefined => {
  const asking = askingOf(evidence, reading, options);
  const ground = groundOf(asking, "", 0);
  if (!("group" in ground)) return undefined;
  // Only averages have an estimator, and only averages and doses are of what belongs in a headline.
  const choices = sweptChoices(evidence, ground.group, asking.options, settle === "average").filter(
    ({ levels }) => settle !== undefined || levels.every(({ wide }) => !wide),
  );
  const known = new Map<string, Tested | undefined>();
  const at = (way: Way): Tested | undefined => {
    const key = way.join();
    if (!known.has(key)) {
      const { options: own, keep, wide } = chosenWay(choices, way, asking.options);
      const left = keep === undefined ? evidence : { ...evidence, keeps: keep };
      try {
        known.set(key, testedStatement({ ...asking, evidence: left, options: own, wide }));
      } catch (error) {
        if (!(error instanceof CallError)) throw error;
        known.set(key, undefined);
      }
    }
    return known.get(key);
  };
  return turnedVerdict(
    choices,
    (way) => {
      const own = at(way);
      return own === undefined
        ? "not testable with this file"
        : statementVerdict({
            ...own,
            side: own.side?.(confidence),
            forIt: trialsOn({ tested: own }, "inside").length,
            againstIt: trialsOn({ tested: own }, "outside").length,
          });
    },
    (way) => at(way)?.estimate,
  );
};

type Swept = JudgedStatement & Readonly<{ swept: TurnedVerdict }>;

/** Every statement that could be asked otherwise. */
export const sweptTable = (all: readonly JudgedStatement[]): readonly Table[] => {
  const told = all.filter((one): one is Swept => one.swept !== undefined);
  return told.length === 0
    ? []
    : [
        folded({
          id: "statement-sweep",
          title: "Verdicts on statements under other choices",
          columns: [{ key: "statement", label: "Statement", align: "left" }, ...turnedColumns],
          rows: told.map(({ read, swept }) => ({
            statement: read.statement,
            ...turnedCells(swept),
          })),
          notes: [
            extremesWords,
            "Each is judged at the coverage that the whole list of statements gave it.",
            notChances,
          ],
        }),
      ];
};
