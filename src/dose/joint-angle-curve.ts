/**
 * How the gain falls off with the distance from the trained angle, for arms trained at one muscle length. Longer
 * than most: one answer with every part it may lack.
 */
import { effectSubset } from "../effects/effect-subset.js";
import type { Effect, EffectSet } from "../effects/effect.js";
import { ConvergenceError, refusal, type Note, type Refusal } from "../errors.js";
import { effectInputs } from "../synthesis/effect-inputs.js";
import { fitMultilevel } from "../synthesis/fit-multilevel.js";
import { headlineAnswer } from "../synthesis/headline-answer.js";
import type { Coefficient, Interval } from "../synthesis/synthesis-results.js";
import { trustedFreedom, didNotSettle } from "./identifiability.js";
import {
  carryOverForm,
  carryOverWidth,
  shareLeft,
  widestTold,
  type WidthAnswer,
} from "./carry-over-width.js";
import { doseAxes, doseOf } from "./dose-axes.js";
import { doseData } from "./dose-data.js";
import { oneParameterCurve, type CurveFit } from "./one-parameter-curve.js";
import type { CurveRows } from "./scaled-model.js";

export const trainingLengths = ["short", "middle", "long", "not coded"] as const;
export type TrainingLength = (typeof trainingLengths)[number];

export type AnglePoint = Readonly<{
  effectId: string;
  study: string;
  arm: string;
  /** Same arm and measurement: points to be joined. */
  series: string;
  distance: number;
  /** Degrees. */
  testAngle: number;
  estimate: number;
  variance: number;
}>;

export type JointAngleCurve = Readonly<{
  muscleLength: TrainingLength;
  effects: number;
  studies: number;
  people: number;
  /** Degrees; undefined where no effect has a distance. */
  distances?: Readonly<{ low: number; high: number; distinct: number }> | undefined;
  /** Gain at the trained angle itself. */
  level: (Coefficient & Readonly<{ kind: "told" }>) | Refusal;
  halfWidth: WidthAnswer;
  /** Share of the gain at the trained angle that is left so many degrees away; empty without a width. */
  left: readonly Readonly<{ degrees: number; share: number; interval: Interval }>[];
  /** Gain averaged over all tested angles, as a paper that averages them would print it. */
  average: Readonly<{ kind: "told"; estimate: number; interval: Interval }> | Refusal;
  /** Fitted gain from the trained angle to the furthest tested one; empty without a width. */
  curve: readonly Readonly<{ distance: number; estimate: number; interval: Interval }>[];
  points: readonly AnglePoint[];
  notes: readonly Note[];
}>;

/** Words for arms trained at a length. */
const lengthWords: Readonly<Record<TrainingLength, string>> = {
  short: "training at short muscle length",
  middle: "training at middle muscle length",
  long: "training at long muscle length",
  "not coded": "training at a muscle length that is not coded",
};

export type JointAngleCurveOptions = Readonly<{
  confidence: number;
  /** Degrees at which the share left is told. */
  degrees: readonly number[];
}>;

/** Fewest studies that test at two distances or more, and fewest distinct distances. */
export const fewestAngleStudies = 3;
export const fewestDistances = 3;

const seriesOf = ({ row }: Effect): string =>
  [row.outcome, row.method, row.unit, row.testSitePercent, row.testSide, row.weekMeasured]
    .map((part) =>
      String(part ?? "")
        .trim()
        .toLowerCase(),
    )
    .join(" | ");

const counted = (count: number, one: string, many: string): string =>
  `${count} ${count === 1 ? one : many}`;

/** A curve with what a comparison of two of them needs. */
export type FittedAngleCurve = Readonly<{
  result: JointAngleCurve;
  rows: CurveRows | undefined;
  fit: CurveFit | undefined;
}>;

/**
 * The bell-shaped carry-over for one training length.
 *
 *   y = level · exp(−ln 2 (d / w)²) + deviations, d = degrees between test and nearest training angle
 *
 * @param set effects of one outcome family whose arms trained at this length
 * @source none: the body of jointAngle
 */
