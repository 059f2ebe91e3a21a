import { prescriptionIssues } from "../protocol/prescription.js";
import type { Prescription } from "../protocol/prescription.js";
import type { OutcomeRow } from "./outcome-row.js";

type Draft = { -readonly [Name in keyof Prescription]?: Prescription[Name] };

const copied = [
  "sets",
  "repetitions",
  "holdSeconds",
  "holdSecondsHigh",
  "intensityPercent",
  "intensityPercentHigh",
  "intensityBasis",
  "restBetweenRepetitionsSeconds",
  "restBetweenSetsSeconds",
  "sessionsPerWeek",
  "weeks",
  "muscleLength",
  "trainingAngleDegrees",
  "effortIntent",
] as const satisfies readonly (keyof Prescription & keyof OutcomeRow)[];

/**
 * The prescription of a row's arm, or undefined when the row does not make a sound one: sets,
 * repetitions or hold are blank, or a number is not one a prescription can have (mean repetitions of
 * 1.5, more than all of the maximum).
 *
 * An intensity on the basis "effort rating 0–10" stands in the codebook as ten times the rating and
 * becomes the rating; a range of ratings becomes its midpoint. A range without a second end, or with two
 * equal ends, is one number.
 */
export const prescriptionOf = (row: OutcomeRow): Prescription | undefined => {
  if (row.sets === undefined || row.repetitions === undefined || row.holdSeconds === undefined) {
    return undefined;
  }
  const draft: Record<string, unknown> = {};
  for (const name of copied) if (row[name] !== undefined) draft[name] = row[name];
  const prescription = draft as Draft & Pick<Prescription, "sets" | "repetitions" | "holdSeconds">;
  if (row.action !== undefined) {
    prescription.action = row.action === "holding a load" ? "holding" : "pushing";
  }
  if (row.intensityBasis === "effort rating 0–10") {
    delete prescription.intensityPercent;
    delete prescription.intensityPercentHigh;
    if (row.intensityPercent === undefined) delete prescription.intensityBasis;
    else {
      const high = row.intensityPercentHigh ?? row.intensityPercent;
      prescription.effortRating = (row.intensityPercent + high) / 20;
    }
  }
  if (prescription.intensityPercentHigh === prescription.intensityPercent) {
    delete prescription.intensityPercentHigh;
  }
  if (prescription.holdSecondsHigh === prescription.holdSeconds)
    delete prescription.holdSecondsHigh;
  return prescriptionIssues(prescription).length === 0 ? prescription : undefined;
};
