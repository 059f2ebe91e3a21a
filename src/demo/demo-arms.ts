import type { RandomStream } from "../numeric/random-stream.js";
import type { DemoDesignName } from "./demo-plan.js";
import type { DemoArm, DemoPrescription } from "./demo-study.js";
import type { DemoMuscleLength } from "./demo-truth.js";

/** Contractions of a session laid out in whole sets. */
const inSets = (contractions: number): Readonly<{ sets: number; repetitions: number }> => {
  const sets = [4, 3, 5, 2].find((count) => contractions % count === 0) ?? 1;
  return { sets, repetitions: contractions / sets };
};

type DoseOptions = Readonly<{
  effort: number;
  effortHigh?: number;
  hold: number;
  contractions: number;
  frequency?: number;
  fast?: boolean;
}>;

const prescription = (dose: DoseOptions): DemoPrescription => ({
  effortPercent: dose.effort,
  ...(dose.effortHigh === undefined ? {} : { effortPercentHigh: dose.effortHigh }),
  holdSeconds: dose.hold,
  ...inSets(dose.contractions),
  restBetweenRepetitionsSeconds: dose.hold >= 15 ? 30 : dose.hold >= 5 ? 10 : dose.fast ? 5 : 3,
  restBetweenSetsSeconds: dose.hold >= 15 ? 60 : 120,
  sessionsPerWeek: dose.frequency ?? 3,
  fastIntent: dose.fast ?? false,
});

/** Arms of one trial before people are counted. */
export type DemoArmSketch = Omit<DemoArm, "nStart" | "nEnd">;

type Trained = Readonly<{
  muscleLength?: DemoMuscleLength;
  samePeopleAs?: string;
  kind?: "isometric" | "dynamic";
}>;

const trained = (name: string, dose: DoseOptions, options: Trained = {}): DemoArmSketch => ({
  arm: name,
  kind: options.kind ?? "isometric",
  prescription: prescription(dose),
  muscleLength: options.muscleLength ?? "middle",
  ...(options.samePeopleAs === undefined ? {} : { samePeopleAs: options.samePeopleAs }),
});

const untrained: DemoArmSketch = {
  arm: "no training",
  kind: "no exercise",
  muscleLength: "middle",
};

const pick = <T>(stream: RandomStream, items: readonly T[]): T => {
  const item = items[stream.integer(items.length)];
  return item as T;
};

/** Holds that fit the effort, all with one tension time: [short hold, contractions, long hold, contractions]. */
const equalTension = [
  { effort: 70, short: { hold: 3, contractions: 40 }, long: { hold: 20, contractions: 6 } },
  { effort: 75, short: { hold: 2, contractions: 60 }, long: { hold: 15, contractions: 8 } },
  { effort: 70, short: { hold: 4, contractions: 40 }, long: { hold: 20, contractions: 8 } },
  { effort: 50, short: { hold: 5, contractions: 24 }, long: { hold: 30, contractions: 4 } },
  { effort: 80, short: { hold: 1, contractions: 120 }, long: { hold: 10, contractions: 12 } },
] as const;

/**
 * The arms of one invented trial. Holds are short where the effort is high, as in published trials, so that
 * hold and effort move together between trials and only the trials with several arms pull them apart.
 *
 * @param design what the trial compares; `second paper` has no arms of its own
 * @param stream seeded draws choose among a few typical doses
 */
export const demoArms = (
  design: DemoDesignName,
  stream: RandomStream,
): readonly DemoArmSketch[] => {
  const hold = pick(stream, [3, 4, 5]);
  const contractions = pick(stream, [24, 32, 40]);
  const effort = pick(stream, [70, 75, 80]);
  const pair = pick(stream, equalTension);
  switch (design) {
    case "effort ladder": {
      const efforts = pick(stream, [
        [30, 60, 90],
        [40, 60, 80],
        [25, 50, 100],
      ] as const);
      return [
        ...efforts.map((level) =>
          trained(`effort ${level}`, { effort: level, hold, contractions }),
        ),
        untrained,
      ];
    }
    case "equal tension, different holds":
      return [
        trained("short holds", { effort: pair.effort, ...pair.short }),
        trained("long holds", { effort: pair.effort, ...pair.long }),
        untrained,
      ];
    case "holds in two limbs":
      return [
        trained("short-hold limb", { effort: pair.effort, ...pair.short }),
        trained(
          "long-hold limb",
          { effort: pair.effort, ...pair.long },
          { samePeopleAs: "short-hold limb" },
        ),
      ];
    case "short and long":
    case "three lengths": {
      const lengths: readonly DemoMuscleLength[] =
        design === "three lengths" ? ["short", "middle", "long"] : ["short", "long"];
      return [
        ...lengths.map((muscleLength) =>
          trained(`${muscleLength} length`, { effort, hold, contractions }, { muscleLength }),
        ),
        untrained,
      ];
    }
    case "time course":
      return [
        trained("moderate effort", { effort: 50, hold: 6, contractions: 20 }),
        trained("high effort", { effort: 85, effortHigh: 90, hold: 3, contractions: 40 }),
        untrained,
      ];
    case "frequency ladder":
      return [
        ...[1, 2, 4].map((frequency) =>
          trained(`${frequency} a week`, { effort, hold, contractions, frequency }),
        ),
        untrained,
      ];
    case "volume ladder":
      return [
        ...[8, 20, 48].map((count) =>
          trained(`${count} contractions`, {
            effort,
            effortHigh: effort + 5,
            hold,
            contractions: count,
          }),
        ),
        untrained,
      ];
    case "hold ladder":
      return [
        ...[2, 6, 20].map((seconds) =>
          trained(`${seconds} s holds`, { effort: 70, hold: seconds, contractions: 120 / seconds }),
        ),
        untrained,
      ];
    case "sustained and fast":
      return [
        trained("sustained", { effort: 75, hold: 3, contractions: 40 }),
        trained("fast", { effort: 80, hold: 1, contractions: 40, fast: true }),
        untrained,
      ];
    case "isometric and dynamic":
      return [
        trained("isometric", { effort, hold, contractions }),
        trained("dynamic", { effort, hold, contractions }, { kind: "dynamic" }),
        untrained,
      ];
    case "effort in two limbs":
      return [
        trained("low-effort limb", { effort: 55, hold: 3, contractions: 33 }),
        trained(
          "high-effort limb",
          { effort: 90, hold: 3, contractions: 20 },
          { samePeopleAs: "low-effort limb" },
        ),
        untrained,
      ];
    case "effort by hold":
      return [
        trained("low effort, short holds", { effort: 45, hold: 4, contractions: 30 }),
        trained("low effort, long holds", { effort: 45, hold: 30, contractions: 4 }),
        trained("high effort, short holds", { effort: 75, hold: 4, contractions: 30 }),
        trained("high effort, long holds", { effort: 75, hold: 15, contractions: 8 }),
        untrained,
      ];
    case "equal torque-time":
      return [
        trained("long and easy", { effort: 40, hold: 20, contractions: 10 }),
        trained("short and hard", { effort: 80, hold: 5, contractions: 20 }),
        untrained,
      ];
    case "clinical":
      return [
        trained("long holds", { effort: 70, hold: 40, contractions: 5, frequency: 4 }),
        trained("short holds", {
          effort: 70,
          effortHigh: 75,
          hold: 8,
          contractions: 25,
          frequency: 4,
        }),
        untrained,
      ];
    case "single group":
      return [trained("training", { effort: 100, hold, contractions: 20 })];
    case "second paper":
      return [];
  }
};
