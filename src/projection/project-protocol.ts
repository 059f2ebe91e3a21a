/** What to expect from a protocol. Long because the result is described here field by field. */
import { CallError, type Note, type Refusal } from "../errors.js";
import { checkPrescription, type Joint, type Prescription } from "../protocol/prescription.js";
import { writePrescription } from "../protocol/write-prescription.js";
import { condensedOf, scaledMixture, whitenedMixture } from "./condensed-posterior.js";
import { notDoable, notDoableWords } from "./doable.js";
import type { ProjectionGoal } from "./goals.js";
import type { NormalMixture } from "./normal-mixture.js";
import type { PreparedProjection, ReadyProjection } from "./prepare-projection.js";
import { notStated, predictors, type ProjectionTarget, type TrainingStatus } from "./predictors.js";
import {
  armsByDistance,
  outsideCoded,
  studiesNear,
  placeOfPrescription,
  supportLimits,
  type NearArm,
} from "./support.js";
import { priorSensitivity, type PriorSensitivity } from "./prior-sensitivity.js";
import { threeRanges, type RangeOptions, type ThreeRanges } from "./three-ranges.js";
import { toldParts, type ToldParts } from "./told-parts.js";
import { weeksCurve } from "./weeks-curve.js";

export type ProjectOptions = RangeOptions &
  Readonly<{
    /** Weeks of training; the prescription's own, or the file's usual, where absent. */
    weeks?: number;
    trainingStatus?: TrainingStatus;
    /** Degrees from the trained angle, for strength elsewhere. */
    testDistanceDegrees?: number;
    /** Joint trained, for the distance to the file's arms. */
    joint?: Joint;
    /** How many of the nearest arms are listed. */
    nearest?: number;
    /** Whether the course over weeks is worked out beside the end. */
    course?: boolean;
  }>;
export const projectDefaults = { nearest: 5, course: true } as const;

/** An arm of the file beside a protocol. */
export type NearestRow = Readonly<{
  study: string;
  arm: string;
  citation: string;
  doi?: string;
  lines: readonly number[];
  participants: number;
  /** In steps of `supportSteps`. */
  distance: number;
  /** Its prescription in the written form, where the file codes it. */
  written?: string;
  meanEffect: number;
}>;

export type Support = Readonly<{
  /** Arms and people within two steps. */
  nearArms: number;
  nearStudies: number;
  nearPeople: number;
  nearest: readonly NearestRow[];
  /** Absent where the slopes' priors are flat. */
  priorSensitivity?: PriorSensitivity;
  /** Not inside what was studied. */
  extrapolates: boolean;
  /** Why, where it does. */
  reasons: readonly string[];
}>;

export type CoursePoint = ThreeRanges & Readonly<{ weeks: number; studied: boolean }>;

/** What to expect of a protocol: three ranges at the end and along the weeks, and how near the evidence lies. */
export type Projection = Readonly<{
  kind: "projection";
  goal: ProjectionGoal;
  prescription: Prescription;
  written: string;
  weeks: number;
  /** Where the model holds nothing of the protocol these are of the file's average, `parts.ofProtocol` is false. */
  ranges: ThreeRanges;
  /** Which parts of the protocol moved the number. */
  parts: ToldParts;
  /** From the start to the last week, a point a week (or fewer in long programmes). */
  course: readonly CoursePoint[];
  support: Support;
  /** What was not said and was put in its place. */
  assumed: readonly Note[];
  notes: readonly Note[];
}>;

/** Why a protocol cannot be projected, and the nearest row of the file. */
export type ProjectionRefusal = Refusal &
  Readonly<{
    goal: ProjectionGoal;
    prescription: Prescription;
    written: string;
    /** The supported protocol that lies nearest, where the file codes one. */
    nearest?: NearestRow;
    notes: readonly Note[];
  }>;

/** A protocol placed on the model: what projections and comparisons share. */
export type PlacedProtocol = Readonly<{
  prescription: Prescription;
  written: string;
  weeks: number;
  /** Weeks before the gain is scaled by the course. */
  means: Float64Array;
  whitened: Float64Array;
  row: Float64Array;
  near: readonly NearArm[];
  assumed: readonly Note[];
  outside: readonly Note[];
}>;

const where = "projectProtocol";

const nearestRow = ({ arm, distance }: NearArm): NearestRow => ({
  study: arm.study,
  arm: arm.arm,
  citation: arm.citation,
  ...(arm.doi === undefined ? {} : { doi: arm.doi }),
  lines: arm.lines,
  participants: arm.participants,
  distance,
  ...(arm.prescription === undefined ? {} : { written: writePrescription(arm.prescription) }),
  meanEffect: arm.meanEffect,
});

