import { CallError } from "../errors.js";
import { type RandomStream, randomStream } from "../numeric/random-stream.js";
import { demoArms } from "./demo-arms.js";
import { type DemoPlanLine, demoPlan } from "./demo-plan.js";
import type { DemoArm, DemoMuscle, DemoStudy } from "./demo-study.js";
import type { DemoTrainingStatus } from "./demo-truth.js";

/** Muscle groups the invented trials train. */
export const demoMuscles = {
  kneeExtensors: {
    name: "knee extensors",
    convention: "full extension is 0",
    trainedAt: { short: 40, middle: 65, long: 90 },
    strongestAt: 70,
    torqueSpread: 55,
    torqueMean: 190,
  },
  plantarflexors: {
    name: "plantarflexors",
    convention: "ankle neutral is 0",
    trainedAt: { short: 20, middle: 5, long: -10 },
    strongestAt: -5,
    torqueSpread: 30,
    torqueMean: 125,
  },
  elbowFlexors: {
    name: "elbow flexors",
    convention: "full extension is 0",
    trainedAt: { short: 110, middle: 75, long: 35 },
    strongestAt: 80,
    torqueSpread: 60,
    torqueMean: 62,
  },
} as const satisfies Readonly<Record<string, DemoMuscle>>;

const seedLimit = 2 ** 30;

const pick = <T>(stream: RandomStream, items: readonly T[]): T =>
  items[stream.integer(items.length)] as T;

const muscleFor = (line: DemoPlanLine, stream: RandomStream): DemoMuscle => {
  if (line.design === "short and long" || line.design === "three lengths")
    return demoMuscles.kneeExtensors;
  if (line.families.includes("symptoms")) return demoMuscles.kneeExtensors;
  if (line.families.includes("tendon"))
    return pick(stream, [demoMuscles.plantarflexors, demoMuscles.kneeExtensors]);
  return pick(stream, [
    demoMuscles.kneeExtensors,
    demoMuscles.kneeExtensors,
    demoMuscles.elbowFlexors,
  ]);
};

const statusFor = (line: DemoPlanLine, stream: RandomStream): DemoTrainingStatus =>
  line.design === "clinical"
    ? "clinical"
    : pick<DemoTrainingStatus>(stream, [
        "untrained",
        "untrained",
        "untrained",
        "recreationally active",
        "recreationally active",
        "resistance-trained",
      ]);

const testAnglesFor = (line: DemoPlanLine): readonly number[] | undefined => {
  if (line.design === "short and long") return [30, 45, 60, 75, 90, 105];
  if (line.design === "three lengths") return [40, 65, 90, 110];
  return undefined;
};

const numbered = (number: number): string => String(number).padStart(2, "0");

const peopled = (line: DemoPlanLine, number: number, stream: RandomStream): DemoArm[] => {
  const name = (arm: string): string => `${numbered(number)} ${arm}`;
  const size = 9 + stream.integer(9);
  const arms: DemoArm[] = [];
  for (const sketch of demoArms(line.design, stream)) {
    const nStart = size + stream.integer(3);
    const drop = stream.integer(3);
    const partner = arms.find((arm) => arm.arm === name(sketch.samePeopleAs ?? ""));
    const { samePeopleAs: _unnamed, ...rest } = sketch;
    arms.push({
      ...rest,
      arm: name(sketch.arm),
      ...(partner === undefined ? {} : { samePeopleAs: partner.arm }),
      nStart: partner?.nStart ?? nStart,
      nEnd: partner?.nEnd ?? nStart - drop,
    });
  }
  return arms;
};

/**
 * The papers of an invented register: designs, people, doses and what each paper measures; no results yet.
 *
 * @param count number of papers, 1–999; the plan goes round again beyond its end
 * @param seed whole number; the same seed gives the same register
 * @throws {CallError} when the count is not a whole number in range
 */
export const demoStudies = (count: number, seed: number): readonly DemoStudy[] => {
  if (!Number.isInteger(count) || count < 1 || count > 999)
    throw new CallError({
      code: "study-count",
      where: "demoStudies",
      needs: "a whole number of studies from 1 to 999",
      got: String(count),
    });
  const register = randomStream(seed);
  const studies: DemoStudy[] = [];
  for (let index = 0; index < count; index += 1) {
    const line = demoPlan[index % demoPlan.length] as DemoPlanLine;
    const number = index + 1;
    const stream = randomStream(register.integer(seedLimit));
    const cohortSeed = stream.integer(seedLimit);
    const study = `Invented ${numbered(number)}`;
    const year = 1998 + stream.integer(27);
    const previous = studies[index - 1];
    if (line.design === "second paper" && previous !== undefined) {
      studies.push({
        ...previous,
        number,
        study,
        year: previous.year + 1,
        families: line.families,
        reporting: line.reporting,
        weeksMeasured: [previous.weeks],
        about: `second paper on the people of ${previous.study}`,
      });
      continue;
    }
    const muscle = muscleFor(line, stream);
    const trainingStatus = statusFor(line, stream);
    const weeks = line.design === "time course" ? 12 : pick(stream, [4, 6, 8, 8, 10, 12, 12, 14]);
    const angles = testAnglesFor(line);
    const limbs = line.design.endsWith("two limbs");
    const straightIs180 = muscle.convention === "full extension is 0" && stream.uniform() < 0.12;
    // A reader would meet the pair in two ways: once with a stated cohort, once only through equal numbers.
    const followed = demoPlan[(index + 1) % demoPlan.length]?.design === "second paper";
    studies.push({
      number,
      study,
      cohort: `Halvershore group ${numbered(number)}`,
      cohortStated: followed && limbs,
      cohortSeed,
      year,
      design: limbs
        ? "within-person limbs"
        : line.design === "single group"
          ? "single group"
          : "randomised groups",
      arms: peopled(line, number, stream),
      muscle,
      trainingStatus,
      weeks,
      weeksMeasured: line.design === "time course" ? [4, 8, 12] : [weeks],
      families: line.families,
      testAngles: angles ?? [muscle.trainedAt.middle],
      reporting: line.reporting,
      straightIs180,
      lengthStated: angles !== undefined || stream.uniform() < 0.75,
      about: line.design,
    });
  }
  return studies;
};
