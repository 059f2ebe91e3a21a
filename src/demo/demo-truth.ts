/**
 * The truth behind the invented register.
 *
 * Everything here is made up: no trial, clinic or person stands behind it. The sizes are chosen to look
 * like published ones, so that a tool which works here has met the right orders of magnitude; they are not
 * estimates of anything.
 */

/** Outcome families of the invented register. */
export const demoFamilies = ["strength", "size", "tendon", "symptoms"] as const;
export type DemoFamily = (typeof demoFamilies)[number];

/** Where along its length a muscle is trained. */
export type DemoMuscleLength = "short" | "middle" | "long";
export type DemoTrainingStatus =
  "untrained" | "recreationally active" | "resistance-trained" | "clinical";

/**
 * How one outcome family answers to a prescription, and how noisily it is measured.
 * All sizes and deviations are on the natural-log scale of the mean (0.10 is about 10.5%).
 */
export type DemoFamilyTruth = Readonly<{
  /** 1 when training raises the outcome, −1 when it lowers it (pain). */
  direction: 1 | -1;
  /** Log gain the reference prescription approaches after endless weeks. */
  ceiling: number;
  /** Weeks to reach 63 % of the ceiling. */
  weeksConstant: number;
  /** Effort (% MVC) at half of the curve's height. */
  effortHalf: number;
  /** Steepness of the effort curve: 1 flattens early, large values make a threshold. */
  effortSteepness: number;
  /** Power of hold seconds at equal tension time; 0 means hold length itself does not matter. */
  holdPower: number;
  /** Tension time per session (s) at half of the curve's height. */
  tensionHalfSeconds: number;
  /** Sessions a week at half of the curve's height. */
  frequencyHalf: number;
  /** Factor for the muscle length trained at. */
  lengthFactor: Readonly<Record<DemoMuscleLength, number>>;
  /** Factor for the people trained. */
  statusFactor: Readonly<Record<DemoTrainingStatus, number>>;
  /** Factor when every effort is made as fast as possible instead of ramped and sustained. */
  fastIntentFactor: number;
  /** Factor for dynamic training of like volume. */
  dynamicFactor: number;
  /** Log gain from being tested again without training, in the long run. */
  learningCeiling: number;
  /** Deviation between studies of the true average gain. */
  studyDeviation: number;
  /** Deviation between arms of one study. */
  armDeviation: number;
  /** Deviation between angles, sites and times within one arm. */
  effectDeviation: number;
  /** Deviation between people's own responses to the same training. */
  responseDeviation: number;
  /** Deviation between people at baseline. */
  baselineDeviation: number;
  /** Deviation of one measurement around the person's true value. */
  measurementDeviation: number;
}>;

/** Truth of the whole register. */
export type DemoTruth = Readonly<{
  families: Readonly<Record<DemoFamily, DemoFamilyTruth>>;
  /** Spread (degrees) of the bell-shaped carry-over from the trained to another angle. */
  carryOverDegrees: Readonly<Record<DemoMuscleLength, number>>;
  /** Weeks to reach 63 % of the learning effect. */
  learningWeeksConstant: number;
  /** Share of the arm and response deviations that untrained arms show. */
  controlShare: number;
  /** Correlation between the two limbs of one person, at baseline and in response. */
  limbCorrelation: number;
}>;

/** Prescription at which every factor is one. */
export const demoReference = {
  effortPercent: 75,
  holdSeconds: 4,
  tensionTimeSeconds: 160,
  sessionsPerWeek: 3,
  muscleLength: "middle",
  trainingStatus: "untrained",
} as const;

/** The truth used unless another is given. */
export const demoTruthDefaults: DemoTruth = {
  families: {
    strength: {
      direction: 1,
      ceiling: 0.3,
      weeksConstant: 4,
      effortHalf: 20,
      effortSteepness: 1,
      holdPower: 0,
      tensionHalfSeconds: 30,
      frequencyHalf: 1,
      lengthFactor: { short: 0.9, middle: 1, long: 1.1 },
      statusFactor: {
        untrained: 1,
        "recreationally active": 0.85,
        "resistance-trained": 0.5,
        clinical: 1.1,
      },
      fastIntentFactor: 0.7,
      dynamicFactor: 0.7,
      learningCeiling: 0.025,
      studyDeviation: 0.05,
      armDeviation: 0.03,
      effectDeviation: 0.015,
      responseDeviation: 0.08,
      baselineDeviation: 0.22,
      measurementDeviation: 0.05,
    },
    size: {
      direction: 1,
      ceiling: 0.11,
      weeksConstant: 8,
      effortHalf: 10,
      effortSteepness: 1,
      holdPower: 0.05,
      tensionHalfSeconds: 80,
      frequencyHalf: 1.5,
      lengthFactor: { short: 0.6, middle: 1, long: 1.5 },
      statusFactor: {
        untrained: 1,
        "recreationally active": 0.9,
        "resistance-trained": 0.45,
        clinical: 1,
      },
      fastIntentFactor: 0.35,
      dynamicFactor: 1.05,
      learningCeiling: 0,
      studyDeviation: 0.018,
      armDeviation: 0.01,
      effectDeviation: 0.005,
      responseDeviation: 0.035,
      baselineDeviation: 0.18,
      measurementDeviation: 0.02,
    },
    tendon: {
      direction: 1,
      ceiling: 0.34,
      weeksConstant: 8,
      effortHalf: 62,
      effortSteepness: 8,
      holdPower: 0.15,
      tensionHalfSeconds: 50,
      frequencyHalf: 1,
      lengthFactor: { short: 0.6, middle: 1, long: 1.2 },
      statusFactor: {
        untrained: 1,
        "recreationally active": 0.9,
        "resistance-trained": 0.6,
        clinical: 0.9,
      },
      fastIntentFactor: 0.8,
      dynamicFactor: 0.8,
      learningCeiling: 0,
      studyDeviation: 0.06,
      armDeviation: 0.03,
      effectDeviation: 0.015,
      responseDeviation: 0.1,
      baselineDeviation: 0.2,
      measurementDeviation: 0.08,
    },
    symptoms: {
      direction: -1,
      ceiling: 0.45,
      weeksConstant: 5,
      effortHalf: 10,
      effortSteepness: 1,
      holdPower: 0.1,
      tensionHalfSeconds: 60,
      frequencyHalf: 1,
      lengthFactor: { short: 1, middle: 1, long: 1 },
      statusFactor: {
        untrained: 1,
        "recreationally active": 1,
        "resistance-trained": 1,
        clinical: 1,
      },
      fastIntentFactor: 0.9,
      dynamicFactor: 0.95,
      learningCeiling: 0.1,
      studyDeviation: 0.08,
      armDeviation: 0.04,
      effectDeviation: 0.02,
      responseDeviation: 0.2,
      baselineDeviation: 0.22,
      measurementDeviation: 0.12,
    },
  },
  carryOverDegrees: { short: 16, middle: 25, long: 40 },
  learningWeeksConstant: 3,
  controlShare: 0.4,
  limbCorrelation: 0.7,
};