/** Of the categories a protocol names, one that no arm has where the arms say what they have. */
const unknownCategory = (
  { set }: ReadyProjection,
  target: ProjectionTarget,
): Readonly<{ reason: string; try: string }> | undefined => {
  for (const predictor of predictors) {
    if (predictor.kind === "number") continue;
    const given = predictor.ofTarget(target);
    const levels = [...new Set(set.effects.map(({ row }) => predictor.ofRow(row)))].sort();
    const said = levels.filter((level) => !level.includes(notStated));
    if (given === undefined || given.includes(notStated) || levels.includes(given)) continue;
    if (said.length > 0)
      return {
        reason: `no arm of the file has ${predictor.label} "${given}" (the arms have ${levels.map((level) => `"${level}"`).join(", ")}), and another one does not stand in for it`,
        try: `without the ${predictor.label} the answer is of arms like those there are`,
      };
  }
  return undefined;
};

/** The mean of the design's rows: the average trial of the file. */
const averageRow = ({ rows, columns, values }: ReadyProjection["design"]["design"]): Float64Array =>
  Float64Array.from({ length: columns }, (_, a) => {
    let total = 0;
    for (let i = 0; i < rows; i++) total += values[i * columns + a]!;
    return total / rows;
  });

/**
 * A protocol on the model, or why it cannot be placed there; where nothing of the protocol is in the model, the file's
 * average trial in its place.
 *
 * @returns a refusal "missing-field" when the protocol lacks what the model needs, "category-not-studied" when it names a
 *   quality that no arm has, "no-evidence-near" when every arm is far
 * @throws {CallError} "out-of-range" for weeks
 */
export const placedProtocol = (
  prepared: ReadyProjection,
  prescription: Prescription,
  options: ProjectOptions = {},
): PlacedProtocol | ProjectionRefusal => {
  checkPrescription(prescription, where);
  const weeks = options.weeks ?? prescription.weeks ?? prepared.weeksStudied.usual;
  if (!(weeks > 0) || !Number.isFinite(weeks)) {
    throw new CallError({
      code: "out-of-range",
      where,
      needs: "a number of weeks above 0",
      got: String(weeks),
    });
  }
  const written = writePrescription(prescription);
  const weeksAssumed: readonly Note[] =
    options.weeks === undefined && prescription.weeks === undefined
      ? [
          {
            code: "usual-value",
            message: `weeks are not given; ${weeks}, the usual length in the file, is used`,
          },
        ]
      : [];
  const joint = options.joint ?? prescription.joint;
  const place = placeOfPrescription(prescription, weeks, joint);
  const near = armsByDistance(prepared.arms, place);
  const onModel = (
    row: Float64Array,
    assumed: readonly Note[],
    outside: readonly Note[],
  ): PlacedProtocol => ({
    ...{ prescription, written, weeks, row, near, outside },
    ...condensedOf(prepared.posterior, row),
    assumed: [...assumed, ...weeksAssumed],
  });
  if (!toldParts(prepared.design).ofProtocol)
    return onModel(averageRow(prepared.design.design), [], []);
  const target: ProjectionTarget = {
    prescription,
    trainingStatus: options.trainingStatus,
    testDistanceDegrees: options.testDistanceDegrees ?? prepared.usualTestDistance,
  };
  const refused = (
    refusal: Pick<ProjectionRefusal, "code" | "reason" | "try" | "nearest">,
    notes: readonly Note[] = [],
  ): ProjectionRefusal => ({
    kind: "refusal",
    goal: prepared.goal,
    ...{ prescription, written, ...refusal, notes },
  });
  const placed = prepared.design.place(target);
  if (placed.missing.length > 0)
    return refused({
      code: "missing-field",
      reason: `"${written}" does not say ${placed.missing.join(" and ")}`,
      try: placed.missing.includes("intensity")
        ? "give the intensity in percent of MVC at the training angle, or an effort on the 0–10 scale, for example at 70%"
        : "for example 4 × 20 s at 70%",
    });
  const unknown = unknownCategory(prepared, target);
  if (unknown !== undefined) return refused({ code: "category-not-studied", ...unknown });
  const [closest] = near;
  if (closest === undefined || closest.distance > supportLimits.far) {
    const named = near.find(({ arm }) => arm.prescription !== undefined) ?? closest;
    return refused(
      {
        code: "no-evidence-near",
        reason: `no arm of the file lies within ${supportLimits.far} steps of this protocol${
          named === undefined
            ? ""
            : `; the nearest is ${named.arm.prescription === undefined ? `arm "${named.arm.arm}"` : `"${writePrescription(named.arm.prescription)}"`} of ${named.arm.study}, ${named.distance.toFixed(1)} steps away`
        }`,
        ...(named === undefined ? {} : { nearest: nearestRow(named) }),
      },
      placed.outside,
    );
  }
  const { low, high } = prepared.weeksStudied;
  const said = (label: string): boolean =>
    placed.outside.some(({ message }) => message.includes(label));
  return onModel(placed.row, placed.assumed, [
    ...placed.outside,
    ...outsideCoded(prepared.arms, place).flatMap(({ label, message }): readonly Note[] =>
      said(label) ? [] : [{ code: "outside-range", message }],
    ),
    ...(weeks < low || weeks > high
      ? [
          {
            code: "outside-range" as const,
            message: `${weeks} weeks is outside what was studied (${low} to ${high})`,
          },
        ]
      : []),
  ]);
};

