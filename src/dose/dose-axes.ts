/**
 * Every quantity of a prescription that a gain can be set against, defined once: what it is called,
 * its unit, what it means, which step along it is worth speaking of, and its value for a row.
 */
import { CallError } from "../errors.js";
import {
  contractionsPerSession,
  contractionsPerWeek,
  dutyCycle,
  effectiveIntensityPercent,
  tensionTimePerSessionSeconds,
  tensionTimePerSetSeconds,
  tensionTimePerWeekSeconds,
  tensionTimeProgrammeSeconds,
  torqueTimePerSession,
  torqueTimePerWeek,
  torqueTimeProgramme,
} from "../protocol/derived-quantities.js";
import type { Prescription } from "../protocol/prescription.js";
import type { OutcomeRow } from "../records/outcome-row.js";
import { prescriptionOf } from "../records/prescription-of.js";

/** A prescription quantity as one number, and whether that number stands for a range. */
export type DoseValue = Readonly<{
  value: number;
  /** True when the source gives a range and the value is its midpoint (or is made from one). */
  isMidpoint: boolean;
}>;

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
  /** The dose of a row's arm; undefined where the row does not say, or the arm does not train so. */
  valueOf: (row: OutcomeRow) => DoseValue | undefined;
}>;

/** Programme as the row's effect saw it: weeks up to the measurement where that came earlier. */
const programmeOf = (row: OutcomeRow): Prescription | undefined => {
  const prescription = prescriptionOf(row);
  const weeks = weeksTrained(row);
  if (prescription === undefined || weeks === undefined) return prescription;
  return { ...prescription, weeks };
};

const weeksTrained = (row: OutcomeRow): number | undefined => {
  const { weeks, weekMeasured } = row;
  if (weeks === undefined) return weekMeasured;
  return weekMeasured !== undefined && weekMeasured > 0 ? Math.min(weeks, weekMeasured) : weeks;
};

const holdIsRange = (row: OutcomeRow): boolean =>
  row.holdSecondsHigh !== undefined && row.holdSecondsHigh !== row.holdSeconds;

const intensityIsRange = (row: OutcomeRow): boolean =>
  row.intensityPercentHigh !== undefined && row.intensityPercentHigh !== row.intensityPercent;

const exact = (value: number | undefined): DoseValue | undefined =>
  value === undefined ? undefined : { value, isMidpoint: false };

const holdOf = (row: OutcomeRow): DoseValue | undefined =>
  row.holdSeconds === undefined
    ? undefined
    : {
        value: (row.holdSeconds + (row.holdSecondsHigh ?? row.holdSeconds)) / 2,
        isMidpoint: holdIsRange(row),
      };

/** The codebook keeps an effort rating as ten times itself, so it needs no conversion here. */
const intensityOf = (row: OutcomeRow): DoseValue | undefined => {
  const value = effectiveIntensityPercent({
    sets: 1,
    repetitions: 1,
    holdSeconds: 1,
    ...(row.intensityPercent === undefined ? {} : { intensityPercent: row.intensityPercent }),
    ...(row.intensityPercentHigh === undefined
      ? {}
      : { intensityPercentHigh: row.intensityPercentHigh }),
    ...(row.intensityBasis === undefined || row.intensityBasis === "effort rating 0–10"
      ? {}
      : { intensityBasis: row.intensityBasis }),
  });
  return value === undefined ? undefined : { value, isMidpoint: intensityIsRange(row) };
};

/** A quantity worked out from the whole prescription. */
const derived =
  (quantity: (p: Prescription) => number | undefined, usesIntensity = false) =>
  (row: OutcomeRow): DoseValue | undefined => {
    const prescription = programmeOf(row);
    const value = prescription === undefined ? undefined : quantity(prescription);
    return value === undefined
      ? undefined
      : { value, isMidpoint: holdIsRange(row) || (usesIntensity && intensityIsRange(row)) };
  };

const meanAngle = (row: OutcomeRow): DoseValue | undefined => {
  const angles = row.trainingAngleDegrees ?? [];
  if (angles.length === 0) return undefined;
  return {
    value: angles.reduce((total, angle) => total + angle, 0) / angles.length,
    isMidpoint: angles.length > 1,
  };
};

const angleDistance = (row: OutcomeRow): DoseValue | undefined => {
  const { testAngleDegrees, trainingAngleDegrees } = row;
  if (testAngleDegrees === undefined || (trainingAngleDegrees ?? []).length === 0) return undefined;
  return exact(
    Math.min(...trainingAngleDegrees!.map((angle) => Math.abs(testAngleDegrees - angle))),
  );
};

const lengthPlace = { short: 0, long: 1 } as const;

