/**
 * Every quantity of a prescription that a gain can be set against, defined once: what it is called,
 * its unit, what it means, which step along it is worth speaking of, and its value for a row; and
 * what people call it, and where it is asked about. Long for the number of axes: a new one is one record here.
 */
import { CallError } from "../errors.js";
import {
  contractionsPerSession,
  contractionsPerWeek,
  dutyCycle,
  tensionTimePerSessionSeconds,
  tensionTimePerSetSeconds,
  tensionTimePerWeekSeconds,
  tensionTimeProgrammeSeconds,
  torqueTimePerSession,
  torqueTimePerWeek,
  torqueTimeProgramme,
} from "../protocol/derived-quantities.js";
import type { OutcomeRow } from "../records/outcome-row.js";
import {
  angleDistance,
  derived,
  exact,
  holdOf,
  intensityOf,
  lengthOf,
  meanAngle,
  weeksTrained,
  type DoseValue,
} from "./dose-value.js";

export const doseAxisNames = [
  "intensityPercent",
  "holdSeconds",
  "repetitions",
  "sets",
  "contractionsPerSession",
  "contractionsPerWeek",
  "tensionTimePerSetSeconds",
  "tensionTimePerSessionSeconds",
  "tensionTimePerWeekSeconds",
  "tensionTimeProgrammeSeconds",
  "torqueTimePerSession",
  "torqueTimePerWeek",
  "torqueTimeProgramme",
  "dutyCyclePercent",
  "restBetweenRepetitionsSeconds",
  "restBetweenSetsSeconds",
  "sessionsPerWeek",
  "weeks",
  "trainingAngleDegrees",
  "muscleLength",
  "angleDistanceDegrees",
] as const;
export type DoseAxisName = (typeof doseAxisNames)[number];

export type DoseAxis = Readonly<{
  name: DoseAxisName;
  /** Lower case, as it stands inside a sentence. */
  label: string;
  /** As written after a number; empty for a count. */
  unit: string;
  definition: string;
  /** `short to long` places categories on a line: short 0, long 1; middle has no place on it. */
  kind: "number" | "short to long";
  /** The step a slope is spoken of in, in the axis's own unit, and in words. */
  step: number;
  stepWords: string;
}>;

type AxisRecord = Omit<DoseAxis, "name" | "kind"> &
  Partial<Pick<DoseAxis, "kind">> &
  Readonly<{
    /** What people type beside the name and the label. */
    otherNames?: readonly string[];
    /** Asked about unless others are named: one for each idea of a prescription. */
    usual?: true;
    /** Drawn on the map of doses that move together: what a coach sets, before what follows from it. */
    mapped?: true;
    /** The dose of a row; undefined where it does not say. */
    valueOf: (row: OutcomeRow) => DoseValue | undefined;
  }>;

