import type { OutcomeRow } from "../records/outcome-row.js";
import type { ResolvedEffectsOptions } from "./effects-options.js";
import type { PeopleOf } from "./people-of-rows.js";
import {
  bestMatch,
  comparatorNames,
  isControlFor,
  isTraining,
  referenceOrder,
  sameWords,
  testMatch,
} from "./match-comparator.js";

/** A row that may give an effect, with its comparator where the contrast has one. */
export type Candidate = Readonly<{
  treated: OutcomeRow;
  comparator?: OutcomeRow;
  /** Other arms that could have served as comparator. */
  otherComparators: readonly string[];
}>;

/** Candidates for effects, and for every row that is none the reason. */
export type Candidates = Readonly<{
  candidates: readonly Candidate[];
  /** Why a row gives no effect of its own. */
  reasons: ReadonlyMap<OutcomeRow, string>;
}>;

/** Why a row is not wanted at all, or undefined when it is. */
const unwanted = (row: OutcomeRow, options: ResolvedEffectsOptions): string | undefined => {
  if (options.outcomeFamilies !== undefined) {
    const family = row.outcomeFamily;
    if (family === undefined)
      return "its outcome family is not coded and certain families were asked for";
    if (!options.outcomeFamilies.includes(family))
      return `outcome family "${family}" was not asked for`;
  }
  if (row.weekMeasured === 0) return "it was measured in week 0, before any training";
  return undefined;
};

const notTreated = (row: OutcomeRow, options: ResolvedEffectsOptions): string | undefined => {
  const kind = row.armKind ?? (row.comparatorOf === undefined ? "isometric" : "no exercise");
  if (kind === "no exercise" && options.contrast.startsWith("against")) {
    return `no usable row of a training arm in the study has this ${options.contrast === "against-control" ? "control" : "limb"} beside it in the same outcome, angle, site, side and week`;
  }
  if (!options.armKinds.includes(kind)) {
    return `arm kind "${kind}" is not among those whose effect was asked for (${options.armKinds.join(", ")})`;
  }
  const side = row.testSide ?? "trained";
  if (!options.testSides.includes(side)) {
    return `the ${side} side was tested, which was not asked for`;
  }
  return undefined;
};

/**
 * The rows that may give an effect under the contrast asked for, each with its comparator's row.
 *
 * @param rows  all rows of the file
 * @param peopleOf  who stands behind each row
 * @param options  resolved options
 * @returns candidates in the order of the rows, and why the others are none
 * @source none: convention of this project
 */
export const effectCandidates = (
  rows: readonly OutcomeRow[],
  peopleOf: PeopleOf,
  options: ResolvedEffectsOptions,
): Candidates => {
  const candidates: Candidate[] = [];
  const reasons = new Map<OutcomeRow, string>();
  const wanted: OutcomeRow[] = [];
  for (const row of rows) {
    const reason = unwanted(row, options);
    if (reason === undefined) wanted.push(row);
    else reasons.set(row, reason);
  }
  const sameTest = new Map<string, OutcomeRow[]>();
  const keyOf = (row: OutcomeRow): string => JSON.stringify([row.study, sameWords(row.outcome)]);
  for (const row of wanted) {
    const together = sameTest.get(keyOf(row));
    if (together === undefined) sameTest.set(keyOf(row), [row]);
    else together.push(row);
  }
  for (const row of wanted) {
    const reason = notTreated(row, options);
    if (reason !== undefined) {
      reasons.set(row, reason);
      continue;
    }
    if (options.contrast === "change-within-arm") {
      candidates.push({ treated: row, otherComparators: [] });
      continue;
    }
    const others = sameTest.get(keyOf(row)) ?? [];
    const isOtherLimb = (other: OutcomeRow): boolean =>
      row.design !== "crossover" && peopleOf(other) === peopleOf(row);
    const found =
      options.contrast === "between-arms"
        ? betweenArms(row, others, options.armPairs)
        : against(row, others, options.contrast, isOtherLimb);
    if (found.length === 0) {
      reasons.set(row, noComparator(options.contrast, row, others, isOtherLimb));
    }
    candidates.push(...found);
  }
  return { candidates, reasons };
};

