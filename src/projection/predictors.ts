/** What a projection may depend on: how each is read off a row and off a prescription, and turned into columns. */
import { doseOf, type DoseAxisName } from "../dose/dose-axes.js";
import {
  contractionsPerSession,
  effectiveHoldSeconds,
  effectiveIntensityPercent,
} from "../protocol/derived-quantities.js";
import type { Prescription } from "../protocol/prescription.js";
import type { OutcomeRow } from "../records/outcome-row.js";
import { testDistanceDegrees } from "./goals.js";

export type TrainingStatus = NonNullable<OutcomeRow["trainingStatus"]>;

/** What is projected for, beside the prescription itself. */
export type ProjectionTarget = Readonly<{
  prescription: Prescription;
  trainingStatus?: TrainingStatus | undefined;
  /** Degrees between the test and the trained angle. */
  testDistanceDegrees?: number | undefined;
}>;

type Shared = Readonly<{ name: string; label: string; unit: string; definition: string }>;

/** A quantity that enters as one number. */
export type NumericPredictor = Shared &
  Readonly<{
    kind: "number";
    /** Value at which the column is 0. */
    reference: number;
    column: (value: number) => number;
    /** Whether it is a dose, whose shape is not known; `column` is then its logarithm. */
    shaped: boolean;
    ofRow: (row: OutcomeRow) => number | undefined;
    ofTarget: (target: ProjectionTarget) => number | undefined;
    /** Which prior its slope has. */
    prior: "slope" | "angle";
    /** Whether studies' means get a column of their own. */
    contextual: boolean;
    /** Whether a protocol without it is given the file's usual value, or cannot be projected. */
    whenAbsent: "usual value" | "refuse";
  }>;

/** A quality that enters as one column for each level but the reference. */
export type CategoryPredictor = Shared &
  Readonly<{
    kind: "category";
    ofRow: (row: OutcomeRow) => string;
    ofTarget: (target: ProjectionTarget) => string | undefined;
    /** Level without a column; the file's most usual level where absent. */
    reference?: string;
  }>;

export type Predictor = NumericPredictor | CategoryPredictor;

const ofAxis =
  (axis: DoseAxisName) =>
  (row: OutcomeRow): number | undefined => {
    const value = doseOf(row, axis)?.value;
    return value !== undefined && value > 0 ? value : undefined;
  };

const logarithm = (reference: number) => (value: number) => Math.log(value / reference);

export const notStated = "not stated";

/** Spread of the bell by which gains fall with the distance from the trained angle, degrees. */
const angleSpread = 25;

/** Every predictor, in the order in which one that says nothing new gives way to those before it. */
export const predictors: readonly Predictor[] = [
  {
    kind: "number",
    name: "effort",
    label: "intensity",
    unit: "% of MVC",
    definition: "intensity against 75% of MVC",
    reference: 75,
    column: logarithm(75),
    shaped: true,
    ofRow: ofAxis("intensityPercent"),
    ofTarget: ({ prescription }) => effectiveIntensityPercent(prescription),
    prior: "slope",
    contextual: true,
    whenAbsent: "refuse",
  },
  {
    kind: "number",
    name: "tension time",
    label: "tension time in a session",
    unit: "s",
    definition: "sets × repetitions × hold against 120 s",
    reference: 120,
    column: logarithm(120),
    shaped: true,
    ofRow: ofAxis("tensionTimePerSessionSeconds"),
    ofTarget: ({ prescription }) =>
      contractionsPerSession(prescription) * effectiveHoldSeconds(prescription),
    prior: "slope",
    contextual: true,
    whenAbsent: "refuse",
  },
  {
    kind: "number",
    name: "hold length",
    label: "hold length",
    unit: "s",
    definition: "the hold against 5 s, at equal tension time",
    reference: 5,
    column: logarithm(5),
    shaped: true,
    ofRow: ofAxis("holdSeconds"),
    ofTarget: ({ prescription }) => effectiveHoldSeconds(prescription),
    prior: "slope",
    contextual: true,
    whenAbsent: "refuse",
  },
  {
    kind: "number",
    name: "frequency",
    label: "sessions a week",
    unit: "",
    definition: "sessions a week against 3",
    reference: 3,
    column: logarithm(3),
    shaped: true,
    ofRow: ofAxis("sessionsPerWeek"),
    ofTarget: ({ prescription }) => prescription.sessionsPerWeek,
    prior: "slope",
    contextual: true,
    whenAbsent: "usual value",
  },
  {
    kind: "category",
    name: "muscle length",
    label: "muscle length",
    unit: "",
    definition: "long, short or not stated against middle length",
    ofRow: ({ muscleLength }) => muscleLength ?? notStated,
    ofTarget: ({ prescription }) => prescription.muscleLength,
    reference: "middle",
  },
  {
    kind: "category",
    name: "build-up",
    label: "build-up of force",
    unit: "",
    definition: "as fast as possible against ramped, to failure or not stated",
    ofRow: ({ effortIntent }) =>
      effortIntent === "as fast as possible" ? "as fast as possible" : "sustained or not stated",
    ofTarget: ({ prescription }) =>
      prescription.effortIntent === "as fast as possible"
        ? "as fast as possible"
        : "sustained or not stated",
    reference: "sustained or not stated",
  },
  {
    kind: "category",
    name: "training status",
    label: "training status",
    unit: "",
    definition: "each status against the file's most usual one",
    ofRow: ({ trainingStatus }) => trainingStatus ?? notStated,
    ofTarget: ({ trainingStatus }) => trainingStatus,
  },
  {
    kind: "number",
    name: "test distance",
    label: "distance between test and trained angle",
    unit: "°",
    definition: `1 − exp(−d²/2s²) with d the distance and s ${angleSpread}°: nothing at the trained angle, all of the loss far away`,
    reference: 0,
    column: (degrees) => -Math.expm1(-0.5 * (degrees / angleSpread) ** 2),
    shaped: false,
    ofRow: testDistanceDegrees,
    ofTarget: (target) => target.testDistanceDegrees,
    prior: "angle",
    contextual: false,
    whenAbsent: "usual value",
  },
];
