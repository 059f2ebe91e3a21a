import type { EffectSet } from "../effects/effect.js";
import { effectSubset } from "../effects/effect-subset.js";
import { CallError, ConvergenceError, refusal, type Refusal } from "../errors.js";
import type { Matrix } from "../numeric/matrix.js";
import { effectInputs } from "../synthesis/effect-inputs.js";
import { coefficient } from "../synthesis/inference.js";
import type { Coefficient, Interval } from "../synthesis/synthesis-results.js";
import { didNotSettle } from "./identifiability.js";
import { doseAxes, doseOf } from "./dose-axes.js";
import { shareLeft } from "./carry-over-width.js";
import {
  jointAngleCurve,
  trainingLengths,
  type FittedAngleCurve,
  type JointAngleCurve,
} from "./joint-angle-curve.js";
import { robustCoefficient } from "./robust-coefficient.js";
import { scaledModel } from "./scaled-model.js";

export type JointAngleOptions = Readonly<{
  confidence?: number;
  /** Distances (degrees) at which the share of the gain left is told. */
  degrees?: readonly number[];
}>;

export const jointAngleDefaults = {
  confidence: 0.95,
  degrees: [10, 20, 30],
} as const satisfies Required<JointAngleOptions>;

/** Long against short training length, at the trained angle and in width. */
export type LengthComparison = Readonly<{
  kind: "told";
  /** Gain at the trained angle after long minus after short length, on the effects' scale. */
  level: Coefficient;
  /** Width after long over width after short length. */
  widthRatio: Readonly<{
    estimate: number;
    interval: Interval;
    degreesOfFreedom: number;
    p: number;
  }>;
}>;

/** How far a gain carries over to angles that were not trained, after training at short and at long muscle length. */
export type JointAngle = Readonly<{
  /** One for each training length that has an effect with a distance, in the order of `trainingLengths`. */
  lengths: readonly JointAngleCurve[];
  longAgainstShort: LengthComparison | Refusal;
  confidence: number;
  model: string;
  assumptions: readonly string[];
}>;

/**
 * How far a strength gain carries over to angles that were not trained, apart for arms trained at short,
 * middle and long muscle length.
 *
 *   gain = level · exp(−ln 2 (d / w)²),  d = degrees between the test angle and the nearest training angle
 *
 * with `level` the gain at the trained angle and w the carry-over width, the degrees at which half of it is
 * left. Width by profile likelihood, stretched to the bias-reduced robust variance by study. The average over all
 * tested angles stands beside it: a paper that averages its angles can hide the effect. What cannot be told
 * is a refusal with what is missing.
 *
 * @param set changes within arms, or arms against a control, of one outcome family (strength)
 * @param options see `jointAngleDefaults`
 * @throws {CallError} "between-arms", "bad-degrees"
 * @source none: a bell curve; its errors as in oneParameterCurve
 */
export const jointAngle = (set: EffectSet, options: JointAngleOptions = {}): JointAngle => {
  const { confidence, degrees } = { ...jointAngleDefaults, ...options };
  if (degrees.some((distance) => !(distance >= 0 && distance < Infinity))) {
    throw new CallError({
      code: "bad-degrees",
      where: "joint angle",
      needs: "distances of 0 degrees or more",
      got: degrees.join(", "),
    });
  }
  const axis = doseAxes.angleDistanceDegrees;
  const fitted = trainingLengths.map((muscleLength) =>
    jointAngleCurve(
      effectSubset(
        set,
        ({ row }) =>
          (row.muscleLength ?? "not coded") === muscleLength &&
          doseOf(row, axis.name) !== undefined,
      ),
      muscleLength,
      { confidence, degrees },
    ),
  );
  const [short, , long] = fitted;
  return {
    lengths: fitted.map(({ result }) => result).filter(({ effects }) => effects > 0),
    longAgainstShort: compared(set, short!, long!, confidence),
    confidence,
    model:
      "bell-shaped carry-over from the trained angle, level and width for each training length; each study, arm and outcome has its own level",
    assumptions: [
      "the gain falls off evenly on both sides of the trained angle, and alike in all studies of one training length",
      "with several training angles the nearest one counts",
      ...(set.contrast === "change-within-arm"
        ? [
            "changes within arms contain learning and time, which show at every angle and make the carry-over look wider than training alone would",
          ]
        : []),
    ],
  };
};