/** The course's factor at each point of the posterior. */
export const courseFactors = (prepared: ReadyProjection, weeks: number): Float64Array =>
  prepared.posterior.parameters.map((constant) => weeksCurve(weeks, constant));

/** A placed protocol's average gain at eight weeks, before the course over weeks scales it. */
export const placedMixture = (
  prepared: ReadyProjection,
  placed: Pick<PlacedProtocol, "means" | "whitened">,
): NormalMixture => whitenedMixture(prepared.posterior, placed);

/** At most this many points make the course. */
const mostCoursePoints = 14;

const courseWeeks = (last: number): readonly number[] => {
  const step = Math.max(1, Math.ceil(last / (mostCoursePoints - 1)));
  const whole = Array.from({ length: Math.floor(last / step) + 1 }, (_, i) => i * step);
  return whole.at(-1) === last ? whole : [...whole, last];
};

const supportOf = (
  prepared: ReadyProjection,
  placed: PlacedProtocol,
  parts: ToldParts,
  listed: number,
): Support => {
  const within = placed.near.filter(({ distance }) => distance <= supportLimits.near);
  const nearStudies = new Set(within.map(({ arm }) => arm.cohort)).size;
  const reasons = parts.ofProtocol
    ? [
        ...placed.outside.map(({ message }) => message),
        ...(nearStudies < studiesNear
          ? [
              `${nearStudies === 0 ? "no arm lies" : "arms of only one study lie"} within ${supportLimits.near} steps of this protocol`,
            ]
          : []),
      ]
    : ["nothing of the protocol but its weeks is in the model"];
  const sensitivity = priorSensitivity(prepared, placed.row, courseFactors(prepared, placed.weeks));
  return {
    nearArms: within.length,
    nearStudies,
    nearPeople: within.reduce((sum, { arm }) => sum + arm.participants, 0),
    nearest: placed.near.slice(0, listed).map(nearestRow),
    ...(sensitivity === undefined ? {} : { priorSensitivity: sensitivity }),
    extrapolates: reasons.length > 0,
    reasons,
  };
};

/**
 * What the file's evidence projects for a protocol: three ranges, their course over weeks, and how much evidence
 * lies near.
 *
 * No refit: a few matrix rows at each point of the posterior, and root finding on mixtures of normals. The numbers
 * describe groups and people like those studied; they are not a forecast for anyone.
 *
 * @param prepared from `prepareProjection`
 * @param prescription with an intensity that stands for %MVC, where intensity is among the predictors
 * @returns a projection, or a refusal that names the nearest protocol with support
 * @throws {CallError} "out-of-range", or for an unsound prescription
 * @source Lindley DV, Smith AFM (1972) for the model (`prepareProjection`); Hopkins WG (2015) and Higgins JPT and others
 *   (2009) for the ranges (`threeRanges`)
 */
export const projectProtocol = (
  prepared: PreparedProjection,
  prescription: Prescription,
  options: ProjectOptions = {},
): Projection | ProjectionRefusal => {
  if (prepared.kind === "refusal") {
    checkPrescription(prescription, where);
    return { ...prepared, prescription, written: writePrescription(prescription) };
  }
  const placed = placedProtocol(prepared, prescription, options);
  if ("kind" in placed) return placed;
  const joint = options.joint ?? prescription.joint;
  const undoable = toldParts(prepared.design).ofProtocol
    ? notDoable(prescription, joint === undefined ? {} : { joint })
    : undefined;
  if (undoable !== undefined)
    return {
      kind: "refusal",
      code: "not-doable",
      goal: prepared.goal,
      prescription,
      written: placed.written,
      ...notDoableWords(placed.written, undoable),
      notes: [],
    };
  const { weeks } = placed;
  const group = prepared.posterior.groupDeviations;
  const mixture = placedMixture(prepared, placed);
  const rangesAt = (week: number): ThreeRanges => {
    const factors = courseFactors(prepared, week);
    return threeRanges(
      {
        average: scaledMixture(mixture, factors),
        groupDeviations: group.map((deviation, i) => factors[i]! * deviation),
        responseFactors: factors,
        response: prepared.individual.points,
        measurementDeviation: prepared.measurement?.deviation ?? 0,
      },
      options,
    );
  };
  const ranges = rangesAt(weeks);
  const parts = toldParts(prepared.design);
  const { low, high } = prepared.weeksStudied;
  const course =
    (options.course ?? projectDefaults.course)
      ? courseWeeks(weeks).map((week): CoursePoint => ({
          weeks: week,
          studied: week >= low && week <= high,
          ...(week === weeks ? ranges : rangesAt(week)),
        }))
      : [];
  return {
    kind: "projection",
    goal: prepared.goal,
    prescription,
    written: placed.written,
    weeks,
    ranges,
    parts,
    course,
    support: supportOf(prepared, placed, parts, options.nearest ?? projectDefaults.nearest),
    assumed: placed.assumed,
    notes: prepared.notes,
  };
};
