/** A protocol placed on the model of a file: its row of the design, the arms near it, or why it cannot be placed. */
import { CallError, type Note, type Refusal } from "../errors.js";
import { checkPrescription, type Joint, type Prescription } from "../protocol/prescription.js";
import { writePrescription } from "../protocol/write-prescription.js";
import { condensedOf } from "./condensed-posterior.js";
import type { ProjectionGoal } from "./goals.js";
import { keptLately } from "./kept-lately.js";
import type { ReadyProjection } from "./prepare-projection.js";
import { notStated, predictors, type ProjectionTarget, type TrainingStatus } from "./predictors.js";
import {
  armsByDistance,
  outsideCoded,
  placeOfPrescription,
  supportLimits,
  type NearArm,
} from "./support.js";
import type { RangeOptions } from "./three-ranges.js";
import { toldParts } from "./told-parts.js";

export type ProjectOptions = RangeOptions &
  Readonly<{
    /** Weeks of training; the prescription's own, or the file's usual, where absent. */
    weeks?: number;
    trainingStatus?: TrainingStatus;
    /** Degrees from the trained angle, for strength elsewhere. */
    testDistanceDegrees?: number;
    /** Joint trained, for the distance to the file's arms. */
    joint?: Joint;
    /** How many of the nearest arms are listed. */
    nearest?: number;
    /** Whether the course over weeks is worked out beside the end. */
    course?: boolean;
  }>;

/** An arm of the file beside a protocol. */
export type NearestRow = Readonly<{
  study: string;
  arm: string;
  citation: string;
  doi?: string;
  lines: readonly number[];
  participants: number;
  /** In steps of `supportSteps`. */
  distance: number;
  /** Its prescription in the written form, where the file codes it. */
  written?: string;
  meanEffect: number;
}>;

/** Why a protocol cannot be projected, and the nearest row of the file. */
export type ProjectionRefusal = Refusal &
  Readonly<{
    goal: ProjectionGoal;
    prescription: Prescription;
    written: string;
    /** The supported protocol that lies nearest, where the file codes one. */
    nearest?: NearestRow;
    notes: readonly Note[];
  }>;

/** A protocol placed on the model: what projections and comparisons share. */
export type PlacedProtocol = Readonly<{
  prescription: Prescription;
  written: string;
  weeks: number;
  /** Weeks before the gain is scaled by the course. */
  means: Float64Array;
  whitened: Float64Array;
  row: Float64Array;
  near: readonly NearArm[];
  assumed: readonly Note[];
  outside: readonly Note[];
}>;

const where = "projectProtocol";

export const nearestRow = ({ arm, distance }: NearArm): NearestRow => ({
  study: arm.study,
  arm: arm.arm,
  citation: arm.citation,
  ...(arm.doi === undefined ? {} : { doi: arm.doi }),
  lines: arm.lines,
  participants: arm.participants,
  distance,
  ...(arm.prescription === undefined ? {} : { written: writePrescription(arm.prescription) }),
  meanEffect: arm.meanEffect,
});

/** Of the categories a protocol names, one that no arm has where the arms say what they have. */
const unknownCategory = (
  { set }: ReadyProjection,
  target: ProjectionTarget,
): Readonly<{ reason: string; try: string }> | undefined => {
  for (const predictor of predictors) {
    if (predictor.kind === "number") continue;
    const given = predictor.ofTarget(target);
    const levels = [...new Set(set.effects.map(({ row }) => predictor.ofRow(row)))].sort();
    const said = levels.filter((level) => !level.includes(notStated));
    if (given === undefined || given.includes(notStated) || levels.includes(given)) continue;
    if (said.length > 0)
      return {
        reason: `no arm of the file has ${predictor.label} "${given}" (the arms have ${levels.map((level) => `"${level}"`).join(", ")}), and another one does not stand in for it`,
        try: `without the ${predictor.label} the answer is of arms like those there are`,
      };
  }
  return undefined;
};

/** The mean of the design's rows: the average trial of the file. */
const averageRow = ({ rows, columns, values }: ReadyProjection["design"]["design"]): Float64Array =>
  Float64Array.from({ length: columns }, (_, a) => {
    let total = 0;
    for (let i = 0; i < rows; i++) total += values[i * columns + a]!;
    return total / rows;
  });

/** A refusal of the prescription that was asked about, which askers find it by; one kept holds an equal one. */
export const ofAsked = <Answer extends object>(
  answer: Answer | ProjectionRefusal,
  prescription: Prescription,
): Answer | ProjectionRefusal =>
  "kind" in answer && answer.kind === "refusal" ? { ...answer, prescription } : answer;

const keptPlaces = keptLately<PlacedProtocol | ProjectionRefusal>();

