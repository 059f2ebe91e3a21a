/**
 * Effects drawn from the invented register's truth, to see whether what is fitted holds it: studies, arms, effects
 * and sampling errors with the covariances they share. Longer than most: everything that is drawn is drawn here.
 */
import { CallError } from "../../src/errors.js";
import { demoTruthDefaults } from "../../src/demo/demo-truth.js";
import type { DemoFamily, DemoTruth } from "../../src/demo/demo-truth.js";
import {
  demoReferenceDose,
  learningEffect,
  trueTrainingGain,
  type DemoDose,
} from "../../src/demo/true-change.js";
import type { RandomStream } from "../../src/numeric/random-stream.js";

/**
 * Variances and correlation that the truth implies for people of one arm, on the log scale.
 *
 * pre = b + e₁, post = b + r + e₂ with b between people, r own response, e measurement.
 */
export const impliedSpread = (
  truth: DemoTruth,
  family: DemoFamily,
  trained: boolean,
): Readonly<{ pre: number; post: number; change: number; correlation: number }> => {
  const of = truth.families[family];
  const between = of.baselineDeviation ** 2;
  const error = of.measurementDeviation ** 2;
  const response = (of.responseDeviation * (trained ? 1 : truth.controlShare)) ** 2;
  const pre = between + error;
  const post = between + response + error;
  return {
    pre: Math.sqrt(pre),
    post: Math.sqrt(post),
    change: Math.sqrt(response + 2 * error),
    correlation: between / Math.sqrt(pre * post),
  };
};

/**
 * A dose and a length of programme drawn over the ranges published trials use: effort 30–100% MVC, holds of 1–30 s
 * at most as long as the effort allows, 40–240 s of tension a session, 1–5 sessions a week, 4–14 weeks.
 */
export const drawDose = (stream: RandomStream): Readonly<{ dose: DemoDose; weeks: number }> => {
  const effortPercent = 30 + 5 * stream.integer(15);
  const longest = Math.max(4, 30 * (1.2 - effortPercent / 100));
  const holdSeconds = Math.exp(Math.log(longest) * stream.uniform());
  const lengths = ["short", "middle", "long"] as const;
  return {
    dose: {
      ...demoReferenceDose,
      effortPercent,
      holdSeconds,
      tensionTimeSeconds: 40 + 200 * stream.uniform(),
      sessionsPerWeek: 1 + stream.integer(5),
      muscleLength: lengths[stream.integer(3)] ?? "middle",
    },
    weeks: 4 + stream.integer(11),
  };
};

/** Variance of a sample of `people` from a normal population, over the population's variance. */
const sampledVariance = (people: number, stream: RandomStream): number => {
  let squares = 0;
  for (let index = 1; index < people; index += 1) squares += stream.normal() ** 2;
  return squares / (people - 1);
};

/**
 * Sampling errors of the mean changes of one group at several readings, and their variances.
 *
 * @param readings number of angles, sites or times
 * @param people size of the group, at least 2
 * @param changeDeviation deviation of one person's change
 * @param shared correlation of the errors of two readings, 0–1: the part of the change that is the person's own
 * @param estimated whether the variances are estimated from as many people, or the true ones
 */
export const groupErrors = (
  readings: number,
  people: number,
  changeDeviation: number,
  shared: number,
  estimated: boolean,
  stream: RandomStream,
): Readonly<{ error: readonly number[]; variance: readonly number[] }> => {
  const standardError = changeDeviation / Math.sqrt(people);
  const common = stream.normal();
  const error: number[] = [];
  const variance: number[] = [];
  for (let reading = 0; reading < readings; reading += 1) {
    const own = stream.normal();
    error.push(standardError * (Math.sqrt(shared) * common + Math.sqrt(1 - shared) * own));
    variance.push(standardError ** 2 * (estimated ? sampledVariance(people, stream) : 1));
  }
  return { error, variance };
};

