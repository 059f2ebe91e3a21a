import type {
  DemoFamily,
  DemoFamilyTruth,
  DemoMuscleLength,
  DemoTrainingStatus,
  DemoTruth,
} from "./demo-truth.js";
import { demoReference } from "./demo-truth.js";

/** What one invented arm does, as far as its true gain depends on it. */
export type DemoDose = Readonly<{
  kind: "isometric" | "dynamic" | "no exercise";
  /** Effort in % MVC, 0–100. */
  effortPercent: number;
  holdSeconds: number;
  /** Hold seconds × repetitions × sets of one session. */
  tensionTimeSeconds: number;
  sessionsPerWeek: number;
  muscleLength: DemoMuscleLength;
  trainingStatus: DemoTrainingStatus;
  fastIntent: boolean;
}>;

/** The dose at which every factor of the truth is one. */
export const demoReferenceDose: DemoDose = {
  kind: "isometric",
  ...demoReference,
  fastIntent: false,
};

const hill = (dose: number, half: number, steepness: number): number =>
  dose ** steepness / (dose ** steepness + half ** steepness);

const relativeHill = (dose: number, reference: number, half: number, steepness = 1): number =>
  hill(dose, half, steepness) / hill(reference, half, steepness);

/**
 * Share of the final gain reached after some weeks: 1 − exp(−w / c), with w weeks and c the family's constant.
 *
 * @param weeks weeks since baseline, 0 or more
 * @returns 0 at the start, rising towards 1
 */
export const timeCourse = (truth: DemoTruth, family: DemoFamily, weeks: number): number =>
  1 - Math.exp(-weeks / truth.families[family].weeksConstant);

/**
 * Share of the gain at the trained angle that shows at another angle: exp(−d² / 2s²), with d the distance in
 * degrees and s the spread for that muscle length (narrower at short length).
 */
export const carryOver = (
  truth: DemoTruth,
  muscleLength: DemoMuscleLength,
  distanceDegrees: number,
): number => Math.exp(-0.5 * (distanceDegrees / truth.carryOverDegrees[muscleLength]) ** 2);

/** Distance (degrees) from the trained angle at which half of the gain is left: s √(2 ln 2). */
export const carryOverHalfWidth = (truth: DemoTruth, muscleLength: DemoMuscleLength): number =>
  truth.carryOverDegrees[muscleLength] * Math.sqrt(2 * Math.log(2));

/** Log change from being measured twice, training apart; 0 for outcomes nobody can learn. */
export const learningEffect = (truth: DemoTruth, family: DemoFamily, weeks: number): number =>
  truth.families[family].learningCeiling * (1 - Math.exp(-weeks / truth.learningWeeksConstant));

/** Product of the dose factors, 1 at the reference dose; the time course and angle are apart. */
export const doseFactor = (truth: DemoTruth, family: DemoFamily, dose: DemoDose): number => {
  if (dose.kind === "no exercise") return 0;
  const of: DemoFamilyTruth = truth.families[family];
  const reference = demoReference;
  const frequency = relativeHill(dose.sessionsPerWeek, reference.sessionsPerWeek, of.frequencyHalf);
  const people = of.statusFactor[dose.trainingStatus];
  if (dose.kind === "dynamic") return of.dynamicFactor * frequency * people;
  const effort = relativeHill(
    dose.effortPercent,
    reference.effortPercent,
    of.effortHalf,
    of.effortSteepness,
  );
  const hold = (dose.holdSeconds / reference.holdSeconds) ** of.holdPower;
  const tension = relativeHill(
    dose.tensionTimeSeconds,
    reference.tensionTimeSeconds,
    of.tensionHalfSeconds,
  );
  const intent = dose.fastIntent ? of.fastIntentFactor : 1;
  return effort * hold * tension * frequency * people * intent * of.lengthFactor[dose.muscleLength];
};

/** Where and when the invented outcome is read. */
export type DemoReading = Readonly<{
  weeks: number;
  /** Degrees between test and training angle; 0 where angle has no meaning (size, tendon, pain). */
  distanceDegrees?: number;
}>;

/**
 * The true average log gain that training adds over no training; positive means improvement.
 *
 * gain = ceiling × dose factor × (1 − exp(−weeks / constant)) × carry-over
 *
 * @returns log ratio of means, trained over untrained, turned so that better is positive
 * @example trueTrainingGain(demoTruthDefaults, "strength", demoReferenceDose, { weeks: 8 })
 */
export const trueTrainingGain = (
  truth: DemoTruth,
  family: DemoFamily,
  dose: DemoDose,
  reading: DemoReading,
): number => {
  const angle =
    family === "strength" && dose.kind === "isometric"
      ? carryOver(truth, dose.muscleLength, reading.distanceDegrees ?? 0)
      : 1;
  return (
    truth.families[family].ceiling *
    doseFactor(truth, family, dose) *
    timeCourse(truth, family, reading.weeks) *
    angle
  );
};

/** The true average log gain from before to after: training and learning together; positive means improvement. */
export const trueChangeWithinArm = (
  truth: DemoTruth,
  family: DemoFamily,
  dose: DemoDose,
  reading: DemoReading,
): number =>
  trueTrainingGain(truth, family, dose, reading) + learningEffect(truth, family, reading.weeks);
