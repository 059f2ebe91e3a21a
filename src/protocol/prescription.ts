/**
 * What a prescription is: its fields, their units and the limits each must keep.
 */
import { type IssueCode, CallError } from "../errors.js";
import type { Issue } from "../errors.js";

/** What an intensity is a percentage (or a rating) of. */
export const intensityBases = [
  "percent of MVC at the training angle",
  "percent of MVC at another angle",
  "effort rating 0–10",
  "percent of one-repetition maximum",
  "maximal effort",
] as const;
export type IntensityBasis = (typeof intensityBases)[number];

/** Length of the trained muscle in the hold: the authors' word or a stated angle band. */
export const muscleLengths = ["short", "middle", "long"] as const;
export type MuscleLength = (typeof muscleLengths)[number];

/** `pushing`: against a fixed stop. `holding`: keeping a load where it is. */
export const actions = ["pushing", "holding"] as const;
export type Action = (typeof actions)[number];

/** Joints that the written form knows by name. */
export const joints = [
  "ankle",
  "knee",
  "hip",
  "trunk",
  "neck",
  "shoulder",
  "elbow",
  "wrist",
  "hand",
] as const;
export type Joint = (typeof joints)[number];

/** One training protocol. A field that is absent is not known; nothing is assumed in its place. */
export type Prescription = Readonly<{
  /** Sets in a session; whole, at least 1. */
  sets: number;
  /** Holds in each set; whole, at least 1. */
  repetitions: number;
  /** Length of one hold, s; the low end where a range is prescribed. */
  holdSeconds: number;
  /** High end of a range of hold lengths, s. */
  holdSecondsHigh?: number;
  /** Target effort, percent of what `intensityBasis` names; the low end of a range. */
  intensityPercent?: number;
  /** High end of a range of efforts, percent. */
  intensityPercentHigh?: number;
  /** Target effort as a rating, above 0 and up to 10; instead of `intensityPercent`. */
  effortRating?: number;
  intensityBasis?: IntensityBasis;
  /** Rest between two holds of one set, s. */
  restBetweenRepetitionsSeconds?: number;
  /** Rest between the last hold of a set and the first of the next, s. */
  restBetweenSetsSeconds?: number;
  /** Sessions a week. */
  sessionsPerWeek?: number;
  /** Length of the programme, weeks. */
  weeks?: number;
  muscleLength?: MuscleLength;
  /** Training angles as the source counts them, degrees; one or more. */
  trainingAngleDegrees?: readonly number[];
  action?: Action;
  /** How the force is built up, e.g. `as fast as possible`. */
  effortIntent?: string;
  joint?: Joint;
}>;

/** Limits a prescription must keep, each written once. */
export const prescriptionLimits = {
  /** No percentage of the force at the same angle can be above the greatest force. */
  highestPercentOfMvc: 100,
  /** A percentage of another measure (another angle, a lifted load) can pass 100, not 300. */
  highestPercentOfOther: 300,
  /** One hold cannot be longer than a day. */
  longestHoldSeconds: 86_400,
  highestEffortRating: 10,
  mostSessionsPerWeek: 70,
  mostWeeks: 1040,
  /** Sets × repetitions above this is a slip of the pen. */
  mostContractions: 10_000,
  furthestAngleDegrees: 360,
} as const;

type Field = keyof Prescription;

const shown = (value: unknown): string =>
  Array.isArray(value) ? value.map(String).join(" / ") : String(value);

/** The basis a prescription's effort stands on: the one it names, or the one its fields imply. */
const basisOf = (p: Prescription): IntensityBasis | undefined =>
  p.intensityBasis ?? (p.effortRating === undefined ? undefined : "effort rating 0–10");

const highestPercent = (p: Prescription): number =>
  p.intensityBasis === "percent of MVC at another angle" ||
  p.intensityBasis === "percent of one-repetition maximum"
    ? prescriptionLimits.highestPercentOfOther
    : prescriptionLimits.highestPercentOfMvc;

/**
 * Everything wrong with a prescription, field by field; empty when it is sound.
 *
 * Line numbers are 0, because a prescription is not a row; `column` is the name of the field.
 */
