import type { Cells } from "./abstract-numbers.js";
import type { FieldName } from "./codebook.js";
import { codebookSections, columnOf, fieldNames, fieldOf } from "./codebook.js";
import { outcomeFields } from "./outcome-fields.js";
import { numberFields } from "./number-fields.js";
import { prescriptionFields } from "./prescription-fields.js";

/** A trial as it is typed in: what all its arms share, each arm, each outcome, and the numbers of each arm in each. */
export type TrialEntry = Readonly<{
  trial: Cells;
  arms: readonly Cells[];
  outcomes: readonly Cells[];
  /** By arm, then by outcome. */
  numbers: readonly (readonly Cells[])[];
}>;

/** The parts of an entry, each with the fields that matter first and the rest, which fold. */
export type EntryPart = keyof TrialEntry;
type PartFields = Readonly<{
  first: readonly FieldName[];
  rest: readonly Readonly<{ title: string; fields: readonly FieldName[] }>[];
}>;

const isNumber = (name: FieldName): boolean => name in numberFields;
const isOutcome = (name: FieldName): boolean => name in outcomeFields;
const isOfArm = (name: FieldName): boolean => fieldOf(name).level === "arm";

const part = (first: readonly FieldName[], holds: (name: FieldName) => boolean): PartFields => ({
  first,
  rest: codebookSections.flatMap(({ title, fields }) => {
    const own = (Object.keys(fields) as FieldName[]).filter(
      (name) => holds(name) && !first.includes(name),
    );
    return own.length === 0 ? [] : [{ title, fields: own }];
  }),
});

const ofEachArm: readonly FieldName[] = [
  ...["arm", "armKind", "nEnd", "intensityPercent", "holdSeconds"],
  ...["repetitions", "sets", "restBetweenRepetitionsSeconds", "restBetweenSetsSeconds"],
  ...["trainingAngleDegrees", "muscleLength"],
] as readonly FieldName[];

/** Fields of each part of an entry. An arm's field that stands in the trial's part is meant for every arm. */
export const entryFields: Readonly<Record<EntryPart, PartFields>> = {
  trial: part(
    ["study", "design", "muscleGroup", "femalePercent", "sessionsPerWeek", "weeks"],
    (name) => !isNumber(name) && !isOutcome(name) && !ofEachArm.slice(0, 3).includes(name),
  ),
  arms: part(ofEachArm, (name) => isOfArm(name)),
  outcomes: part(["outcome", "outcomeFamily", "unit", "testMode", "spreadKind"], isOutcome),
  numbers: part(
    ["preMean", "preSpread", "postMean", "postSpread", "changePercentMean", "pValue"],
    (name) => isNumber(name) && name !== "spreadKind",
  ),
};

/** A trial with two arms and one outcome, and nothing typed. */
export const blankEntry: TrialEntry = {
  trial: {},
  arms: [{}, {}],
  outcomes: [{}],
  numbers: [[{}], [{}]],
};

const filled = (cells: Cells): readonly (readonly [FieldName, string])[] =>
  (Object.entries(cells) as [FieldName, string][]).filter(([, text]) => text.trim() !== "");

/** Whether anything was typed. */
export const isBlankEntry = ({ trial, arms, outcomes, numbers }: TrialEntry): boolean =>
  [trial, ...arms, ...outcomes, ...numbers.flat()].every((cells) => filled(cells).length === 0);

/** Rows for a file in the codebook's columns, and which arm and outcome each is of. */
export type EntryRows = Readonly<{
  header: readonly string[];
  rows: readonly (readonly string[])[];
  of: readonly Readonly<{ arm: number; outcome: number }>[];
}>;

/**
 * The rows of an entry: one for each arm and outcome with a number. What the arms share stands on all of them, but for the
 * prescription of an arm without exercise, which keeps the weeks alone; an arm's own cell goes before the shared one.
 *
 * @source none: bookkeeping
 */
export const entryRows = ({ trial, arms, outcomes, numbers }: TrialEntry): EntryRows => {
  const rows = arms.flatMap((arm, a) =>
    outcomes.flatMap((outcome, o) => {
      const own = filled(numbers[a]?.[o] ?? {});
      if (own.length === 0) return [];
      const shared = filled(trial).filter(
        ([name]) =>
          arm.armKind !== "no exercise" || name === "weeks" || !(name in prescriptionFields),
      );
      const cells: Cells = Object.fromEntries([
        ...shared,
        ...filled(arm),
        ...filled(outcome),
        ...own,
      ]);
      return [{ cells, of: { arm: a, outcome: o } }];
    }),
  );
  const names = fieldNames.filter(
    (name) => fieldOf(name).required === true || rows.some(({ cells }) => name in cells),
  );
  return {
    header: names.map(columnOf),
    rows: rows.map(({ cells }) => names.map((name) => cells[name]?.trim() ?? "")),
    of: rows.map((row) => row.of),
  };
};