const axisRecords: Readonly<Record<DoseAxisName, AxisRecord>> = {
  intensityPercent: {
    label: "intensity",
    unit: "% of MVC",
    definition:
      "prescribed force in percent of maximal voluntary contraction at the trained angle; maximal effort counts as 100, one point of a 0–10 effort rating as ten",
    step: 10,
    stepWords: "10 more points of MVC",
    otherNames: ["intensity", "effort"],
    usual: true,
    mapped: true,
    valueOf: intensityOf,
  },
  holdSeconds: {
    label: "hold length",
    unit: "s",
    definition: "length of one hold",
    step: 10,
    stepWords: "10 more seconds of hold",
    otherNames: ["hold"],
    usual: true,
    mapped: true,
    valueOf: holdOf,
  },
  repetitions: {
    label: "holds in a set",
    unit: "",
    definition: "holds in one set",
    step: 5,
    stepWords: "5 more holds in a set",
    otherNames: ["repetitions in a set"],
    valueOf: (row) => exact(row.repetitions),
  },
  sets: {
    label: "sets",
    unit: "",
    definition: "sets in one session",
    step: 1,
    stepWords: "one more set",
    valueOf: (row) => exact(row.sets),
  },
  contractionsPerSession: {
    label: "holds in a session",
    unit: "",
    definition: "sets × holds in a set",
    step: 10,
    stepWords: "10 more holds in a session",
    otherNames: ["contractions in a session"],
    mapped: true,
    valueOf: derived(contractionsPerSession),
  },
  contractionsPerWeek: {
    label: "holds in a week",
    unit: "",
    definition: "sets × holds in a set × sessions a week",
    step: 30,
    stepWords: "30 more holds in a week",
    otherNames: ["contractions in a week"],
    valueOf: derived(contractionsPerWeek),
  },
  tensionTimePerSetSeconds: {
    label: "tension time in a set",
    unit: "s",
    definition: "holds in a set × hold length; rests are not counted",
    step: 10,
    stepWords: "10 more seconds of tension in a set",
    valueOf: derived(tensionTimePerSetSeconds),
  },
  tensionTimePerSessionSeconds: {
    label: "tension time in a session",
    unit: "s",
    definition: "sets × holds in a set × hold length; rests are not counted",
    step: 30,
    stepWords: "30 more seconds of tension in a session",
    otherNames: ["tension-time"],
    usual: true,
    mapped: true,
    valueOf: derived(tensionTimePerSessionSeconds),
  },
  tensionTimePerWeekSeconds: {
    label: "tension time in a week",
    unit: "s",
    definition: "tension time in a session × sessions a week",
    step: 60,
    stepWords: "60 more seconds of tension in a week",
    valueOf: derived(tensionTimePerWeekSeconds),
  },
  tensionTimeProgrammeSeconds: {
    label: "tension time in the programme",
    unit: "s",
    definition: "tension time in a week × weeks trained up to the measurement",
    step: 600,
    stepWords: "600 more seconds of tension in the programme",
    valueOf: derived(tensionTimeProgrammeSeconds),
  },
  torqueTimePerSession: {
    label: "torque–time in a session",
    unit: "%MVC·s",
    definition: "intensity × tension time in a session",
    step: 1000,
    stepWords: "1,000 more %MVC·s in a session",
    otherNames: ["torque-time"],
    valueOf: derived(torqueTimePerSession, true),
  },
  torqueTimePerWeek: {
    label: "torque–time in a week",
    unit: "%MVC·s",
    definition: "intensity × tension time in a week",
    step: 3000,
    stepWords: "3,000 more %MVC·s in a week",
    valueOf: derived(torqueTimePerWeek, true),
  },
  torqueTimeProgramme: {
    label: "torque–time in the programme",
    unit: "%MVC·s",
    definition: "intensity × tension time in the programme",
    step: 30000,
    stepWords: "30,000 more %MVC·s in the programme",
    valueOf: derived(torqueTimeProgramme, true),
  },
  dutyCyclePercent: {
    label: "duty cycle",
    unit: "%",
    definition: "hold as a share of hold plus the rest that follows it in the set",
    step: 10,
    stepWords: "10 more points of duty cycle",
    otherNames: ["duty-cycle"],
    valueOf: derived((p) => {
      const share = dutyCycle(p);
      return share === undefined ? undefined : 100 * share;
    }),
  },
  restBetweenRepetitionsSeconds: {
    label: "rest between holds",
    unit: "s",
    definition: "rest between two holds of one set",
    step: 10,
    stepWords: "10 more seconds of rest between holds",
    otherNames: ["rest between repetitions", "rest"],
    usual: true,
    valueOf: (row) => exact(row.restBetweenRepetitionsSeconds),
  },
  restBetweenSetsSeconds: {
    label: "rest between sets",
    unit: "s",
    definition: "rest between two sets",
    step: 60,
    stepWords: "60 more seconds of rest between sets",
    valueOf: (row) => exact(row.restBetweenSetsSeconds),
  },
  sessionsPerWeek: {
    label: "sessions a week",
    unit: "",
    definition: "training sessions in a week",
    step: 1,
    stepWords: "one more session a week",
    otherNames: ["frequency"],
    usual: true,
    mapped: true,
    valueOf: (row) => exact(row.sessionsPerWeek),
  },
  weeks: {
    label: "weeks trained",
    unit: "weeks",
    definition: "weeks of training up to the measurement",
    step: 4,
    stepWords: "4 more weeks",
    usual: true,
    mapped: true,
    valueOf: (row) => exact(weeksTrained(row)),
  },
  trainingAngleDegrees: {
    label: "training angle",
    unit: "°",
    definition:
      "joint angle trained at, in the source's own convention; the mean of several angles",
    step: 10,
    stepWords: "10 more degrees of training angle",
    otherNames: ["angle"],
    valueOf: meanAngle,
  },
  muscleLength: {
    label: "muscle length",
    unit: "",
    definition: "long against short muscle length; arms trained at middle length take no side",
    kind: "short to long",
    step: 1,
    stepWords: "long instead of short muscle length",
    usual: true,
    mapped: true,
    valueOf: lengthOf,
  },
  angleDistanceDegrees: {
    label: "distance between test and training angle",
    unit: "°",
    definition: "degrees between the test angle and the nearest training angle",
    step: 10,
    stepWords: "10 degrees further from the training angle",
    otherNames: ["angle-distance"],
    valueOf: angleDistance,
  },
};

/** Every dose axis by name, in the order people meet them in a prescription. */
export const doseAxes = Object.fromEntries(
  doseAxisNames.map((name): [DoseAxisName, DoseAxis] => {
    const { label, unit, definition, kind = "number", step, stepWords } = axisRecords[name];
    return [name, { name, label, unit, definition, kind, step, stepWords }];
  }),
) as Readonly<Record<DoseAxisName, DoseAxis>>;

/** Axes that are asked about unless others are named. */
export const usualAxes = doseAxisNames.filter((name) => axisRecords[name].usual);

/** Axes of the map of doses that move together. */
export const mappedAxes = doseAxisNames.filter((name) => axisRecords[name].mapped);

/** What people may type for an axis: its name, its label and other short names. */
export const axisWords = (name: DoseAxisName): readonly string[] => [
  name,
  axisRecords[name].label,
  ...(axisRecords[name].otherNames ?? []),
];

/**
 * The dose of a row's arm on an axis; undefined where the row does not say, or the arm does not train so.
 *
 * Only isometric training has these doses; an arm whose kind is not coded counts as isometric.
 */
export const doseOf = (row: OutcomeRow, name: DoseAxisName): DoseValue | undefined =>
  row.armKind === undefined || row.armKind === "isometric"
    ? axisRecords[name].valueOf(row)
    : undefined;

/**
 * The dose axis of a name.
 *
 * @throws {CallError} "unknown-axis"
 * @source none: a look-up
 */
export const doseAxisOf = (name: string): DoseAxis => {
  const known = doseAxisNames.find((axis) => axis === name);
  if (known === undefined) {
    throw new CallError({
      code: "unknown-axis",
      where: "dose axis",
      needs: `one of ${doseAxisNames.join(", ")}`,
      got: `"${name}"`,
    });
  }
  return doseAxes[known];
};
