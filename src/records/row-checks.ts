import type { Issue, Note } from "../errors.js";
import { angleFitsConvention } from "./checks/angle-fits-convention.js";
import { armIdsReused } from "./checks/arm-ids-reused.js";
import { changeIsDifference } from "./checks/change-is-difference.js";
import { familyAndOutcome } from "./checks/family-and-outcome.js";
import { fractionForPercentage } from "./checks/fraction-for-percentage.js";
import { meanOutOfScale } from "./checks/mean-out-of-scale.js";
import { peopleOutOfScale } from "./checks/people-out-of-scale.js";
import { armsOutOfScale, prescriptionOutOfScale } from "./checks/prescription-out-of-scale.js";
import { spreadAgainstTest } from "./checks/spread-against-test.js";
import { spreadOutOfScale } from "./checks/spread-out-of-scale.js";
import { afterIsBefore } from "./checks/after-is-before.js";
import { againstTraining } from "./checks/against-training.js";
import { holdBeyondEndurance } from "./checks/hold-beyond-endurance.js";
import { idsAlike } from "./checks/ids-alike.js";
import { impliedMean } from "./checks/implied-mean.js";
import { intensityBasisFits } from "./checks/intensity-basis-fits.js";
import { intervalHoldsMean } from "./checks/interval-holds-mean.js";
import { levelsAgree } from "./checks/levels-agree.js";
import { orderOfEnds } from "./checks/order-of-ends.js";
import { peopleLostAndFound } from "./checks/people-lost-and-found.js";
import { rowIssue } from "./checks/row-check.js";
import type { RowCheck, TableCheck } from "./checks/row-check.js";
import { samePeopleTwice } from "./checks/same-people-twice.js";
import { sharedCohorts } from "./checks/shared-cohorts.js";
import { signOfStatistic } from "./checks/sign-of-statistic.js";
import { unitSlips } from "./checks/unit-slips.js";
import { zeroSpread } from "./checks/zero-spread.js";
import { doubtNames, isDoubtName } from "./doubt-names.js";
import { nearestWord } from "../protocol/nearest-word.js";
import type { OutcomeRow } from "./outcome-row.js";

/** Every doubt the reader has about a row by itself; a new check is one file and one line here. */
export const rowChecks: readonly RowCheck[] = [
  orderOfEnds,
  intervalHoldsMean,
  zeroSpread,
  peopleLostAndFound,
  holdBeyondEndurance,
  intensityBasisFits,
  angleFitsConvention,
  changeIsDifference,
  impliedMean,
  signOfStatistic,
  unitSlips,
  afterIsBefore,
  fractionForPercentage,
  familyAndOutcome,
  prescriptionOutOfScale,
  spreadAgainstTest,
];

/** Every doubt about rows against each other. */
export const tableChecks: readonly TableCheck[] = [
  idsAlike,
  levelsAgree,
  samePeopleTwice,
  spreadOutOfScale,
  meanOutOfScale,
  againstTraining,
  armsOutOfScale,
  peopleOutOfScale,
];

/** What the rows together tell that is no fault of any one of them. */
const rowNotes: readonly ((rows: readonly OutcomeRow[]) => readonly Note[])[] = [
  armIdsReused,
  sharedCohorts,
];

/** Names that a row's cell confirmed holds. */
const confirmedOf = (row: OutcomeRow): readonly string[] =>
  (row.confirmed ?? "")
    .split("/")
    .map((name) => name.trim())
    .filter((name) => name !== "");

const unknownDoubt = (row: OutcomeRow, name: string): Issue => {
  const near = nearestWord(name, doubtNames);
  return rowIssue(row, "confirmed", "warning", {
    code: "unknown-doubt",
    message: `no check is called "${name}"`,
    mend:
      near === undefined
        ? "write the name of the doubt as holdbook check prints it"
        : `did you mean ${near}?`,
  });
};

/** All doubts about the rows; those that whoever entered the row has confirmed stand apart. */
export const checkRows = (
  rows: readonly OutcomeRow[],
): Readonly<{
  issues: readonly Issue[];
  confirmed: readonly Issue[];
  notes: readonly Note[];
}> => {
  const raised: Issue[] = [];
  const cells = new Map<number, readonly string[]>();
  for (const row of rows) {
    for (const check of rowChecks) for (const issue of check(row)) raised.push(issue);
    if (row.confirmed === undefined) continue;
    const names = confirmedOf(row);
    cells.set(row.line, names);
    for (const name of names) if (!isDoubtName(name)) raised.push(unknownDoubt(row, name));
  }
  for (const check of tableChecks) for (const issue of check(rows)) raised.push(issue);
  // Only a doubt can be taken back; what refuses a row must be mended.
  const isConfirmed = ({ severity, line, code }: Issue) =>
    severity === "warning" && cells.get(line)?.includes(code) === true;
  return {
    issues: cells.size === 0 ? raised : raised.filter((issue) => !isConfirmed(issue)),
    confirmed: cells.size === 0 ? [] : raised.filter(isConfirmed),
    notes: rowNotes.flatMap((notesOf) => notesOf(rows)),
  };
};
