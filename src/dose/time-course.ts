/**
 * The course of a gain over the weeks.
 *
 * Longer than most: one answer with every part it may lack.
 */
import type { EffectSet } from "../effects/effect.js";
import { CallError, ConvergenceError, refusal, type Note, type Refusal } from "../errors.js";
import type { Coefficient, Interval } from "../synthesis/synthesis-results.js";
import { trustedFreedom, didNotSettle } from "./identifiability.js";
import type { OpenInterval } from "./curve-profile.js";
import { doseAxes } from "./dose-axes.js";
import { doseData } from "./dose-data.js";
import { oneParameterCurve, type CurveFit, type CurveForm } from "./one-parameter-curve.js";
import { measurementOf, repeatedlyMeasured } from "./repeatedly-measured.js";
import type { CurveRows } from "./scaled-model.js";

export const timeCourseNames = ["rising and flattening", "straight line", "logarithm"] as const;
export type TimeCourseName = (typeof timeCourseNames)[number];

/**
 * Share of the final gain after some weeks: ½ at the half time.
 *
 *   share = 1 − exp(−weeks / timeConstant)
 *
 * @param weeks since baseline, 0 or more
 * @param timeConstant weeks to 63% of the final gain, above 0
 * @source none: exponential approach
 */
export const shareReached = (weeks: number, timeConstant: number): number =>
  -Math.expm1(-weeks / timeConstant);

/**
 * Courses a gain can take from nothing at baseline; each is one level times a share.
 *
 * @param first earliest week measured
 * @param last latest week measured
 */
export const timeCourseForms = (
  first: number,
  last: number,
): Readonly<Record<TimeCourseName, CurveForm>> => ({
  "rising and flattening": {
    share: shareReached,
    slope: (weeks, timeConstant) => -(weeks / timeConstant) * Math.exp(-weeks / timeConstant),
    range: { low: first / 6, high: longestTold * last },
  },
  "straight line": { share: (weeks) => weeks / last },
  logarithm: { share: (weeks) => Math.log1p(weeks) / Math.log1p(last) },
});

/** A time constant longer than so many times the last week is a straight line as far as the data go. */
export const longestTold = 2;

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
      kind: "told";
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

