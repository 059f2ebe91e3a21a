/** One week of a working-up: its sessions, what changed, and whether they can be held. */
import {
  canBeHeld,
  holdGrades,
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
import { anglesAt, prescriptionAt, type AngleWay, type RampLevel } from "./ramp-start.js";
import { mainSessions, weeklyTorqueTime, type RampStage, type RampVariable } from "./ramp-steps.js";

/** What changed since the week before, in words. */
export type RampChange = Readonly<{ variable: RampVariable; from: string; to: string }>;

/** Sessions at long length that take turns with the others of a week. */
export type LongSessions = Readonly<{
  prescription: Prescription;
  written: string;
  /** How far from the middle of the range to the target's length: the angles, or a share of the way. */
  place: string;
  /** Angle steps done, and in all. */
  steps: readonly [number, number];
}>;

export type RampWeek = Readonly<{
  /** From 1. */
  week: number;
  prescription: Prescription;
  /** The prescription in its short written form. */
  written: string;
  long?: LongSessions;
  /** Absent in the first week and in a steady one. */
  change?: RampChange;
  /** Of the harder kind of session. */
  grade: HoldGrade | null;
  ungraded?: Ungraded;
  /** Least capacity above the load at the end of a hold, percent of MVC: one who tires early, central, one who tires late. */
  smallestReservePercent: HoldAssessment["smallestReservePercent"];
  /** Of one session near the middle of the range, or at the target's length once it is reached. */
  tensionTimeSeconds: number;
  /** Of the whole week, percent of MVC times seconds; two sessions where their number is not said. */
  torqueTimePerWeek: number;
  notes: readonly Note[];
}>;

const number = (value: number): string => String(Number(value.toFixed(2)));

const range = (low: number, high: number | undefined): string =>
  high === undefined ? number(low) : `${number(low)}–${number(high)}`;

/** An effort as people read it: 70%, 70–75%, 6.5 of 10, maximal. */
const effortWords = (p: Prescription): string => {
  if (p.effortRating !== undefined) return `${number(p.effortRating)} of 10`;
  if (p.intensityPercent === undefined) return effortLabel(p) ?? "not stated";
  return `${range(p.intensityPercent, p.intensityPercentHigh)}%`;
};

/** Shares of the way where angles are not known, which has three steps. */
const shareWords = ["a third", "two thirds"] as const;

/** The sessions of a level as prescriptions. */
export const sessionsAt = (
  target: Prescription,
  level: RampLevel,
  way: AngleWay,
): Readonly<{ main: Prescription; long?: LongSessions }> => {
  const { main, long, sessionsPerWeek, atTargetLength, withTargetIntent } = level;
  const count = (sessions: number): number | undefined =>
    sessionsPerWeek === undefined ? undefined : sessions;
  const middle = prescriptionAt(target, main, {
    sessionsPerWeek: count(mainSessions(level)),
    atTargetLength,
    withTargetIntent,
    angles: atTargetLength || way.middle === undefined ? undefined : [way.middle],
  });
  if (long === undefined) return { main: middle };
  const angles = anglesAt(way, long.step);
  const isThere = long.step === way.steps;
  const p = prescriptionAt(target, long, {
    sessionsPerWeek: count(long.sessions),
    atTargetLength: true,
    withTargetIntent,
    // The target's angles are not those of a place on the way to it.
    angles: angles ?? (isThere ? undefined : []),
  });
  return {
    main: middle,
    long: {
      prescription: p,
      written: writePrescription(p),
      steps: [long.step, way.steps],
      place:
        angles !== undefined
          ? angles.map((angle) => `${angle}°`).join(" and ")
          : isThere
            ? "at the target's length"
            : `${shareWords[long.step - 1]} of the way from the middle to the target's length`,
    },
  };
};

/** A variable's value in a week, as people read it. */
const shownValue = (
  variable: RampVariable,
  level: RampLevel,
  main: Prescription,
  long: LongSessions | undefined,
): string => {
  switch (variable) {
    case "sets":
      return `${level.main.sets}, ${range(main.holdSeconds, main.holdSecondsHigh)} s at ${effortWords(main)}`;
    case "repetitions":
      return `${level.main.repetitions}, ${range(main.holdSeconds, main.holdSecondsHigh)} s at ${effortWords(main)}`;
    case "hold length":
      return `${range(main.holdSeconds, main.holdSecondsHigh)} s at ${effortWords(main)}`;
    case "sessions a week":
      return `${number(level.sessionsPerWeek ?? 0)} at ${effortWords(main)}`;
    case "intensity":
      return effortWords(main);
    case "at long length":
      return long === undefined
        ? "none"
        : `${number(long.prescription.sets * long.prescription.repetitions)} × ${range(long.prescription.holdSeconds, long.prescription.holdSecondsHigh)} s at ${effortWords(long.prescription)}, ${long.place}${level.sessionsPerWeek === undefined ? "" : `, ${number(level.long?.sessions ?? 0)}/week`}`;
    case "muscle length":
      return main.muscleLength ?? "not stated";
    case "intent":
      return main.effortIntent ?? "not stated";
  }
};

const rank = ({ grade }: Pick<HoldAssessment, "grade">): number =>
  grade === null ? -1 : holdGrades.indexOf(grade);

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
  way: AngleWay,
  holding: CanBeHeldOptions,
): RampWeek => {
  const { main, long } = sessionsAt(target, stage.level, way);
  const judged = [main, ...(long === undefined ? [] : [long.prescription])].map((p) =>
    canBeHeld(p, { ...holding, samplesPerPart: 0 }),
  );
  const held = judged.reduce((hardest, one) => (rank(one) > rank(hardest) ? one : hardest));
  const { changed } = stage;
  const was = before === undefined ? undefined : sessionsAt(target, before.level, way);
  return {
    week,
    prescription: main,
    written: writePrescription(main),
    ...(long === undefined ? {} : { long }),
    ...(changed === undefined || before === undefined || was === undefined
      ? {}
      : {
          change: {
            variable: changed,
            from: shownValue(changed, before.level, was.main, was.long),
            to: shownValue(changed, stage.level, main, long),
          },
        }),
    grade: held.grade,
    ...(held.ungraded === undefined ? {} : { ungraded: held.ungraded }),
    smallestReservePercent: held.smallestReservePercent,
    tensionTimeSeconds: tensionTimePerSessionSeconds(main),
    torqueTimePerWeek: weeklyTorqueTime(stage.level),
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
      ...(changed === "at long length" && was?.long === undefined
        ? [
            {
              code: "new-length" as const,
              message:
                "take the percentage of what can be produced at this length, tested anew; expect soreness for a day or two (Allen 2018: 30 maximal holds of the elbow flexors at long length cost 20% of force at 24 h, at mid-range 7%)",
            },
          ]
        : []),
    ],
  };
};