/** Both curves linearised side by side, with the covariances between arms of one study. */
const compared = (
  set: EffectSet,
  short: FittedAngleCurve,
  long: FittedAngleCurve,
  confidence: number,
): LengthComparison | Refusal => {
  const pair = [short, long] as const;
  const without = pair.find(({ result }) => result.halfWidth.kind === "refusal");
  if (without !== undefined) {
    return refusal(
      "no-width",
      `no width after training at ${without.result.muscleLength} length to compare with`,
    );
  }
  const [narrow, wide] = pair.map(({ fit }) => fit!) as [
    NonNullable<FittedAngleCurve["fit"]>,
    NonNullable<FittedAngleCurve["fit"]>,
  ];
  const axis = doseAxes.angleDistanceDegrees;
  const both = effectSubset(
    set,
    ({ row }) =>
      (row.muscleLength === "short" || row.muscleLength === "long") &&
      doseOf(row, axis.name) !== undefined,
  );
  const { effects, covariances } = effectInputs(both);
  const x = both.effects.map(({ row }) => doseOf(row, axis.name)!.value);
  const fits = both.effects.map(({ row }) => (row.muscleLength === "short" ? narrow : wide));
  const shares = Float64Array.from(x, (distance, i) => shareLeft(distance, fits[i]!.parameter!));
  const seriesOf = new Map(
    pair.flatMap(({ result }) => result.points.map(({ effectId, series }) => [effectId, series])),
  );
  const design: Matrix = {
    rows: effects.length,
    columns: 4,
    values: Float64Array.from({ length: effects.length * 4 }, (_, at) => {
      const row = Math.floor(at / 4);
      const fit = fits[row]!;
      const own = fit === narrow ? 0 : 2;
      const place = (at % 4) - own;
      if (place === 0) return shares[row]!;
      const share = 2 * Math.LN2 * (x[row]! / fit.parameter!) ** 2 * shares[row]!;
      return place === 1 ? fit.level!.estimate * share : 0;
    }),
  };
  const model = scaledModel({
    effects,
    covariances,
    x,
    series: effects.map(({ effectId }) => seriesOf.get(effectId)!),
  });
  try {
    const fit = model.fit(shares, design, { likelihood: "restricted-maximum-likelihood" });
    const robust = model.robust(shares, design, fit);
    const levels =
      robust === undefined
        ? undefined
        : robustCoefficient(
            robust,
            [-1, 0, 1, 0],
            wide.level!.estimate - narrow.level!.estimate,
            confidence,
          );
    const widths =
      robust === undefined
        ? undefined
        : robustCoefficient(
            robust,
            [0, -1, 0, 1],
            Math.log(wide.parameter! / narrow.parameter!),
            confidence,
          );
    if (levels === undefined || widths === undefined) {
      return refusal(
        "too-few-studies",
        "too few studies stand behind the two curves for an honest comparison",
      );
    }
    // As with each width alone, the larger of the robust and the model's own error.
    const modelVariance =
      fit.covariance.values[5]! + fit.covariance.values[15]! - 2 * fit.covariance.values[7]!;
    const { estimate, interval, degreesOfFreedom, p } = coefficient(
      "width ratio",
      widths.estimate,
      Math.max(widths.standardError, Math.sqrt(Math.max(0, modelVariance))),
      widths.degreesOfFreedom,
      confidence,
    );
    return {
      kind: "told",
      level: { ...levels, term: "long minus short, at the trained angle" },
      widthRatio: {
        estimate: Math.exp(estimate),
        interval: { low: Math.exp(interval.low), high: Math.exp(interval.high) },
        degreesOfFreedom,
        p,
      },
    };
  } catch (error) {
    if (!(error instanceof ConvergenceError)) throw error;
    return didNotSettle;
  }
};
