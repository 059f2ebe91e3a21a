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
  /** Sets in a session; whole, at least 1; the low end where a range is prescribed. */
  sets: number;
  setsHigh?: number;
  /** Holds in each set; whole, at least 1; the low end of a range. */
  repetitions: number;
  repetitionsHigh?: number;
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
  effortRatingHigh?: number;
  intensityBasis?: IntensityBasis;
  /** Rest between two holds of one set, s. */
  restBetweenRepetitionsSeconds?: number;
  restBetweenRepetitionsSecondsHigh?: number;
  /** Rest between the last hold of a set and the first of the next, s. */
  restBetweenSetsSeconds?: number;
  restBetweenSetsSecondsHigh?: number;
  /** Sessions a week. */
  sessionsPerWeek?: number;
  sessionsPerWeekHigh?: number;
  /** Length of the programme, weeks. */
  weeks?: number;
  weeksHigh?: number;
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

/** What each field is called in a sentence. */
export const fieldWords: Readonly<Record<Field, string>> = {
  sets: "number of sets",
  setsHigh: "number of sets",
  repetitions: "number of repetitions",
  repetitionsHigh: "number of repetitions",
  holdSeconds: "length of hold",
  holdSecondsHigh: "length of hold",
  intensityPercent: "intensity",
  intensityPercentHigh: "intensity",
  effortRating: "effort",
  effortRatingHigh: "effort",
  intensityBasis: "basis of the intensity",
  restBetweenRepetitionsSeconds: "rest between holds",
  restBetweenRepetitionsSecondsHigh: "rest between holds",
  restBetweenSetsSeconds: "rest between sets",
  restBetweenSetsSecondsHigh: "rest between sets",
  sessionsPerWeek: "number of sessions a week",
  sessionsPerWeekHigh: "number of sessions a week",
  weeks: "number of weeks",
  weeksHigh: "number of weeks",
  muscleLength: "muscle length",
  trainingAngleDegrees: "list of angles",
  action: "action",
  effortIntent: "intent",
  joint: "joint",
};

/** The fields that may be a range: the low end and the name of the high one. */
export const rangeFields = {
  sets: "setsHigh",
  repetitions: "repetitionsHigh",
  holdSeconds: "holdSecondsHigh",
  intensityPercent: "intensityPercentHigh",
  effortRating: "effortRatingHigh",
  restBetweenRepetitionsSeconds: "restBetweenRepetitionsSecondsHigh",
  restBetweenSetsSeconds: "restBetweenSetsSecondsHigh",
  sessionsPerWeek: "sessionsPerWeekHigh",
  weeks: "weeksHigh",
} as const satisfies Partial<Record<Field, Field>>;
export type RangeField = keyof typeof rangeFields;

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

  const whole = (field: "sets" | "repetitions" | "setsHigh" | "repetitionsHigh"): void => {
    const value = p[field];
    if (value === undefined && field.endsWith("High")) return;
    if (value === undefined || !Number.isInteger(value) || value < 1)
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
  whole("setsHigh");
  whole("repetitionsHigh");
  const most = (p.setsHigh ?? p.sets) * (p.repetitionsHigh ?? p.repetitions);
  if (most > limits.mostContractions)
    report(
      "too-many",
      "repetitions",
      `${most} holds in one session, above ${limits.mostContractions}`,
      "check sets and repetitions",
    );
  within("holdSeconds", 0, limits.longestHoldSeconds, true, "s");
  if (p.holdSeconds === undefined)
    report("missing", "holdSeconds", "no length of hold", "give it in seconds");
  for (const end of ["intensityPercent", "intensityPercentHigh"] as const)
    within(end, 0, highestPercent(p), true, "%");
  for (const end of ["effortRating", "effortRatingHigh"] as const)
    within(end, 0, limits.highestEffortRating, true, "on the 0–10 scale");
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
  within("holdSecondsHigh", 0, limits.longestHoldSeconds, true, "s");
  for (const rest of ["restBetweenRepetitionsSeconds", "restBetweenSetsSeconds"] as const)
    for (const end of [rest, rangeFields[rest]] as const)
      within(end, 0, limits.longestHoldSeconds, false, "s");
  for (const end of ["sessionsPerWeek", "sessionsPerWeekHigh"] as const)
    within(end, 0, limits.mostSessionsPerWeek, true, "sessions");
  for (const end of ["weeks", "weeksHigh"] as const)
    within(end, 0, limits.mostWeeks, true, "weeks");
  for (const [low, high] of Object.entries(rangeFields)) range(low as RangeField, high);
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
 * @throws {CallError} naming the first field that fails, and how many more do
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
