import { randomStream } from "../numeric/random-stream.js";
import type { RandomStream } from "../numeric/random-stream.js";
import type { DemoArm, DemoStudy } from "./demo-study.js";
import { demoFamilies } from "./demo-truth.js";
import type { DemoFamily, DemoTruth } from "./demo-truth.js";
import { demoReferenceDose, trueChangeWithinArm } from "./true-change.js";
import type { DemoDose } from "./true-change.js";

/** What the people of one arm scored at one angle, before and after, in the unit of the outcome. */
export type DemoScores = Readonly<{
  study: string;
  arm: DemoArm;
  family: DemoFamily;
  testAngle: number | undefined;
  weeks: number;
  /** True average log gain by the curves alone; positive means improvement. */
  curveGain: number;
  /** The same with this study's, arm's and reading's own deviations: what the sample estimates. */
  trueGain: number;
  pre: readonly number[];
  post: readonly number[];
}>;

/** Mean of the outcome before training, and the decimals the invented paper prints. */
export type DemoMeasure = Readonly<{
  outcome: string;
  method: string;
  unit: string;
  mean: number;
  decimals: number;
  sitePercent?: number;
}>;

/** How each family is measured in this invented paper. */
export const demoMeasure = (study: DemoStudy, family: DemoFamily): DemoMeasure => {
  const knee = study.muscle.name === "knee extensors";
  switch (family) {
    case "strength":
      return {
        outcome: "peak isometric torque",
        method: "dynamometer, best of three",
        unit: "N·m",
        mean: study.muscle.torqueMean,
        decimals: 1,
      };
    case "size":
      if (study.cohortSeed % 3 === 0)
        return {
          outcome: "muscle volume",
          method: "magnetic resonance imaging",
          unit: "cm³",
          mean: knee ? 1750 : 420,
          decimals: 0,
        };
      return study.cohortSeed % 3 === 1
        ? {
            outcome: "cross-sectional area",
            method: "panoramic ultrasound",
            unit: "cm²",
            mean: knee ? 62 : 18,
            decimals: 1,
            sitePercent: 50,
          }
        : {
            outcome: "muscle thickness",
            method: "ultrasound",
            unit: "mm",
            mean: knee ? 24 : 19,
            decimals: 1,
            sitePercent: 50,
          };
    case "tendon":
      return {
        outcome: "tendon stiffness",
        method: "ultrasound and dynamometer",
        unit: "N/mm",
        mean: knee ? 2100 : 240,
        decimals: 1,
      };
    case "symptoms":
      return {
        outcome: "pain 0–10",
        method: "numeric rating on a step-down task",
        unit: "points",
        mean: 4.2,
        decimals: 1,
      };
  }
};

/** The dose of an arm as the true curves take it; the midpoint of a stated range is the true effort. */
export const doseOfArm = (study: DemoStudy, arm: DemoArm): DemoDose => {
  const done = arm.prescription;
  if (done === undefined)
    return {
      ...demoReferenceDose,
      kind: "no exercise",
      effortPercent: 0,
      tensionTimeSeconds: 0,
      sessionsPerWeek: 0,
      trainingStatus: study.trainingStatus,
    };
  return {
    kind: arm.kind,
    effortPercent: (done.effortPercent + (done.effortPercentHigh ?? done.effortPercent)) / 2,
    holdSeconds: done.holdSeconds,
    tensionTimeSeconds: done.holdSeconds * done.repetitions * done.sets,
    sessionsPerWeek: done.sessionsPerWeek,
    muscleLength: arm.muscleLength,
    trainingStatus: study.trainingStatus,
    fastIntent: done.fastIntent,
  };
};

type Person = Readonly<{ baseline: number; response: number }>;

const drawPeople = (count: number, stream: RandomStream): Person[] =>
  Array.from({ length: count }, () => ({ baseline: stream.normal(), response: stream.normal() }));

/** The other limb of the same people: correlated, not equal. */
const otherLimb = (
  people: readonly Person[],
  correlation: number,
  stream: RandomStream,
): Person[] => {
  const own = Math.sqrt(1 - correlation ** 2);
  return people.map((person) => ({
    baseline: correlation * person.baseline + own * stream.normal(),
    response: correlation * person.response + own * stream.normal(),
  }));
};

/**
 * Every score of one invented paper, for all its arms, families, angles and times.
 *
 * A person's log score is baseline + gain + own response + measurement error. The own response is centred so
 * that the ratio of the population means is exactly exp(gain). Strength, size, tendon and pain of the same
 * people are drawn apart from each other; angles and times of one family share the person.
 */
export const demoScores = (study: DemoStudy, truth: DemoTruth): readonly DemoScores[] => {
  const scores: DemoScores[] = [];
  for (const family of study.families) {
    const of = truth.families[family];
    const stream = randomStream(study.cohortSeed + 1 + demoFamilies.indexOf(family));
    const measure = demoMeasure(study, family);
    const studyDeviation = of.studyDeviation * stream.normal();
    const drawn = new Map<string, Person[]>();
    for (const arm of study.arms) {
      const share = arm.kind === "no exercise" ? truth.controlShare : 1;
      const shared = arm.kind === "no exercise" ? 0 : studyDeviation;
      const armDeviation = share * of.armDeviation * stream.normal();
      const twins = drawn.get(arm.samePeopleAs ?? "");
      const people =
        twins === undefined
          ? drawPeople(arm.nEnd, stream)
          : otherLimb(twins, truth.limbCorrelation, stream);
      drawn.set(arm.arm, people);
      const angles = family === "strength" ? study.testAngles : [undefined];
      for (const testAngle of angles) {
        const trainedAt = study.muscle.trainedAt[arm.muscleLength];
        const level =
          testAngle === undefined
            ? 1
            : Math.exp(
                -0.5 * ((testAngle - study.muscle.strongestAt) / study.muscle.torqueSpread) ** 2,
              );
        const centre = Math.log(measure.mean * level);
        const error = (): number => of.measurementDeviation * stream.normal();
        const pre = people.map((person) =>
          Math.exp(centre + of.baselineDeviation * person.baseline + error()),
        );
        // Every paper on a cohort draws all of the cohort's visits, so that shared visits share numbers.
        const visits = study.about === "time course" ? [4, 8, 12] : [study.weeks];
        for (const weeks of visits) {
          const curveGain = trueChangeWithinArm(truth, family, doseOfArm(study, arm), {
            weeks,
            distanceDegrees: testAngle === undefined ? 0 : Math.abs(testAngle - trainedAt),
          });
          const trueGain =
            curveGain + shared + armDeviation + share * of.effectDeviation * stream.normal();
          const response = share * of.responseDeviation;
          const post = people.map((person) =>
            Math.exp(
              centre +
                of.baselineDeviation * person.baseline +
                of.direction * trueGain +
                response * person.response -
                response ** 2 / 2 +
                error(),
            ),
          );
          if (!study.weeksMeasured.includes(weeks)) continue;
          scores.push({
            study: study.study,
            arm,
            family,
            testAngle,
            weeks,
            curveGain,
            trueGain,
            pre,
            post,
          });
        }
      }
    }
  }
  return scores;
};