const noComparator = (
  contrast: ResolvedEffectsOptions["contrast"],
  row: OutcomeRow,
  others: readonly OutcomeRow[],
  isOtherLimb: (other: OutcomeRow) => boolean,
): string => {
  const test = "the same outcome, angle, site, side and week";
  if (contrast === "against-other-limb") {
    return `no untrained limb of the same people was measured in ${test}`;
  }
  if (contrast === "against-control") {
    return against(row, others, "against-other-limb", isOtherLimb).length > 0
      ? "its comparator is the other limb of the same people, which may gain too; its effect belongs to the contrast against the person's other limb"
      : `no no-exercise arm of other people in the study was measured in ${test}`;
  }
  const reference = others.some((other) => isTraining(other) && other.arm !== row.arm);
  return reference
    ? "it is the reference its study's other training arms are compared with, or only differs from them in what was tested"
    : `no other training arm of the study was measured in ${test}`;
};

/** The row against people, or the other limb of the same people, who did not train. */
const against = (
  row: OutcomeRow,
  others: readonly OutcomeRow[],
  contrast: "against-control" | "against-other-limb",
  isOtherLimb: (other: OutcomeRow) => boolean,
): readonly Candidate[] => {
  const limbs = contrast === "against-other-limb";
  const serves = (other: OutcomeRow): boolean =>
    isControlFor(other, row) || (limbs && isOtherSide(other, row));
  const named = (other: OutcomeRow): number =>
    comparatorNames(other).includes(sameWords(row.arm)) ? 0 : 1;
  const { testSide: _side, ...eitherSide } = row;
  const best = bestMatch(
    limbs ? eitherSide : row,
    others.filter((other) => serves(other) && isOtherLimb(other) === limbs),
    (first, second) => named(first) - named(second),
  );
  if (best !== undefined) {
    return [{ treated: row, comparator: best.row, otherComparators: best.otherArms }];
  }
  // A printed difference needs no comparator row of its own when it is already an effect; whom it compares with is
  // then told by the design.
  const comparesLimbs = isOtherLimb({ ...row, arm: "", armKind: "no exercise" });
  return row.statisticOf === "difference from comparator" && comparesLimbs === limbs
    ? [{ treated: row, otherComparators: [] }]
    : [];
};

/** Whether a row is the same arm's untrained side, beside the trained one. */
const isOtherSide = (other: OutcomeRow, row: OutcomeRow): boolean =>
  other.arm === row.arm && other.testSide === "untrained" && row.testSide !== "untrained";

const betweenArms = (
  row: OutcomeRow,
  others: readonly OutcomeRow[],
  armPairs: ResolvedEffectsOptions["armPairs"],
): readonly Candidate[] => {
  const training = others.filter((other) => other.arm !== row.arm && isTraining(other));
  const lower = training.filter((other) => referenceOrder(other, row) < 0);
  if (armPairs === "against-one-reference") {
    // The reference is named by the coder, else comes first of all the arms that had this test.
    const named = training.filter((other) => comparatorNames(other).includes(sameWords(row.arm)));
    const isNamedReference =
      comparatorNames(row).length > 0 &&
      training.some((other) => testMatch(row, other) !== undefined);
    if (named.length === 0 && isNamedReference) return [];
    const best = bestMatch(row, named.length > 0 ? named : lower, referenceOrder);
    return best === undefined ? [] : [{ treated: row, comparator: best.row, otherComparators: [] }];
  }
  const arms = [...new Set(lower.map((other) => other.arm))].sort();
  return arms.flatMap((arm) => {
    const best = bestMatch(
      row,
      lower.filter((other) => other.arm === arm),
      referenceOrder,
    );
    return best === undefined ? [] : [{ treated: row, comparator: best.row, otherComparators: [] }];
  });
};
