/** What to expect from a protocol. Long because the result is described here field by field. */
import type { Note } from "../errors.js";
import { checkPrescription, type Prescription } from "../protocol/prescription.js";
import { writePrescription } from "../protocol/write-prescription.js";
import { scaledMixture, whitenedMixture } from "./condensed-posterior.js";
import { notDoable, notDoableWords } from "./doable.js";
import type { ProjectionGoal } from "./goals.js";
import { keptLately } from "./kept-lately.js";
import type { NormalMixture } from "./normal-mixture.js";
import {
  nearestRow,
  ofAsked,
  placedProtocol,
  type NearestRow,
  type PlacedProtocol,
  type ProjectionRefusal,
  type ProjectOptions,
} from "./placed-protocol.js";
import type { PreparedProjection, ReadyProjection } from "./prepare-projection.js";
import { priorSensitivity, type PriorSensitivity } from "./prior-sensitivity.js";
import { studiesNear, supportLimits } from "./support.js";
import { threeRanges, type ThreeRanges } from "./three-ranges.js";
import { toldParts, type ToldParts } from "./told-parts.js";
import { weeksCurve } from "./weeks-curve.js";

export const projectDefaults = { nearest: 5, course: true } as const;

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

const where = "projectProtocol";

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

/** A projection without its course, and what it gives at other weeks. */
type AtItsEnd = Readonly<{ end: Projection; rangesAt: (week: number) => ThreeRanges }>;

const keptEnds = keptLately<AtItsEnd | ProjectionRefusal>();

const projectedAnew = (
  prepared: ReadyProjection,
  placed: PlacedProtocol,
  options: ProjectOptions,
): AtItsEnd | ProjectionRefusal => {
  const { prescription, written, weeks, assumed } = placed;
  const joint = options.joint ?? prescription.joint;
  const parts = toldParts(prepared.design);
  const undoable = parts.ofProtocol
    ? notDoable(prescription, joint === undefined ? {} : { joint })
    : undefined;
  const { goal, notes } = prepared;
  if (undoable !== undefined)
    return {
      kind: "refusal",
      code: "not-doable",
      ...{ goal, prescription, written, ...notDoableWords(written, undoable) },
      notes: [],
    };
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
  const support = supportOf(prepared, placed, parts, options.nearest ?? projectDefaults.nearest);
  const ranges = rangesAt(weeks);
  return {
    end: {
      kind: "projection",
      ...{ goal, prescription, written, weeks, ranges, parts, course: [], support, assumed, notes },
    },
    rangesAt,
  };
};

/**
 * What the file's evidence projects for a protocol: three ranges, their course over weeks, and how much evidence
 * lies near. Kept for whoever asks of it again.
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
  const { confidence, smallestWorthwhilePercent, joint, nearest } = options;
  const key = JSON.stringify({ confidence, smallestWorthwhilePercent, joint, nearest });
  const made = ofAsked(
    keptEnds(placed, key, () => projectedAnew(prepared, placed, options)),
    prescription,
  );
  if ("kind" in made || !(options.course ?? projectDefaults.course))
    return "kind" in made ? made : made.end;
  const { weeks, ranges } = made.end;
  const { low, high } = prepared.weeksStudied;
  return {
    ...made.end,
    course: courseWeeks(weeks).map((week): CoursePoint => ({
      weeks: week,
      studied: week >= low && week <= high,
      ...(week === weeks ? ranges : made.rangesAt(week)),
    })),
  };
};
