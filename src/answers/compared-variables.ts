/** In what two arms of a study differ: every variable of a prescription, what follows from it, what is not coded. */
import { doseAxes, doseAxisNames, doseOf, type DoseAxisName } from "../dose/dose-axes.js";
import type { OutcomeRow } from "../records/outcome-row.js";
import { shownDose } from "../tables/shown-dose.js";
import { movingKindOf, trainingOf, workCompared } from "./moving-arms.js";

/** Categories of a prescription in the order they are set against each other, the plainer first. */
const categories = {
  continuity: {
    words: ["intermittent", "continuous"],
    valueOf: ({ repetitions }: OutcomeRow) =>
      repetitions === undefined ? undefined : repetitions === 1 ? "continuous" : "intermittent",
  },
  muscleLength: {
    words: ["short", "middle", "long"],
    valueOf: ({ muscleLength }: OutcomeRow) => muscleLength,
  },
  effortIntent: {
    words: ["ramped and sustained", "as fast as possible", "to failure"],
    valueOf: ({ effortIntent }: OutcomeRow) => effortIntent,
  },
  action: {
    words: ["pushing against a fixed stop", "holding a load"],
    valueOf: ({ action }: OutcomeRow) => action,
  },
} as const satisfies Partial<Record<DoseAxisName, unknown>>;
type Category = keyof typeof categories;

/** Where two arms differ and nothing of the codebook says in what. */
export const notCoded = "notCoded";

/** Whether an arm held or moved; asked about by a question of its own. */
export const movement = "movement";

export type ComparedVariable = DoseAxisName | typeof notCoded | typeof movement;

/** What is compared unless variables are named, in the order people meet them in a prescription. */
export const comparedVariables = [
  "intensityPercent",
  "holdSeconds",
  "tensionTimePerSessionSeconds",
  "continuity",
  "restBetweenRepetitionsSeconds",
  "restBetweenSetsSeconds",
  "sessionsPerWeek",
  "weeks",
  "muscleLength",
  "trainingAngleDegrees",
  "effortIntent",
  "action",
  notCoded,
] as const satisfies readonly ComparedVariable[];

/** Every variable that can be asked about. */
export const allComparedVariables = [
  ...comparedVariables,
  ...doseAxisNames.filter((name) => !(comparedVariables as readonly string[]).includes(name)),
] as const;

const isCategory = (name: ComparedVariable): name is Category => name in categories;

export const variableLabel = (name: ComparedVariable): string =>
  name === notCoded ? "arms coded alike" : name === movement ? "exercise" : doseAxes[name].label;

/** One arm's value: where it stands among others, and as it is written. */
export const valueIn = (
  row: OutcomeRow,
  name: ComparedVariable,
): Readonly<{ at: number; written: string }> | undefined => {
  if (name === notCoded) return undefined;
  if (name === movement)
    return { at: movingKindOf(row) === undefined ? 1 : 0, written: trainingOf(row) };
  if (isCategory(name)) {
    const word = categories[name].valueOf(row);
    return word === undefined
      ? undefined
      : { at: (categories[name].words as readonly string[]).indexOf(word), written: word };
  }
  const dose = doseOf(row, name);
  return dose === undefined
    ? undefined
    : { at: dose.value, written: shownDose(dose.value, doseAxes[name]) };
};

/** The settings in which two arms are compared, each with those that follow from it. */
const settings: readonly DoseAxisName[] = [
  "intensityPercent",
  "holdSeconds",
  "tensionTimePerSessionSeconds",
  "restBetweenRepetitionsSeconds",
  "restBetweenSetsSeconds",
  "sessionsPerWeek",
  "weeks",
  "trainingAngleDegrees",
];
/** What must be coded for both arms before two of them can be called alike in it. */
const core = [
  {
    axis: "intensityPercent",
    label: "intensity",
    given: (row: OutcomeRow) => doseOf(row, "intensityPercent") !== undefined,
  },
  {
    axis: "holdSeconds",
    label: "hold length",
    given: ({ holdSeconds }: OutcomeRow) => holdSeconds !== undefined,
  },
  {
    axis: "contractionsPerSession",
    label: "number of holds",
    given: ({ sets, repetitions }: OutcomeRow) => sets !== undefined && repetitions !== undefined,
  },
] as const;

export const differ = (first: OutcomeRow, second: OutcomeRow, name: ComparedVariable): boolean => {
  const [a, b] = [valueIn(first, name), valueIn(second, name)];
  return a !== undefined && b !== undefined && Math.abs(a.at - b.at) > 1e-9 * Math.abs(a.at);
};

/**
 * What follows from a difference in a variable, and is no second one: at as many holds a longer hold is more tension
 * time; a muscle length is an angle; one hold a set has no rest between holds.
 */
const follows = (first: OutcomeRow, second: OutcomeRow, name: ComparedVariable) => {
  const sameHolds = !differ(first, second, "contractionsPerSession");
  const own: Partial<Record<ComparedVariable, readonly ComparedVariable[]>> = {
    holdSeconds: sameHolds ? ["tensionTimePerSessionSeconds"] : [],
    tensionTimePerSessionSeconds: [],
    continuity: ["restBetweenRepetitionsSeconds"],
    muscleLength: ["trainingAngleDegrees"],
    trainingAngleDegrees: ["muscleLength"],
  };
  return new Set<ComparedVariable>([name, ...(own[name] ?? settingsBehind(name))]);
};

/** Of a dose that is worked out from several settings, those settings. */
const settingsBehind = (name: ComparedVariable): readonly ComparedVariable[] =>
  /^(tension|torque|contractions|dutyCycle|sets|repetitions)/.test(name)
    ? ["tensionTimePerSessionSeconds"]
    : [];

/** What a difference in a variable is brought about by, where that is another. */
export const followedBy = (first: OutcomeRow, second: OutcomeRow, name: ComparedVariable) => {
  const before = (
    [
      ["tensionTimePerSessionSeconds", "holdSeconds"],
      ["trainingAngleDegrees", "muscleLength"],
    ] as const
  ).find(
    ([own, other]) =>
      own === name && differ(first, second, other) && follows(first, second, other).has(own),
  );
  return before === undefined ? {} : { followsFrom: before[1] };
};

export const alsoDiffer = (
  first: OutcomeRow,
  second: OutcomeRow,
  name: ComparedVariable,
): readonly string[] => {
  if (name === movement) return workCompared(first, second).alsoDiffer;
  const own = follows(first, second, name);
  return [...settings, "muscleLength" as const, "effortIntent" as const, "action" as const]
    .filter((other) => !own.has(other) && differ(first, second, other))
    .filter((other, _, all) => other !== "trainingAngleDegrees" || !all.includes("muscleLength"))
    .map(variableLabel);
};

/** What of intensity, hold length and number of holds is not coded for both arms. */
export const unknownIn = (
  first: OutcomeRow,
  second: OutcomeRow,
  name: ComparedVariable,
): readonly string[] =>
  name === movement
    ? workCompared(first, second).unknown
    : core
        .filter(({ axis, given }) => axis !== name && !(given(first) && given(second)))
        .map(({ label }) => label);