/** A straight line laid over the average effect, with one slope within and another between studies. */
export type SimulatedLine = Readonly<{
  /** Log gain per unit of dose between arms of one study. */
  within: number;
  /** Log gain per unit of the study's mean dose. */
  between: number;
}>;

export type SimulateEffectsOptions = Readonly<{
  truth?: DemoTruth;
  family?: DemoFamily;
  /** Number of studies, at least 1. */
  studies?: number;
  /** Fewest and most arms of a study (trained arms; a control is not counted). */
  arms?: readonly [number, number];
  /** Fewest and most effects of an arm (angles, sites or times). */
  effects?: readonly [number, number];
  /** Fewest and most people of an arm, at least 3. */
  people?: readonly [number, number];
  contrast?: "change-within-arm" | "against-control";
  /** Every arm at the reference dose, or doses drawn over typical ranges. */
  doses?: "reference" | "varied";
  /** Weeks of training where the doses are not varied. */
  weeks?: number;
  /** When given, the reference dose with this line on top; the moderators `dose…` carry it. */
  line?: SimulatedLine;
  /** Whether the variances are the true ones or estimated from the people drawn, as in real papers. */
  variances?: "known" | "estimated";
}>;

export const simulateEffectsDefaults = {
  truth: demoTruthDefaults,
  family: "strength",
  studies: 20,
  arms: [1, 3],
  effects: [1, 1],
  people: [8, 18],
  contrast: "change-within-arm",
  doses: "reference",
  weeks: 8,
  variances: "known",
} as const;

/** One ready effect with the truth behind it. */
export type SimulatedEffect = Readonly<{
  effectId: string;
  study: string;
  arm: string;
  estimate: number;
  variance: number;
  moderators: Readonly<Record<string, number | string>>;
  /** Mean of such effects over all studies and arms, by the curves alone. */
  curveGain: number;
  /** What this very effect estimates: the curve and the deviations of its study, arm and reading. */
  trueEffect: number;
}>;

export type SimulatedEffects = Readonly<{
  effects: readonly SimulatedEffect[];
  /** Sampling covariances of each study's effects, row-major, with the positions in `effects`. */
  covariances: readonly Readonly<{ indices: readonly number[]; values: readonly number[] }>[];
  /** The true variances the effects scatter with, by level. */
  varianceByLevel: Readonly<{ study: number; arm: number; effectId: number }>;
}>;

const between = (range: readonly [number, number], stream: RandomStream): number =>
  range[0] + stream.integer(range[1] - range[0] + 1);

/**
 * Ready effects of one simulated register, drawn straight from the truth, fast enough for hundreds of registers.
 *
 * effect = curve + study deviation + arm deviation + reading deviation + sampling error, all normal on the log
 * scale. Readings of one arm share its people (correlation: own response over change variance); against a control,
 * arms of one study share the control.
 *
 * @param options defaults in `simulateEffectsDefaults`
 * @param stream seeded random stream
 * @throws CallError when there is no study, or fewer than three people in an arm
 */