/**
 * A protocol on the model, or why it cannot be placed there; where nothing of the protocol is in the model, the file's
 * average trial in its place. Kept for whoever asks of it again.
 *
 * @returns a refusal "missing-field" when the protocol lacks what the model needs, "category-not-studied" when it names a
 *   quality that no arm has, "no-evidence-near" when every arm is far
 * @throws {CallError} "out-of-range" for weeks
 */
export const placedProtocol = (
  prepared: ReadyProjection,
  prescription: Prescription,
  options: ProjectOptions = {},
): PlacedProtocol | ProjectionRefusal => {
  checkPrescription(prescription, where);
  const { weeks, trainingStatus, testDistanceDegrees, joint } = options;
  const key = JSON.stringify([prescription, { weeks, trainingStatus, testDistanceDegrees, joint }]);
  return ofAsked(
    keptPlaces(prepared, key, () => placedAnew(prepared, prescription, options)),
    prescription,
  );
};

const placedAnew = (
  prepared: ReadyProjection,
  prescription: Prescription,
  options: ProjectOptions,
): PlacedProtocol | ProjectionRefusal => {
  const weeks = options.weeks ?? prescription.weeks ?? prepared.weeksStudied.usual;
  if (!(weeks > 0) || !Number.isFinite(weeks)) {
    throw new CallError({
      code: "out-of-range",
      where,
      needs: "a number of weeks above 0",
      got: String(weeks),
    });
  }
  const written = writePrescription(prescription);
  const weeksAssumed: readonly Note[] =
    options.weeks === undefined && prescription.weeks === undefined
      ? [
          {
            code: "usual-value",
            message: `weeks are not given; ${weeks}, the usual length in the file, is used`,
          },
        ]
      : [];
  const joint = options.joint ?? prescription.joint;
  const place = placeOfPrescription(prescription, weeks, joint);
  const near = armsByDistance(prepared.arms, place);
  const onModel = (
    row: Float64Array,
    assumed: readonly Note[],
    outside: readonly Note[],
  ): PlacedProtocol => ({
    ...{ prescription, written, weeks, row, near, outside },
    ...condensedOf(prepared.posterior, row),
    assumed: [...assumed, ...weeksAssumed],
  });
  if (!toldParts(prepared.design).ofProtocol)
    return onModel(averageRow(prepared.design.design), [], []);
  const target: ProjectionTarget = {
    prescription,
    trainingStatus: options.trainingStatus,
    testDistanceDegrees: options.testDistanceDegrees ?? prepared.usualTestDistance,
  };
  const refused = (
    refusal: Pick<ProjectionRefusal, "code" | "reason" | "try" | "nearest">,
    notes: readonly Note[] = [],
  ): ProjectionRefusal => ({
    kind: "refusal",
    goal: prepared.goal,
    ...{ prescription, written, ...refusal, notes },
  });
  const placed = prepared.design.place(target);
  if (placed.missing.length > 0)
    return refused({
      code: "missing-field",
      reason: `"${written}" does not say ${placed.missing.join(" and ")}`,
      try: placed.missing.includes("intensity")
        ? "give the intensity in percent of MVC at the training angle, or an effort on the 0–10 scale, for example at 70%"
        : "for example 4 × 20 s at 70%",
    });
  const unknown = unknownCategory(prepared, target);
  if (unknown !== undefined) return refused({ code: "category-not-studied", ...unknown });
  const [closest] = near;
  if (closest === undefined || closest.distance > supportLimits.far) {
    const named = near.find(({ arm }) => arm.prescription !== undefined) ?? closest;
    return refused(
      {
        code: "no-evidence-near",
        reason: `no arm of the file lies within ${supportLimits.far} steps of this protocol${
          named === undefined
            ? ""
            : `; the nearest is ${named.arm.prescription === undefined ? `arm "${named.arm.arm}"` : `"${writePrescription(named.arm.prescription)}"`} of ${named.arm.study}, ${named.distance.toFixed(1)} steps away`
        }`,
        ...(named === undefined ? {} : { nearest: nearestRow(named) }),
      },
      placed.outside,
    );
  }
  const { low, high } = prepared.weeksStudied;
  const said = (label: string): boolean =>
    placed.outside.some(({ message }) => message.includes(label));
  return onModel(placed.row, placed.assumed, [
    ...placed.outside,
    ...outsideCoded(prepared.arms, place).flatMap(({ label, message }): readonly Note[] =>
      said(label) ? [] : [{ code: "outside-range", message }],
    ),
    ...(weeks < low || weeks > high
      ? [
          {
            code: "outside-range" as const,
            message: `${weeks} weeks is outside what was studied (${low} to ${high})`,
          },
        ]
      : []),
  ]);
};
