import type { OutcomeRow } from "../records/outcome-row.js";

/** What two rows must share to be the same test: compared one by one, a blank fitting anything. */
const testFields = [
  "method",
  "unit",
  "testMode",
  "testAngleDegrees",
  "testSitePercent",
  "testSide",
  "weekMeasured",
] as const;

/**
 * Words of a cell, without the accidents of typing.
 *
 * @source none: convention of this project
 */
export const sameWords = (text: string | number | undefined): string =>
  String(text ?? "")
    .trim()
    .toLowerCase()
    .replace(/\s+/g, " ");

/**
 * How well another arm's row matches a row as the same test: undefined when it does not, else how many
 * of the fields agree outright (the rest are blank in one of the two).
 *
 * The side tested is not compared when the arms are the limbs of the same people.
 *
 * @source none: convention of this project
 */
export const testMatch = (row: OutcomeRow, other: OutcomeRow): number | undefined => {
  if (sameWords(row.outcome) !== sameWords(other.outcome)) return undefined;
  let agreeing = 0;
  for (const field of testFields) {
    if (field === "testSide" && row.design === "within-person limbs") continue;
    const own = row[field];
    const its = other[field];
    if (own === undefined && its === undefined) agreeing += 1;
    else if (own === undefined || its === undefined) continue;
    else if (sameWords(own) === sameWords(its)) agreeing += 1;
    else return undefined;
  }
  return agreeing;
};

/**
 * Arms a row's arm is named the comparator of.
 *
 * @source none: convention of this project
 */
export const comparatorNames = (row: OutcomeRow): readonly string[] =>
  row.comparatorOf === undefined
    ? []
    : [sameWords(row.comparatorOf), ...row.comparatorOf.split(/\s+\/\s+/).map(sameWords)];

/**
 * Whether a row's arm may serve as no-exercise control of another row's arm in the same study.
 *
 * @source none: convention of this project
 */
export const isControlFor = (candidate: OutcomeRow, row: OutcomeRow): boolean => {
  if (candidate.arm === row.arm) return false;
  const named = comparatorNames(candidate);
  if (named.length > 0 && !named.includes(sameWords(row.arm))) return false;
  return (
    candidate.armKind === "no exercise" || (candidate.armKind === undefined && named.length > 0)
  );
};

/**
 * Whether a row's arm trained.
 *
 * @source none: convention of this project
 */
export const isTraining = (row: OutcomeRow): boolean =>
  row.armKind === "isometric" ||
  row.armKind === "dynamic" ||
  row.armKind === "other exercise" ||
  (row.armKind === undefined && row.comparatorOf === undefined);

const text = (a: string, b: string): number => (a < b ? -1 : a > b ? 1 : 0);

/**
 * Order in which training arms serve as reference: other kinds of exercise before isometric arms, then
 * less prescribed effort, shorter holds, fewer repetitions, and the arm's id.
 *
 * @source none: convention of this project, so that a positive effect favours the heavier prescription
 */
export const referenceOrder = (first: OutcomeRow, second: OutcomeRow): number => {
  const rank = (row: OutcomeRow): number =>
    row.armKind === "isometric" || row.armKind === undefined ? 1 : 0;
  const least = (value: number | undefined): number => value ?? Number.MAX_VALUE;
  return (
    rank(first) - rank(second) ||
    least(first.intensityPercent) - least(second.intensityPercent) ||
    least(first.holdSeconds) - least(second.holdSeconds) ||
    least(first.repetitions) - least(second.repetitions) ||
    text(first.arm, second.arm)
  );
};

/**
 * The best matching row among candidates: most fields alike, then by `prefer`, arm and line.
 *
 * @source none: convention of this project
 */
export const bestMatch = (
  row: OutcomeRow,
  candidates: readonly OutcomeRow[],
  prefer: (first: OutcomeRow, second: OutcomeRow) => number,
): Readonly<{ row: OutcomeRow; otherArms: readonly string[] }> | undefined => {
  const matches = candidates
    .map((candidate) => ({ candidate, score: testMatch(row, candidate) }))
    .filter((match): match is { candidate: OutcomeRow; score: number } => match.score !== undefined)
    .sort(
      (a, b) =>
        prefer(a.candidate, b.candidate) ||
        b.score - a.score ||
        text(a.candidate.arm, b.candidate.arm) ||
        a.candidate.line - b.candidate.line,
    );
  const [best] = matches;
  if (best === undefined) return undefined;
  const arms = new Set(matches.map((match) => match.candidate.arm));
  arms.delete(best.candidate.arm);
  return { row: best.candidate, otherArms: [...arms].sort() };
};