export const prescriptionIssues = (p: Prescription): readonly Issue[] => {
  const issues: Issue[] = [];
  const report = (code: IssueCode, field: Field, message: string, mend: string): void => {
    const value = p[field];
    issues.push({
      code,
      severity: "error",
      line: 0,
      column: field,
      value: value === undefined ? "" : shown(value),
      message,
      mend,
    });
  };

  const whole = (field: "sets" | "repetitions"): void => {
    if (!Number.isInteger(p[field]) || p[field] < 1)
      report("not-a-count", field, "not a whole number of at least 1", "write 1, 2, 3 …");
  };
  const within = (field: Field, low: number, high: number, open: boolean, unit: string): void => {
    const value = p[field];
    if (value === undefined) return;
    const sound =
      typeof value === "number" &&
      Number.isFinite(value) &&
      (open ? value > low : value >= low) &&
      value <= high;
    if (!sound)
      report(
        "outside-limits",
        field,
        `not ${open ? "above" : "at least"} ${low} and at most ${high} ${unit}`,
        "check the number and its unit",
      );
  };
  const oneOf = (field: Field, choices: readonly string[]): void => {
    const value = p[field];
    if (value !== undefined && !choices.includes(value as string))
      report("unknown-word", field, "not a word this field knows", `write ${choices.join(", ")}`);
  };
  const range = (low: Field, high: Field): void => {
    const [from, to] = [p[low], p[high]];
    if (to === undefined) return;
    if (from === undefined)
      report("range-without-start", high, "a range with no low end", `give ${low} too`);
    else if (typeof from === "number" && typeof to === "number" && !(to > from))
      report(
        "range-reversed",
        high,
        `not above its low end ${from}`,
        "swap the two, or give one number",
      );
  };

  const limits = prescriptionLimits;
  whole("sets");
  whole("repetitions");
  if (p.sets * p.repetitions > limits.mostContractions)
    report(
      "too-many",
      "repetitions",
      `${p.sets * p.repetitions} holds in one session, above ${limits.mostContractions}`,
      "check sets and repetitions",
    );
  within("holdSeconds", 0, limits.longestHoldSeconds, true, "s");
  if (p.holdSeconds === undefined)
    report("missing", "holdSeconds", "no length of hold", "give it in seconds");
  within("holdSecondsHigh", 0, limits.longestHoldSeconds, true, "s");
  range("holdSeconds", "holdSecondsHigh");
  within("intensityPercent", 0, highestPercent(p), true, "%");
  within("intensityPercentHigh", 0, highestPercent(p), true, "%");
  range("intensityPercent", "intensityPercentHigh");
  within("effortRating", 0, limits.highestEffortRating, true, "on the 0–10 scale");
  oneOf("intensityBasis", intensityBases);
  if (p.effortRating !== undefined && p.intensityPercent !== undefined)
    report(
      "two-efforts",
      "effortRating",
      `a rating beside ${p.intensityPercent}%`,
      "give the rating or the percentage, not both",
    );
  if ((basisOf(p) === "effort rating 0–10") !== (p.effortRating !== undefined))
    report(
      "basis-without-rating",
      "intensityBasis",
      p.effortRating === undefined ? "a rating basis with no rating" : "a rating on another basis",
      "give effortRating with the basis effort rating 0–10",
    );
  within("restBetweenRepetitionsSeconds", 0, limits.longestHoldSeconds, false, "s");
  within("restBetweenSetsSeconds", 0, limits.longestHoldSeconds, false, "s");
  within("sessionsPerWeek", 0, limits.mostSessionsPerWeek, true, "sessions");
  within("weeks", 0, limits.mostWeeks, true, "weeks");
  oneOf("muscleLength", muscleLengths);
  oneOf("action", actions);
  oneOf("joint", joints);
  const angles = p.trainingAngleDegrees;
  if (
    angles !== undefined &&
    (angles.length === 0 ||
      angles.some((angle) => !(Math.abs(angle) <= limits.furthestAngleDegrees)))
  )
    report(
      "outside-limits",
      "trainingAngleDegrees",
      `not one or more angles within ±${limits.furthestAngleDegrees}°`,
      "leave the field out, or list degrees",
    );
  if (p.effortIntent !== undefined && !/^[^"\n\r]+$/u.test(p.effortIntent))
    report("unreadable", "effortIntent", "empty, or with a quotation mark", "use plain words");
  return issues;
};

/**
 * The same prescription, once it is known to be sound.
 *
 * @param where name of the function that was called, for the message
 * @throws CallError naming the first field that fails, and how many more do
 */
export const checkPrescription = (p: Prescription, where = "checkPrescription"): Prescription => {
  const issues = prescriptionIssues(p);
  const [first] = issues;
  if (first !== undefined)
    throw new CallError({
      code: first.code,
      where,
      needs: "a sound prescription",
      got: `${first.column} ${first.value}: ${first.message}${
        issues.length > 1 ? ` (and ${issues.length - 1} more)` : ""
      }`,
      try: first.mend,
    });
  return p;
};

/**
 * The same prescription said in one way, so that two that mean the same compare equal: a rating
 * stands on `effort rating 0–10`; a basis with nothing to stand under it is left out (`maximal
 * effort` needs no number). Nothing is filled in.
 */
export const canonicalPrescription = (p: Prescription): Prescription => {
  const { intensityBasis, ...rest } = p;
  if (p.effortRating !== undefined) return { ...rest, intensityBasis: "effort rating 0–10" };
  if (intensityBasis === undefined) return p;
  return p.intensityPercent === undefined && intensityBasis !== "maximal effort" ? rest : p;
};