export const simulateEffects = (
  options: SimulateEffectsOptions,
  stream: RandomStream,
): SimulatedEffects => {
  const settings = { ...simulateEffectsDefaults, ...options };
  if (!(settings.studies >= 1) || settings.people[0] < 3)
    throw new CallError({
      code: "out-of-range",
      where: "simulateEffects",
      needs: "at least one study and three people in an arm",
      got: `${settings.studies} studies and ${settings.people[0]} people`,
    });
  const { truth, family } = settings;
  const of = truth.families[family];
  const against = settings.contrast === "against-control";
  const controlArm = against ? truth.controlShare * of.armDeviation : 0;
  const spread = {
    trained: impliedSpread(truth, family, true),
    control: impliedSpread(truth, family, false),
  };
  const shared = {
    trained: (of.responseDeviation / spread.trained.change) ** 2,
    control: ((of.responseDeviation * truth.controlShare) / spread.control.change) ** 2,
  };
  const estimated = settings.variances === "estimated";
  const effects: SimulatedEffect[] = [];
  const covariances: { indices: number[]; values: number[] }[] = [];

  for (let number = 1; number <= settings.studies; number += 1) {
    const study = `simulated ${number}`;
    const arms = between(settings.arms, stream);
    const readings = between(settings.effects, stream);
    const studyShift = of.studyDeviation * stream.normal() - controlArm * stream.normal();
    const control = groupErrors(
      readings,
      between(settings.people, stream),
      spread.control.change,
      shared.control,
      estimated,
      stream,
    );
    const studyDose = 2 * stream.normal();
    const armDoses = Array.from({ length: arms }, () => studyDose + stream.normal());
    const meanDose = armDoses.reduce((total, dose) => total + dose, 0) / arms;
    const places: { arm: number; reading: number; trainedVariance: number }[] = [];
    const first = effects.length;

    for (let arm = 0; arm < arms; arm += 1) {
      const drawn =
        settings.doses === "varied"
          ? drawDose(stream)
          : { dose: demoReferenceDose, weeks: settings.weeks };
      const armShift = of.armDeviation * stream.normal();
      const people = groupErrors(
        readings,
        between(settings.people, stream),
        spread.trained.change,
        shared.trained,
        estimated,
        stream,
      );
      const dose = armDoses[arm] ?? 0;
      const line =
        settings.line === undefined
          ? 0
          : settings.line.between * meanDose + settings.line.within * (dose - meanDose);
      const curveGain =
        trueTrainingGain(truth, family, drawn.dose, { weeks: drawn.weeks }) +
        (against ? 0 : learningEffect(truth, family, drawn.weeks)) +
        line;
      for (let reading = 0; reading < readings; reading += 1) {
        const trueEffect = curveGain + studyShift + armShift + of.effectDeviation * stream.normal();
        const trainedVariance = people.variance[reading] ?? 0;
        const error = (people.error[reading] ?? 0) - (against ? (control.error[reading] ?? 0) : 0);
        places.push({ arm, reading, trainedVariance });
        effects.push({
          effectId: `${study} arm ${arm + 1} reading ${reading + 1}`,
          study,
          arm: `${study} arm ${arm + 1}`,
          estimate: trueEffect + error,
          variance: trainedVariance + (against ? (control.variance[reading] ?? 0) : 0),
          moderators: {
            dose,
            doseStudyMean: meanDose,
            doseWithin: dose - meanDose,
            weeks: drawn.weeks,
            ...doseModerators(drawn.dose),
          },
          curveGain,
          trueEffect,
        });
      }
    }
    covariances.push({
      indices: places.map((_, index) => first + index),
      values: places.flatMap((one) =>
        places.map((other) => {
          const same = one.reading === other.reading;
          const people =
            one.arm !== other.arm
              ? 0
              : Math.sqrt(one.trainedVariance * other.trainedVariance) *
                (same ? 1 : shared.trained);
          const oneControl = control.variance[one.reading] ?? 0;
          const otherControl = control.variance[other.reading] ?? 0;
          const control2 = Math.sqrt(oneControl * otherControl) * (same ? 1 : shared.control);
          return people + (against ? control2 : 0);
        }),
      ),
    });
  }
  return {
    effects,
    covariances,
    varianceByLevel: {
      study: of.studyDeviation ** 2 + controlArm ** 2,
      arm: of.armDeviation ** 2,
      effectId: of.effectDeviation ** 2,
    },
  };
};

const doseModerators = (dose: DemoDose): Readonly<Record<string, number | string>> => ({
  effortPercent: dose.effortPercent,
  holdSeconds: dose.holdSeconds,
  tensionTimeSeconds: dose.tensionTimeSeconds,
  sessionsPerWeek: dose.sessionsPerWeek,
  muscleLength: dose.muscleLength,
  trainingStatus: dose.trainingStatus,
});