export const jointAngleCurve = (
  set: EffectSet,
  muscleLength: TrainingLength,
  options: JointAngleCurveOptions,
): FittedAngleCurve => {
  const axis = doseAxes.angleDistanceDegrees;
  const data = doseData(set, axis);
  const kept = set.effects.filter(({ row }) => doseOf(row, axis.name) !== undefined);
  const rows: CurveRows = {
    effects: data.effects,
    covariances: data.covariances,
    x: data.doses,
    series: kept.map(seriesOf),
  };
  const { support } = data;
  const points = kept.map((effect, index): AnglePoint => ({
    effectId: effect.effectId,
    study: effect.cohort,
    arm: effect.arm,
    series: `${effect.cohort} / ${effect.arm} / ${rows.series[index]!}`,
    distance: data.doses[index]!,
    testAngle: effect.row.testAngleDegrees!,
    estimate: effect.estimate,
    variance: effect.variance,
  }));
  const base = {
    muscleLength,
    effects: data.effects.length,
    studies: support.studies,
    people: data.people,
    distances:
      kept.length === 0
        ? undefined
        : { low: support.lowest, high: support.highest, distinct: support.doses.length },
    points,
    average: averageOf(set, kept, options.confidence),
  };
  const refuse = (code: Refusal["code"], reason: string): FittedAngleCurve => {
    const why = refusal(code, reason);
    return {
      result: {
        ...base,
        level: why,
        halfWidth: why,
        left: [],
        curve: [],
        notes: data.notes,
      },
      rows: undefined,
      fit: undefined,
    };
  };
  const trained = lengthWords[muscleLength];
  if (kept.length === 0) {
    return refuse(
      "angles-not-coded",
      `no effect of ${trained} has both a test angle and a training angle`,
    );
  }
  if (support.studiesWithin < fewestAngleStudies) {
    return refuse(
      "too-few-studies",
      `${counted(support.studiesWithin, "study", "studies")} with ${trained} tested at two or more distances from the trained angle; at least ${fewestAngleStudies} are needed`,
    );
  }
  if (support.doses.length < fewestDistances) {
    return refuse(
      "too-few-distances",
      `${counted(support.doses.length, "distance", "distances")} between test and training angle with ${trained}; at least ${fewestDistances} are needed`,
    );
  }
  const nearest = support.doses.find(({ dose }) => dose > 0)!.dose;
  const fit = oneParameterCurve(
    rows,
    carryOverForm(nearest / 3, widestTold * support.highest),
    options.confidence,
  );
  if (fit.level === undefined) {
    return refuse(
      "too-few-studies",
      "too few studies stand behind the curve for an honest interval",
    );
  }
  const { level } = fit;
  const halfWidth = carryOverWidth(fit, nearest, support.highest);
  const notes: Note[] = [...data.notes];
  if (fit.degreesOfFreedom < trustedFreedom && halfWidth.kind === "told") {
    notes.push({
      code: "robust-few-degrees-of-freedom",
      message: `the carry-over width with ${trained} rests on ${fit.degreesOfFreedom.toFixed(1)} degrees of freedom; below four its interval is not to be relied on`,
    });
  }
  return {
    result: {
      ...base,
      level: { ...level, term: "gain at the trained angle", kind: "told" },
      halfWidth,
      left: halfWidth.kind === "told" ? leftAt(halfWidth, options.degrees) : [],
      curve: halfWidth.kind === "told" ? curveOf(fit, support.highest) : [],
      notes,
    },
    rows,
    fit,
  };
};

const leftAt = (
  width: WidthAnswer & Readonly<{ kind: "told" }>,
  degrees: readonly number[],
): JointAngleCurve["left"] =>
  degrees.map((distance) => ({
    degrees: distance,
    share: shareLeft(distance, width.degrees),
    interval: {
      low: width.interval.low === null ? 0 : shareLeft(distance, width.interval.low),
      high: width.interval.high === null ? 1 : shareLeft(distance, width.interval.high),
    },
  }));

const curvePlaces = 41;

const curveOf = (fit: CurveFit, furthest: number): JointAngleCurve["curve"] =>
  Array.from({ length: curvePlaces }, (_, i) => {
    const distance = (furthest * i) / (curvePlaces - 1);
    const gain = fit.at(distance);
    return gain === undefined
      ? []
      : [{ distance, estimate: gain.estimate, interval: gain.interval }];
  }).flat();

const averageOf = (
  set: EffectSet,
  kept: readonly Effect[],
  confidence: number,
): JointAngleCurve["average"] => {
  if (kept.length === 0) return refusal("no-effects", "no effect to average");
  const wanted = new Set(kept);
  const { effects, covariances } = effectInputs(effectSubset(set, (effect) => wanted.has(effect)));
  if (effects.length < 2) {
    return refusal("one-effect", "a single effect, which is no average");
  }
  try {
    const { estimate, interval } = headlineAnswer(
      fitMultilevel(effects, {
        levels: ["study", "arm", "effect_id"],
        knownCovariances: covariances,
        confidence,
      }),
    );
    return { kind: "told", estimate, interval };
  } catch (error) {
    if (!(error instanceof ConvergenceError)) throw error;
    return didNotSettle;
  }
};
