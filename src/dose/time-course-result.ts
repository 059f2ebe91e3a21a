/** What is told of a gain's course over the weeks. */
import type { Note } from "../errors.js";
import type { Coefficient, Interval } from "../synthesis/synthesis-results.js";
import type { OpenInterval } from "./curve-profile.js";
import type { Refusal } from "./identifiability.js";
import type { TimeCourseName } from "./time-course-shapes.js";

/** One course on the same effects. */
export type CourseFit = Readonly<{
  name: TimeCourseName;
  logLikelihood: number;
  /** Level, time constant where there is one, variances. */
  parameters: number;
  /** Small-sample information criterion; null where the effects are too few for it. */
  criterion: number | null;
  /** Akaike weight among the courses that have a criterion, 0 to 1. */
  weight: number | null;
}>;

export type TimePoint = Readonly<{
  effectId: string;
  study: string;
  arm: string;
  /** Same arm and measurement: points to be joined. */
  series: string;
  week: number;
  estimate: number;
  variance: number;
}>;

export type TimeConstant =
  | Readonly<{
      identified: true;
      /** Weeks to 63 % of the final gain. */
      weeks: number;
      interval: OpenInterval;
      degreesOfFreedom: number;
    }>
  | (Refusal & Readonly<{ atLeast?: number; atMost?: number }>);

export type GainAtWeek = Readonly<{
  week: number;
  /** True where no study measured so late or so early. */
  beyondData: boolean;
  estimate: number;
  interval: Interval;
}>;

export type TimeCourse = Readonly<{
  effects: number;
  studies: number;
  people: number;
  /** Weeks measured; undefined when no arm was measured more than once. */
  span: Readonly<{ first: number; last: number; distinct: number }> | undefined;
  timeConstant: TimeConstant;
  /** Gain the curve approaches, on the effects' scale: outside the data by its nature. */
  finalGain: (Coefficient & Readonly<{ identified: true }>) | Refusal;
  /** Which course is drawn: the flattening one where its time constant is told, else the best of the others. */
  shown: TimeCourseName | undefined;
  gains: readonly GainAtWeek[];
  /** Share of the gain at the reference week; empty without a time constant. */
  shares: readonly Readonly<{ week: number; share: number; interval: Interval }>[];
  referenceWeek: number;
  courses: readonly CourseFit[];
  /** The shown course from baseline to the last week measured. */
  curve: readonly Readonly<{ week: number; estimate: number; interval: Interval }>[];
  points: readonly TimePoint[];
  confidence: number;
  model: string;
  assumptions: readonly string[];
  notes: readonly Note[];
}>;
