import type { DemoFamily, DemoMuscleLength, DemoTrainingStatus } from "./demo-truth.js";

/** What an invented arm does in one session and week. */
export type DemoPrescription = Readonly<{
  effortPercent: number;
  /** Upper end when the invented paper states a range; the true effort is the midpoint. */
  effortPercentHigh?: number;
  holdSeconds: number;
  repetitions: number;
  sets: number;
  restBetweenRepetitionsSeconds: number;
  restBetweenSetsSeconds: number;
  sessionsPerWeek: number;
  fastIntent: boolean;
}>;

/** One arm of an invented trial. */
export type DemoArm = Readonly<{
  arm: string;
  kind: "isometric" | "dynamic" | "no exercise";
  prescription?: DemoPrescription;
  muscleLength: DemoMuscleLength;
  /** Set when the arm's limb belongs to the same people as the arm named. */
  samePeopleAs?: string;
  nStart: number;
  nEnd: number;
}>;

/** The printed form an invented paper uses for its numbers. */
export type DemoReporting =
  | "means"
  | "means and correlation"
  | "standard errors"
  | "percent change"
  | "change with spread"
  | "change with interval"
  | "t value"
  | "F value"
  | "p value"
  | "medians with quartiles"
  | "medians with range"
  | "no spread"
  | "ready effect";

/** Angles (degrees of the muscle group's own convention) at which the three muscle lengths are trained. */
export type DemoMuscle = Readonly<{
  name: string;
  convention: "full extension is 0" | "ankle neutral is 0";
  trainedAt: Readonly<Record<DemoMuscleLength, number>>;
  /** Angle of greatest torque, and how fast torque falls away from it (degrees). */
  strongestAt: number;
  torqueSpread: number;
  torqueMean: number;
}>;

/** One invented paper. */
export type DemoStudy = Readonly<{
  number: number;
  study: string;
  cohort: string;
  /** Printed in the file only where the invented author says so. */
  cohortStated: boolean;
  /** Draws of the people come from here, so two papers on one cohort share numbers. */
  cohortSeed: number;
  year: number;
  design: "randomised groups" | "within-person limbs" | "single group";
  arms: readonly DemoArm[];
  muscle: DemoMuscle;
  trainingStatus: DemoTrainingStatus;
  weeks: number;
  weeksMeasured: readonly number[];
  families: readonly DemoFamily[];
  testAngles: readonly number[];
  reporting: DemoReporting;
  /** True when the invented paper counts the straight knee as 180. */
  straightIs180: boolean;
  /** False when the invented authors name no muscle length. */
  lengthStated: boolean;
  about: string;
}>;
