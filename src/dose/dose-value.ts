/** How a dose is read off a row, as one number: as it stands, as the middle of a range, or worked out. */
import { effectiveIntensityPercent } from "../protocol/derived-quantities.js";
import type { Prescription } from "../protocol/prescription.js";
import type { OutcomeRow } from "../records/outcome-row.js";
import { prescriptionOf } from "../records/prescription-of.js";

/** A prescription quantity as one number, and whether that number stands for a range. */
export type DoseValue = Readonly<{
  value: number;
  /** True when the source gives a range and the value is its midpoint (or is made from one). */
  isMidpoint: boolean;
}>;

/** Programme as the row's effect saw it: weeks up to the measurement where that came earlier. */
const programmeOf = (row: OutcomeRow): Prescription | undefined => {
  const prescription = prescriptionOf(row);
  const weeks = weeksTrained(row);
  if (prescription === undefined || weeks === undefined) return prescription;
  return { ...prescription, weeks };
};

/** Weeks trained up to the measurement. */
export const weeksTrained = (row: OutcomeRow): number | undefined => {
  const { weeks, weekMeasured } = row;
  if (weeks === undefined) return weekMeasured;
  return weekMeasured !== undefined && weekMeasured > 0 ? Math.min(weeks, weekMeasured) : weeks;
};

const holdIsRange = (row: OutcomeRow): boolean =>
  row.holdSecondsHigh !== undefined && row.holdSecondsHigh !== row.holdSeconds;

const intensityIsRange = (row: OutcomeRow): boolean =>
  row.intensityPercentHigh !== undefined && row.intensityPercentHigh !== row.intensityPercent;

/** A number that stands for itself. */
export const exact = (value: number | undefined): DoseValue | undefined =>
  value === undefined ? undefined : { value, isMidpoint: false };

/** Length of one hold, the middle of a range. */
export const holdOf = (row: OutcomeRow): DoseValue | undefined =>
  row.holdSeconds === undefined
    ? undefined
    : {
        value: (row.holdSeconds + (row.holdSecondsHigh ?? row.holdSeconds)) / 2,
        isMidpoint: holdIsRange(row),
      };

/** Effort in percent of MVC; the codebook keeps an effort rating as ten times itself, so it needs no conversion here. */
export const intensityOf = (row: OutcomeRow): DoseValue | undefined => {
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
export const derived =
  (quantity: (p: Prescription) => number | undefined, usesIntensity = false) =>
  (row: OutcomeRow): DoseValue | undefined => {
    const prescription = programmeOf(row);
    const value = prescription === undefined ? undefined : quantity(prescription);
    return value === undefined
      ? undefined
      : { value, isMidpoint: holdIsRange(row) || (usesIntensity && intensityIsRange(row)) };
  };

/** The angle trained at, the mean of several. */
export const meanAngle = (row: OutcomeRow): DoseValue | undefined => {
  const angles = row.trainingAngleDegrees ?? [];
  if (angles.length === 0) return undefined;
  return {
    value: angles.reduce((total, angle) => total + angle, 0) / angles.length,
    isMidpoint: angles.length > 1,
  };
};

/** Degrees between the test and the nearest angle trained. */
export const angleDistance = (row: OutcomeRow): DoseValue | undefined => {
  const { testAngleDegrees, trainingAngleDegrees } = row;
  if (testAngleDegrees === undefined || (trainingAngleDegrees ?? []).length === 0) return undefined;
  return exact(
    Math.min(...trainingAngleDegrees!.map((angle) => Math.abs(testAngleDegrees - angle))),
  );
};

/** The place of a way of training between two: 0 or 1; a third has none. */
export const levelOf = (
  levels: readonly [string, string],
  way: string | undefined,
): DoseValue | undefined => {
  const place = levels.findIndex((level) => level === way);
  return place < 0 ? undefined : exact(place);
};
