import { mean } from "simple-statistics";
import { ConvergenceError, refusal, type Note, type Refusal } from "../errors.js";
import type { EffectSet } from "../effects/effect.js";
import type { Matrix } from "../numeric/matrix.js";
import type { ClusterRobust } from "../synthesis/cluster-robust.js";
import { coefficient } from "../synthesis/inference.js";
import type { Coefficient } from "../synthesis/synthesis-results.js";
import { doseAxisOf, type DoseAxis, type DoseAxisName } from "./dose-axes.js";
import { doseData, type DoseData } from "./dose-data.js";
import type { DoseSupport } from "./dose-support.js";
import {
  trustedFreedom,
  didNotSettle,
  axisRefusal,
  betweenRefusal,
  withinRefusal,
} from "./identifiability.js";
import { mixedModel, type MixedFit, type MixedModel } from "./mixed-model.js";

/** A slope per unit of the axis on the effects' scale, with cluster-robust and model-based errors. */
export type Slope = Readonly<{ kind: "told"; robust: Coefficient; model: Coefficient }>;

/** A slope, or what is missing for one. */
export type SlopeAnswer = Slope | Refusal;

export type WithinBetweenSlope = Readonly<{
  axis: DoseAxis;
  /** Arms of one study against each other: the headline where it is identified. */
  within: SlopeAnswer;
  /** Studies' mean doses against each other: open to everything else in which studies differ. */
  between: SlopeAnswer;
  /** Between minus within: far from zero means that studies differ in more than the dose. */
  difference: SlopeAnswer;
  effects: number;
  studies: number;
  people: number;
  support: DoseSupport;
  /** Variance left at each level; empty where nothing was fitted. */
  varianceByLevel: Readonly<Record<string, number>>;
  confidence: number;
  notes: readonly Note[];
}>;

export type WithinBetweenOptions = Readonly<{
  confidence?: number;
  /** The model of these effects and variances to start from, where they are at hand already. */
  prepared?: () => Readonly<{ model: MixedModel; start: ArrayLike<number> }>;
}>;

export const withinBetweenDefaults = { confidence: 0.95 } as const satisfies WithinBetweenOptions;

/**
 * The slope of the effects on a dose, apart for arms within a study and for studies' means, in one model.
 *
 *   y_ij = α + β_within (x_ij − m_i) + β_between m_i + u_study + u_arm + u_effect + e
 *   m_i = mean dose of study i, every arm at every dose counted once; difference = β_between − β_within
 *
 * Restricted maximum likelihood with the known sampling covariances; errors bias-reduced and robust by
 * study, Satterthwaite degrees of freedom. A part that the file does not identify is a refusal that says what
 * is missing, never a number. Converges as fitBlocks does.
 *
 * @param set      changes within arms, or arms against a control, of one outcome family
 * @param axisName one of `doseAxisNames`
 * @returns both slopes, their difference, what the axis could tell
 * @throws {CallError} "unknown-axis", "between-arms"
 * @source Neuhaus and Kalbfleisch (1998) Biometrics 54:638–645; Fisher et al. (2011) Journal of Clinical
 *   Epidemiology 64:949–967
 */
export const withinBetweenSlope = (
  set: EffectSet,
  axisName: DoseAxisName,
  options: WithinBetweenOptions = {},
): WithinBetweenSlope => withinBetweenSlopeOf(doseData(set, doseAxisOf(axisName)), options);

/**
 * The same for effects whose doses are already worked out.
 * @source none: the body of withinBetweenSlope
 */