/** How a gain rises and flattens over the weeks. */
export type TimeCourse = Readonly<{
  effects: number;
  studies: number;
  people: number;
  /** Weeks measured; undefined when no arm was measured more than once. */
  span?: Readonly<{ first: number; last: number; distinct: number }> | undefined;
  timeConstant: TimeConstant;
  /** Gain the curve approaches, on the effects' scale: outside the data by its nature. */
  finalGain: (Coefficient & Readonly<{ kind: "told" }>) | Refusal;
  /** Which course is drawn: the flattening one where its time constant is told, else the best of the others. */
  shown?: TimeCourseName | undefined;
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

export type TimeCourseOptions = Readonly<{
  confidence?: number;
  /** Weeks at which the gain, and its share of the gain at `referenceWeek`, are told. */
  weeks?: readonly number[];
  referenceWeek?: number;
}>;

export const timeCourseDefaults = {
  confidence: 0.95,
  weeks: [2, 4, 6, 8],
  referenceWeek: 12,
} as const satisfies Required<TimeCourseOptions>;

/** Fewest studies measured more than once, and fewest distinct weeks. */
export const fewestCourseStudies = 3;
export const fewestWeeks = 3;

/**
 * How the gain grows over the weeks, from arms that were measured more than once.
 *
 *   gain(t) = G (1 − exp(−t / τ)), nothing at baseline; G the final gain, τ the time constant
 *
 * The course is the study's own: every study, arm and measurement has its own level in proportion to the curve,
 * so that long studies are not set against short ones. A straight line (G t) and a logarithm (G ln(1 + t))
 * are fitted to the same effects with the same random parts and compared by maximum likelihood. Measurements
 * after the end of training are left out. Time constant by profile likelihood, stretched to the robust variance.
 *
 *   criterion = −2ℓ + 2k + 2k(k + 1)/(n − k − 1),  k parameters, n effects
 *
 * @param set changes within arms, or arms against a control, of one outcome family
 * @param options see `timeCourseDefaults`
 * @throws {CallError} "between-arms", "bad-weeks"
 * @source Hurvich and Tsai (1989) Biometrika 76:297–307 (criterion); errors as in oneParameterCurve
 */
export const timeCourse = (set: EffectSet, options: TimeCourseOptions = {}): TimeCourse => {
  const { confidence, weeks, referenceWeek } = { ...timeCourseDefaults, ...options };
  if (![...weeks, referenceWeek].every((week) => week > 0 && week < Infinity)) {
    throw new CallError({
      code: "bad-weeks",
      where: "the course over weeks",
      needs: "weeks above 0",
      got: [...weeks, referenceWeek].join(", "),
    });
  }
  const { repeated, notes } = repeatedlyMeasured(set);
  const data = doseData(repeated, doseAxes.weeks);
  const { support } = data;
  const rows: CurveRows = {
    effects: data.effects,
    covariances: data.covariances,
    x: data.doses,
    series: repeated.effects.map(measurementOf),
  };
  const base = {
    effects: data.effects.length,
    studies: support.studies,
    people: data.people,
    span:
      data.effects.length === 0
        ? undefined
        : { first: support.lowest, last: support.highest, distinct: support.doses.length },
    referenceWeek,
    points: repeated.effects.map((effect, index): TimePoint => ({
      effectId: effect.effectId,
      study: effect.cohort,
      arm: effect.arm,
      series: `${effect.cohort} / ${effect.arm} / ${rows.series[index]!}`,
      week: data.doses[index]!,
      estimate: effect.estimate,
      variance: effect.variance,
    })),
    confidence,
    model:
      "nothing at baseline, then level × share of the course; each study, arm and measurement has its own level",
    assumptions: [
      "the time constant is the same in all studies, only the level differs",
      ...(set.contrast === "change-within-arm"
        ? [
            "changes within arms contain learning, which comes early and makes the course look faster",
          ]
        : []),
      "people who left between two measurements are not made up for",
    ],
  };
  const refuse = (why: Refusal): TimeCourse => {
    return {
      ...base,
      timeConstant: why,
      finalGain: why,
      shown: undefined,
      gains: [],
      shares: [],
      courses: [],
      curve: [],
      notes,
    };
  };
  if (support.studies < fewestCourseStudies) {
    const one = support.studies === 1 ? "1 study" : `${support.studies} studies`;
    return refuse(
      refusal(
        "too-few-studies",
        `${support.studies === 0 ? "no study" : one} measured an arm more than once during training; at least ${fewestCourseStudies} are needed`,
      ),
    );
  }
  if (support.doses.length < fewestWeeks) {
    return refuse(
      refusal(
        "too-few-weeks-measured",
        `the studies measured at ${support.doses.length} different weeks in all; at least ${fewestWeeks} are needed to see a course`,
      ),
    );
  }
  const forms = timeCourseForms(support.lowest, support.highest);
  let fits: Readonly<Record<TimeCourseName, CurveFit>>;
  try {
    fits = Object.fromEntries(
      timeCourseNames.map((name) => [name, oneParameterCurve(rows, forms[name], confidence)]),
    ) as Record<TimeCourseName, CurveFit>;
  } catch (error) {
    if (!(error instanceof ConvergenceError)) throw error;
    return refuse(didNotSettle);
  }
  const courses = compared(fits, data.effects.length);
  const flattening = fits["rising and flattening"];
  const timeConstant = constantOf(flattening, support.lowest, support.highest);
  const shown = shownCourse(timeConstant, courses);
  const fit = fits[shown];
  // At baseline there is no gain, by definition and without error.
  const gainAt = (week: number): Readonly<{ estimate: number; interval: Interval }> | undefined =>
    week === 0 ? { estimate: 0, interval: { low: 0, high: 0 } } : fit.at(week);
  if (timeConstant.kind === "told" && timeConstant.degreesOfFreedom < trustedFreedom) {
    notes.push({
      code: "robust-few-degrees-of-freedom",
      message: `the time constant rests on ${timeConstant.degreesOfFreedom.toFixed(1)} degrees of freedom; below four its interval is not to be relied on`,
    });
  }
  if (timeConstant.kind === "told" && referenceWeek > support.highest) {
    notes.push({
      code: "beyond-data",
      message: `no study measured later than week ${support.highest}, so the gain at week ${referenceWeek} lies beyond the data`,
    });
  }
  return {
    ...base,
    timeConstant,
    finalGain:
      timeConstant.kind === "told" && flattening.level !== undefined
        ? { ...flattening.level, term: "final gain", kind: "told" }
        : timeConstant.kind === "refusal"
          ? timeConstant
          : refusal(
              "too-few-studies",
              "too few studies stand behind the course for an honest interval",
            ),
    shown,
    gains: [...new Set([...weeks, referenceWeek])].flatMap((week) => {
      const gain = gainAt(week);
      const beyondData = week < support.lowest || week > support.highest;
      return gain === undefined
        ? []
        : [{ week, beyondData, estimate: gain.estimate, interval: gain.interval }];
    }),
    shares: timeConstant.kind === "told" ? sharesOf(timeConstant, weeks, referenceWeek) : [],
    courses,
    curve: Array.from({ length: curvePlaces }, (_, i) => (support.highest * i) / (curvePlaces - 1))
      .map((week) => ({ week, gain: gainAt(week) }))
      .flatMap(({ week, gain }) =>
        gain === undefined ? [] : [{ week, estimate: gain.estimate, interval: gain.interval }],
      ),
    notes,
  };
};

const curvePlaces = 49;

const compared = (
  fits: Readonly<Record<TimeCourseName, CurveFit>>,
  effects: number,
): readonly CourseFit[] => {
  const list = timeCourseNames.map((name) => {
    const { logLikelihood, parameters } = fits[name];
    const room = effects - parameters - 1;
    const criterion =
      room > 0
        ? -2 * logLikelihood + 2 * parameters + (2 * parameters * (parameters + 1)) / room
        : null;
    return { name, logLikelihood, parameters, criterion };
  });
  const known = list.flatMap(({ criterion }) => (criterion === null ? [] : [criterion]));
  const least = Math.min(...known);
  const total = known.reduce((sum, criterion) => sum + Math.exp((least - criterion) / 2), 0);
  return list.map((one) => ({
    ...one,
    weight: one.criterion === null ? null : Math.exp((least - one.criterion) / 2) / total,
  }));
};

const constantOf = (fit: CurveFit, first: number, last: number): TimeConstant => {
  const { limits, parameter, edge, level } = fit;
  if (level === undefined || !(fit.degreesOfFreedom >= 1)) {
    return refusal(
      "too-few-studies",
      "too few studies stand behind the course for an honest interval",
    );
  }
  if (edge === "high") {
    return {
      kind: "refusal",
      code: "no-flattening",
      reason: `the gain rises in a straight line up to week ${last}: no flattening is to be seen, so no time constant can be told`,
      ...(limits.low === null ? {} : { atLeast: limits.low }),
    };
  }
  if (edge === "low") {
    return {
      kind: "refusal",
      code: "all-by-first-week",
      reason: `the whole gain is there by the first measurement (week ${first}), so only an upper limit of the time constant can be told`,
      ...(limits.high === null ? {} : { atMost: limits.high }),
    };
  }
  return {
    kind: "told",
    weeks: parameter!,
    interval: limits,
    degreesOfFreedom: fit.degreesOfFreedom,
  };
};

const shownCourse = (timeConstant: TimeConstant, courses: readonly CourseFit[]): TimeCourseName => {
  if (timeConstant.kind === "told" || timeConstant.atMost !== undefined)
    return "rising and flattening";
  const [, line, logarithm] = courses;
  return logarithm!.logLikelihood > line!.logLikelihood ? "logarithm" : "straight line";
};

const sharesOf = (
  constant: TimeConstant & Readonly<{ kind: "told" }>,
  weeks: readonly number[],
  reference: number,
): TimeCourse["shares"] => {
  const share = (week: number, tau: number | null, atNone: number): number =>
    tau === null ? atNone : shareReached(week, tau) / shareReached(reference, tau);
  return weeks
    .filter((week) => week < reference)
    .map((week) => ({
      week,
      share: share(week, constant.weeks, 1),
      interval: {
        // Without an upper limit the course may be a line, without a lower one it may be complete at once.
        low: share(week, constant.interval.high, week / reference),
        high: share(week, constant.interval.low, 1),
      },
    }));
};
