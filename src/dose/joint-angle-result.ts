/** What is told of the carry-over between joint angles. */
import type { Note } from "../errors.js";
import type { Coefficient, Interval } from "../synthesis/synthesis-results.js";
import type { OpenInterval } from "./curve-profile.js";
import type { Refusal } from "./identifiability.js";

export const trainingLengths = ["short", "middle", "long", "not coded"] as const;
export type TrainingLength = (typeof trainingLengths)[number];

/** The width can be told, or what is missing. */
export type WidthAnswer =
  | Readonly<{
      identified: true;
      /** Degrees from the trained angle at which half of the gain there is left. */
      degrees: number;
      interval: OpenInterval;
      degreesOfFreedom: number;
    }>
  | (Refusal & Readonly<{ atLeast?: number; atMost?: number }>);

export type AnglePoint = Readonly<{
  effectId: string;
  study: string;
  arm: string;
  /** Same arm and measurement: points to be joined. */
  series: string;
  distance: number;
  estimate: number;
  variance: number;
}>;

export type JointAngleCurve = Readonly<{
  muscleLength: TrainingLength;
  effects: number;
  studies: number;
  people: number;
  /** Degrees; undefined where no effect has a distance. */
  distances: Readonly<{ low: number; high: number; distinct: number }> | undefined;
  /** Gain at the trained angle itself. */
  level: (Coefficient & Readonly<{ identified: true }>) | Refusal;
  halfWidth: WidthAnswer;
  /** Share of the gain at the trained angle that is left so many degrees away; empty without a width. */
  left: readonly Readonly<{ degrees: number; share: number; interval: Interval }>[];
  /** Gain averaged over all tested angles, as a paper that averages them would print it. */
  average: Readonly<{ identified: true; estimate: number; interval: Interval }> | Refusal;
  /** Fitted gain from the trained angle to the furthest tested one; empty without a width. */
  curve: readonly Readonly<{ distance: number; estimate: number; interval: Interval }>[];
  points: readonly AnglePoint[];
  notes: readonly Note[];
}>;

/** Words for arms trained at a length. */
export const lengthWords: Readonly<Record<TrainingLength, string>> = {
  short: "training at short muscle length",
  middle: "training at middle muscle length",
  long: "training at long muscle length",
  "not coded": "training at a muscle length that is not coded",
};
