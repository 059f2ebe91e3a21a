import { demoTruthDefaults } from "../../src/demo/demo-truth.js";
import type { DemoFamily, DemoMuscleLength } from "../../src/demo/demo-truth.js";
import { demoReferenceDose, trueTrainingGain, type DemoDose } from "../../src/demo/true-change.js";
import type { CovarianceBlock, Effect, EffectSet } from "../../src/effects/effect.js";
import type { RandomStream } from "../../src/numeric/random-stream.js";
import type { OutcomeRow } from "../../src/records/outcome-row.js";
import { groupErrors, impliedSpread } from "../demo/simulate-effects.js";

/** One simulated arm: what it does, and which angles and weeks it is tested at. */
export type SimulatedArm = Readonly<{
  arm: string;
  muscleLength?: DemoMuscleLength;
  dose?: Partial<DemoDose>;
  /** Fields of its rows that the analysis reads. */
  fields?: Partial<OutcomeRow>;
  trainingAngle?: number;
  testAngles?: readonly number[];
  weeks: readonly number[];
}>;

export type SimulatedStudy = Readonly<{ study: string; arms: readonly SimulatedArm[] }>;

export type SimulationOptions = Readonly<{
  family?: DemoFamily;
  people?: number;
  /** Whether studies and arms differ by the same amount everywhere, or in proportion to the gain. */
  deviations?: "the same amount" | "in proportion";
}>;

/**
 * A set of effects drawn from the demonstration truth for the studies described: log gains against no
 * training, with deviations of study, arm and reading and the sampling covariances of shared people.
 */
export const simulatedSet = (
  studies: readonly SimulatedStudy[],
  stream: RandomStream,
  options: SimulationOptions = {},
): EffectSet => {
  const { family = "strength", people = 12, deviations = "the same amount" } = options;
  const truth = demoTruthDefaults;
  const of = truth.families[family];
  const spread = impliedSpread(truth, family, true).change;
  const shared = (of.responseDeviation / spread) ** 2;
  const effects: Effect[] = [];
  const blocks: CovarianceBlock[] = [];
  for (const { study, arms } of studies) {
    const studyShift = of.studyDeviation * stream.normal();
    for (const { arm, muscleLength = "middle", dose, fields, ...test } of arms) {
      const armShift = of.armDeviation * stream.normal();
      const angles = test.testAngles ?? [undefined];
      const readings = angles.flatMap((angle) => test.weeks.map((week) => ({ angle, week })));
      const errors = groupErrors(readings.length, people, spread, shared, false, stream);
      const first = effects.length;
      readings.forEach(({ angle, week }, reading) => {
        const distance =
          angle === undefined || test.trainingAngle === undefined
            ? 0
            : Math.abs(angle - test.trainingAngle);
        const gain = trueTrainingGain(
          truth,
          family,
          { ...demoReferenceDose, muscleLength, ...dose },
          { weeks: week, distanceDegrees: distance },
        );
        // In proportion: a study one deviation up gains so many times more everywhere.
        const scale = deviations === "in proportion" ? gain / of.ceiling : 1;
        const trueEffect =
          gain + scale * (studyShift + armShift) + of.effectDeviation * stream.normal();
        effects.push({
          effectId: `${study} ${arm} ${reading}`,
          study,
          cohort: study,
          arm,
          scale: "log-ratio-of-means",
          contrast: "change-within-arm",
          estimate: trueEffect + errors.error[reading]!,
          variance: errors.variance[reading]!,
          route: "simulated",
          correlationSource: "not needed",
          participants: people,
          row: {
            line: effects.length + 2,
            notReported: [],
            study,
            arm,
            armKind: "isometric",
            outcome: "peak isometric torque",
            outcomeFamily: family,
            ...(muscleLength === "middle" && test.trainingAngle === undefined
              ? {}
              : { muscleLength }),
            ...(test.trainingAngle === undefined
              ? {}
              : { trainingAngleDegrees: [test.trainingAngle] }),
            ...(angle === undefined ? {} : { testAngleDegrees: angle }),
            weeks: Math.max(...test.weeks),
            weekMeasured: week,
            ...fields,
          },
          notes: [],
        });
      });
      const size = readings.length;
      if (size > 1) {
        blocks.push({
          cluster: study,
          indices: readings.map((_, reading) => first + reading),
          values: Array.from({ length: size * size }, (_, at) => {
            const [i, j] = [Math.floor(at / size), at % size];
            const variance = errors.variance[i]!;
            return i === j ? variance : shared * Math.sqrt(variance * errors.variance[j]!);
          }),
        });
      }
    }
  }
  return {
    scale: "log-ratio-of-means",
    contrast: "change-within-arm",
    effects,
    blocks,
    rowUses: [],
    assumptions: [],
    notes: [],
  };
};