export const withinBetweenSlopeOf = (
  data: DoseData,
  options: WithinBetweenOptions = {},
): WithinBetweenSlope => {
  const { confidence } = { ...withinBetweenDefaults, ...options };
  const { axis, support } = data;
  const base = {
    axis,
    effects: data.effects.length,
    studies: support.studies,
    people: data.people,
    support,
    confidence,
  };
  const nothing = (refusal: Refusal, notes: readonly Note[] = data.notes): WithinBetweenSlope => ({
    ...base,
    within: refusal,
    between: refusal,
    difference: refusal,
    varianceByLevel: {},
    notes,
  });
  const whole = axisRefusal(support, axis);
  if (whole !== undefined) return nothing(whole);
  const noWithin = withinRefusal(support, axis);
  const noBetween = betweenRefusal(support, axis);
  if (noWithin !== undefined && noBetween !== undefined) {
    return {
      ...nothing(noWithin),
      between: noBetween,
    };
  }
  // Columns stay in the design where doses vary, even when too few studies stand behind them to report:
  // leaving them out would load their part onto the other slope.
  const columns: ("within" | "between")[] = [];
  if (support.studiesWithin > 0) columns.push("within");
  if (support.distinctMeans > 1) columns.push("between");
  const centre = mean([...data.studyMeans]);
  const unit = spreadOf(data.doses);
  const n = data.effects.length;
  const p = columns.length + 1;
  const values = new Float64Array(n * p);
  for (let row = 0; row < n; row++) {
    values[row * p] = 1;
    columns.forEach((column, j) => {
      const mean = data.studyMeans[row]!;
      values[row * p + j + 1] =
        (column === "within" ? data.doses[row]! - mean : mean - centre) / unit;
    });
  }
  const design: Matrix = { rows: n, columns: p, values };
  if (n <= p + 1) {
    return nothing(
      refusal("too-few-effects", `${n} effects are too few for a slope on ${axis.label}`),
    );
  }
  const prepared = options.prepared?.();
  const model = prepared?.model ?? mixedModel(data.effects, data.covariances);
  let fitted: MixedFit;
  let robust: ClusterRobust | undefined;
  try {
    fitted = model.fit(design, prepared === undefined ? {} : { start: prepared.start });
    robust = model.robust(design, fitted);
  } catch (error) {
    if (!(error instanceof ConvergenceError)) throw error;
    return nothing(didNotSettle);
  }
  const notes: Note[] = [...data.notes];
  const slope = (contrast: readonly number[], term: string): SlopeAnswer => {
    const answer = contrastSlope(fitted, robust, contrast, term, unit, n - p, confidence);
    if (answer.kind === "told" && answer.robust.degreesOfFreedom < trustedFreedom) {
      notes.push({
        code: "robust-few-degrees-of-freedom",
        message: `the ${term} slope on ${axis.label} rests on ${answer.robust.degreesOfFreedom.toFixed(1)} degrees of freedom; below four its interval is not to be relied on`,
      });
    }
    return answer;
  };
  const place = (column: "within" | "between", sign: number): readonly number[] =>
    Array.from({ length: p }, (_, j) => (columns[j - 1] === column ? sign : 0));
  const within = noWithin ?? slope(place("within", 1), "within-study");
  const between = noBetween ?? slope(place("between", 1), "between-study");
  const missingPart = noWithin ?? noBetween;
  const difference =
    missingPart ??
    slope(
      place("between", 1).map((value, j) => value + place("within", -1)[j]!),
      "difference of",
    );
  return {
    ...base,
    within,
    between,
    difference,
    varianceByLevel: fitted.varianceByLevel,
    notes,
  };
};

const contrastSlope = (
  fitted: MixedFit,
  robust: ClusterRobust | undefined,
  contrast: readonly number[],
  term: string,
  unit: number,
  modelFreedom: number,
  confidence: number,
): SlopeAnswer => {
  const { coefficients, covariance } = fitted;
  const estimate = contrast.reduce((total, c, j) => total + c * coefficients[j]!, 0);
  const errorOf = (matrix: Matrix): number => {
    let variance = 0;
    contrast.forEach((a, i) => {
      contrast.forEach((b, j) => (variance += a * b * matrix.values[i * matrix.columns + j]!));
    });
    return Math.sqrt(Math.max(0, variance));
  };
  const freedom = robust?.degreesOfFreedom(contrast) ?? 0;
  if (robust === undefined || !(freedom >= 1)) {
    return refusal(
      "too-few-studies",
      `too few studies stand behind the ${term} slope for an honest interval`,
    );
  }
  return {
    kind: "told",
    robust: coefficient(
      term,
      estimate / unit,
      errorOf(robust.covariance) / unit,
      freedom,
      confidence,
    ),
    model: coefficient(term, estimate / unit, errorOf(covariance) / unit, modelFreedom, confidence),
  };
};

/** Half the range, so that coefficients are of the effects' own size while fitting. */
const spreadOf = (values: Float64Array): number => {
  let low = Infinity;
  let high = -Infinity;
  for (const value of values) {
    low = Math.min(low, value);
    high = Math.max(high, value);
  }
  return high > low ? (high - low) / 2 : 1;
};