const lengthOf = (row: OutcomeRow): DoseValue | undefined =>
  row.muscleLength === undefined || row.muscleLength === "middle"
    ? undefined
    : exact(lengthPlace[row.muscleLength]);

type AxisRecord = Omit<DoseAxis, "name" | "kind"> & Partial<Pick<DoseAxis, "kind">>;

const axisRecords: Readonly<Record<DoseAxisName, AxisRecord>> = {
  intensityPercent: {
    label: "intensity",
    unit: "%MVC",
    definition:
      "prescribed effort in percent of maximal voluntary contraction at the trained angle; maximal effort counts as 100, one point of a 0–10 effort rating as ten",
    step: 10,
    stepWords: "10 more points of MVC",
    valueOf: intensityOf,
  },
  holdSeconds: {
    label: "hold length",
    unit: "s",
    definition: "length of one contraction",
    step: 10,
    stepWords: "10 more seconds of hold",
    valueOf: holdOf,
  },
  repetitions: {
    label: "repetitions in a set",
    unit: "",
    definition: "contractions in one set",
    step: 5,
    stepWords: "5 more repetitions in a set",
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
    label: "contractions in a session",
    unit: "",
    definition: "sets × repetitions",
    step: 10,
    stepWords: "10 more contractions in a session",
    valueOf: derived(contractionsPerSession),
  },
  contractionsPerWeek: {
    label: "contractions in a week",
    unit: "",
    definition: "sets × repetitions × sessions a week",
    step: 30,
    stepWords: "30 more contractions in a week",
    valueOf: derived(contractionsPerWeek),
  },
  tensionTimePerSetSeconds: {
    label: "tension time in a set",
    unit: "s",
    definition: "repetitions × hold; rests are not counted",
    step: 10,
    stepWords: "10 more seconds of tension in a set",
    valueOf: derived(tensionTimePerSetSeconds),
  },
  tensionTimePerSessionSeconds: {
    label: "tension time in a session",
    unit: "s",
    definition: "sets × repetitions × hold; rests are not counted",
    step: 30,
    stepWords: "30 more seconds of tension in a session",
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
    stepWords: "1000 more %MVC·s in a session",
    valueOf: derived(torqueTimePerSession, true),
  },
  torqueTimePerWeek: {
    label: "torque–time in a week",
    unit: "%MVC·s",
    definition: "intensity × tension time in a week",
    step: 3000,
    stepWords: "3000 more %MVC·s in a week",
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
    valueOf: derived((p) => {
      const share = dutyCycle(p);
      return share === undefined ? undefined : 100 * share;
    }),
  },
  restBetweenRepetitionsSeconds: {
    label: "rest between repetitions",
    unit: "s",
    definition: "rest between two contractions of one set",
    step: 10,
    stepWords: "10 more seconds of rest between repetitions",
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
    valueOf: (row) => exact(row.sessionsPerWeek),
  },
  weeks: {
    label: "weeks trained",
    unit: "weeks",
    definition: "weeks of training up to the measurement",
    step: 4,
    stepWords: "4 more weeks",
    valueOf: (row) => exact(weeksTrained(row)),
  },
  trainingAngleDegrees: {
    label: "training angle",
    unit: "°",
    definition:
      "joint angle trained at, in the source's own convention; the mean of several angles",
    step: 10,
    stepWords: "10 more degrees of training angle",
    valueOf: meanAngle,
  },
  muscleLength: {
    label: "muscle length",
    unit: "",
    definition: "long against short muscle length; arms trained at middle length take no side",
    kind: "short to long",
    step: 1,
    stepWords: "long instead of short muscle length",
    valueOf: lengthOf,
  },
  angleDistanceDegrees: {
    label: "distance between test and training angle",
    unit: "°",
    definition: "degrees between the test angle and the nearest training angle",
    step: 10,
    stepWords: "10 degrees further from the training angle",
    valueOf: angleDistance,
  },
};

/** Only isometric training has these doses; an arm whose kind is not coded counts as isometric. */
const isometricOnly =
  (valueOf: DoseAxis["valueOf"]): DoseAxis["valueOf"] =>
  (row) =>
    row.armKind === undefined || row.armKind === "isometric" ? valueOf(row) : undefined;

/** Every dose axis by name, in the order people meet them in a prescription. */
export const doseAxes: Readonly<Record<DoseAxisName, DoseAxis>> = Object.fromEntries(
  doseAxisNames.map((name): [DoseAxisName, DoseAxis] => {
    const axis = axisRecords[name];
    return [name, { kind: "number", ...axis, name, valueOf: isometricOnly(axis.valueOf) }];
  }),
) as Record<DoseAxisName, DoseAxis>;

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
