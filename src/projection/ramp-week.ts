/** One week of a working-up: its prescription, what changed, and whether it can be held. */
import {
  canBeHeld,
  mostFinish,
  type CanBeHeldOptions,
  type HoldAssessment,
  type HoldGrade,
  type Ungraded,
} from "../endurance/can-be-held.js";
import type { Note } from "../errors.js";
import { effortLabel, tensionTimePerSessionSeconds } from "../protocol/derived-quantities.js";
import type { Prescription } from "../protocol/prescription.js";
import { writePrescription } from "../protocol/write-prescription.js";
import { prescriptionAtLevel } from "./ramp-start.js";
import type { RampLevel } from "./ramp-start.js";
import type { RampStage, RampVariable } from "./ramp-steps.js";

/** What changed since the week before, in words. */
export type RampChange = Readonly<{ variable: RampVariable; from: string; to: string }>;

export type RampWeek = Readonly<{
  /** From 1. */
  week: number;
  prescription: Prescription;
  /** The prescription in its short written form. */
  written: string;
  /** Absent in the first week and in a steady one. */
  change?: RampChange;
  grade: HoldGrade | null;
  ungraded?: Ungraded;
  /** Least capacity above the load at the end of a hold, percent of MVC: one who tires early, central. */
  smallestReservePercent: HoldAssessment["smallestReservePercent"];
  tensionTimeSeconds: number;
  notes: readonly Note[];
}>;

const number = (value: number): string => String(Number(value.toFixed(2)));

const range = (low: number, high: number | undefined): string =>
  high === undefined ? number(low) : `${number(low)}–${number(high)}`;

/** An effort as people read it: 70 %, 70–75 %, 6.5 of 10, maximal. */
const effortWords = (p: Prescription): string => {
  if (p.effortRating !== undefined) return `${number(p.effortRating)} of 10`;
  if (p.intensityPercent === undefined) return effortLabel(p) ?? "not stated";
  return `${range(p.intensityPercent, p.intensityPercentHigh)}%`;
};

/** A variable's value at a level, as people read it. */
const shownValue = (variable: RampVariable, p: Prescription, level: RampLevel): string => {
  switch (variable) {
    case "sets":
      return number(level.sets);
    case "repetitions":
      return number(level.repetitions);
    case "hold length":
      return `${range(p.holdSeconds, p.holdSecondsHigh)} s`;
    case "sessions a week":
      return number(level.sessionsPerWeek ?? 0);
    case "intensity":
      return effortWords(p);
    case "muscle length":
      return p.muscleLength ?? "not stated";
    case "intent":
      return p.effortIntent ?? "not stated";
  }
};

/**
 * A stage as the week it stands in.
 *
 * @param before the stage of the week before; none for the first
 * @param week number of the week, from 1
 * @source none: the endurance check is that of `canBeHeld`
 */
export const rampWeek = (
  target: Prescription,
  stage: RampStage,
  before: RampStage | undefined,
  week: number,
  holding: CanBeHeldOptions,
): RampWeek => {
  const prescription = prescriptionAtLevel(target, stage.level);
  const held = canBeHeld(prescription, { ...holding, samplesPerPart: 0 });
  const { changed } = stage;
  const change =
    changed === undefined || before === undefined
      ? undefined
      : {
          variable: changed,
          from: shownValue(changed, prescriptionAtLevel(target, before.level), before.level),
          to: shownValue(changed, prescription, stage.level),
        };
  return {
    week,
    prescription,
    written: writePrescription(prescription),
    ...(change === undefined ? {} : { change }),
    grade: held.grade,
    ...(held.ungraded === undefined ? {} : { ungraded: held.ungraded }),
    smallestReservePercent: held.smallestReservePercent,
    tensionTimeSeconds: tensionTimePerSessionSeconds(prescription),
    notes: [
      ...(held.grade === "hard"
        ? [
            {
              code: "near-the-limit" as const,
              message:
                "those who tire early may not finish this session; stop the hold when it cannot be kept, and do not hold the breath to keep it",
            },
          ]
        : []),
      ...(held.gradeAtHighEnd === undefined || mostFinish(held.gradeAtHighEnd)
        ? []
        : [
            {
              code: "high-end" as const,
              message: "at the high end of the prescribed range most will not finish",
            },
          ]),
      ...(changed === "muscle length"
        ? [
            {
              code: "new-length" as const,
              message:
                "take the percentage of what can be produced at this length, tested anew; expect soreness for a day or two",
            },
          ]
        : []),
    ],
  };
};
