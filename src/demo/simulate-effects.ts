import { CallError } from "../errors.js";
import type { RandomStream } from "../numeric/random-stream.js";
import { drawDose } from "./draw-dose.js";
import { groupErrors } from "./group-errors.js";
import { demoTruthDefaults } from "./demo-truth.js";
import type { DemoFamily, DemoTruth } from "./demo-truth.js";
import {
  demoReferenceDose,
  impliedSpread,
  learningEffect,
  trueTrainingGain,
} from "./true-change.js";
import type { DemoDose } from "./true-change.js";

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
      code: "simulation-size",
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
