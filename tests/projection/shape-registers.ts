import type { EffectSet } from "../../src/effects/effect.js";
import { randomStream, type RandomStream } from "../../src/numeric/random-stream.js";
import { compareProtocols } from "../../src/projection/compare-protocols.js";
import { prepareProjection } from "../../src/projection/prepare-projection.js";
import type { ProjectionShape } from "../../src/projection/projection-shapes.js";
import type { Prescription } from "../../src/protocol/prescription.js";
import { handMadeSet, sessionOf, type WrittenEffect } from "../dose/hand-made-set.js";

// Registers with a known truth, projected and compared: how often ranges hold it and calls are right.

export const truthNames = ["log-linear", "plateau", "inverted U", "intensity × hold"] as const;
export type TruthName = (typeof truthNames)[number];

/** What an arm trains with; gains are at eight weeks, log scale. */
type Dose = Readonly<{ intensity: number; hold: number; tension: number }>;

const ofTension = ({ tension }: Dose): number => 0.03 * Math.log(tension / 120);
const truths: Readonly<Record<TruthName, (dose: Dose) => number>> = {
  "log-linear": (dose) => 0.2 + 0.16 * Math.log(dose.intensity / 75) + ofTension(dose),
  plateau: (dose) => 0.06 + 0.16 * Math.min(1, (dose.intensity - 30) / 35) + ofTension(dose),
  "inverted U": (dose) => 0.24 - 0.09 * ((dose.intensity - 68) / 28) ** 2 + ofTension(dose),
  "intensity × hold": (dose) =>
    0.2 + Math.log(dose.intensity / 75) * (0.17 - 0.07 * Math.log(dose.hold / 5)) + ofTension(dose),
};

const spread = { study: 0.05, arm: 0.025, change: 0.13 } as const;
const intensities = { low: 30, high: 100 } as const;
const holds = { low: 3, high: 40 } as const;

export type Cell = Readonly<{ truth: TruthName; studies: 5 | 12; confounded: boolean }>;

const between = (stream: RandomStream, low: number, high: number): number =>
  low + (high - low) * stream.uniform();

/**
 * A dose as trials choose them. Clean: intensity, hold and tension time apart. Confounded: harder holds are shorter
 * (r about −0.9 on the logarithms).
 */
const drawnDose = (stream: RandomStream, confounded: boolean, centre: number): Dose => {
  const intensity = Math.min(
    intensities.high,
    Math.max(intensities.low, Math.round((centre + between(stream, -30, 30)) / 5) * 5),
  );
  const share = confounded
    ? 1 -
      Math.log(intensity / intensities.low) / Math.log(intensities.high / intensities.low) +
      between(stream, -0.2, 0.2)
    : stream.uniform();
  const hold = Math.round(holds.low * (holds.high / holds.low) ** Math.min(1, Math.max(0, share)));
  const repetitions = Math.max(1, Math.round(between(stream, 60, 240) / hold));
  return { intensity, hold, tension: repetitions * hold };
};

/** Two or three arms a study. Confounded: people of studies that train harder gain more whatever they do. */
export const registerOf = (
  { truth, studies, confounded }: Cell,
  stream: RandomStream,
): EffectSet => {
  const written: WrittenEffect[] = [];
  for (let study = 0; study < studies; study++) {
    const centre = between(stream, 45, 85);
    const lean = confounded ? (centre - 65) / 11.5 : stream.normal();
    const level = spread.study * (0.6 * lean + 0.8 * stream.normal());
    const arms = 2 + (stream.uniform() < 0.4 ? 1 : 0);
    for (let arm = 0; arm < arms; arm++) {
      const dose = drawnDose(stream, confounded, centre);
      const people = Math.round(between(stream, 8, 22));
      const variance = spread.change ** 2 / people;
      const weeks = [6, 8, 8, 10, 12][stream.integer(5)]!;
      const share = -Math.expm1(-weeks / 5) / -Math.expm1(-8 / 5);
      written.push({
        study: `study ${study + 1}`,
        arm: `arm ${arm + 1}`,
        estimate:
          share * (truths[truth](dose) + level + spread.arm * stream.normal()) +
          Math.sqrt(variance) * stream.normal(),
        variance,
        row: {
          ...sessionOf(1, dose.tension / dose.hold, dose.hold, dose.intensity),
          weeks,
          muscleLength: "middle",
        },
      });
    }
  }
  return handMadeSet(written);
};

const prescriptionOf = ({ intensity, hold, tension }: Dose): Prescription => ({
  sets: 1,
  repetitions: tension / hold,
  holdSeconds: hold,
  intensityPercent: intensity,
  sessionsPerWeek: 3,
  weeks: 8,
});

/** Of the strength family: what counts, percentage points. */
export const amount = 5;

/** What one register gave. */
export type Tally = {
  averages: number;
  averagesHeld: number;
  differences: number;
  differencesHeld: number;
  /** Pairs whose true difference is at least the amount: called, and called rightly. */
  large: number;
  largeCalled: number;
  largeRight: number;
  /** Pairs whose true difference is smaller. */
  small: number;
  smallCalled: number;
  /** Trials left out in turn, and those that fell inside the range given for them. */
  leftOut: number;
  leftOutInside: number;
  /** Sum of the widths of the averages' ranges, percentage points. */
  width: number;
};
export type Count = keyof Tally;

const pairsEach = 6;

/** Registers of one cell, each asked for six pairs of protocols inside what it studied; refused ones are left out. */
export const talliesOf = (
  cell: Cell,
  registers: number,
  seed: number,
  shapes?: readonly ProjectionShape[],
): readonly Tally[] => {
  const stream = randomStream(seed);
  const truth = truths[cell.truth];
  return Array.from({ length: registers }, (): Tally | undefined => {
    const set = registerOf(cell, stream);
    const pairs = Array.from({ length: pairsEach }, () =>
      [0, 1].map(() => drawnDose(stream, cell.confounded, between(stream, 45, 85))),
    );
    const prepared = prepareProjection(set, {
      goal: "strength at the trained angle",
      quadrature: { points: 7, tolerance: Infinity },
      ...(shapes === undefined ? {} : { shapes }),
    });
    if (prepared.kind === "refusal") return undefined;
    const tally: Tally = {
      ...{ averages: 0, averagesHeld: 0, differences: 0, differencesHeld: 0, large: 0 },
      ...{ largeCalled: 0, largeRight: 0, small: 0, smallCalled: 0, width: 0 },
      leftOut: prepared.leftOut.trials.length,
      leftOutInside: prepared.leftOut.inside,
    };
    for (const pair of pairs) {
      const compared = compareProtocols(prepared, pair.map(prescriptionOf), {
        course: false,
        smallestWorthwhilePercent: amount,
      });
      if (compared.kind === "refusal") continue;
      if (compared.protocols.some(({ projection }) => projection.support.extrapolates)) continue;
      compared.protocols.forEach(({ projection }, i) => {
        const { average } = projection.ranges;
        const real = truth(pair[i]!);
        tally.averages += 1;
        tally.width += average.percent.high - average.percent.low;
        if (average.low <= real && real <= average.high) tally.averagesHeld += 1;
      });
      const { average, verdict } = compared.differences[0]!;
      const real = truth(pair[0]!) - truth(pair[1]!);
      tally.differences += 1;
      if (average.low <= real && real <= average.high) tally.differencesHeld += 1;
      const called = verdict.call !== "tie";
      if (Math.abs(real) >= Math.log1p(amount / 100)) {
        tally.large += 1;
        if (called) tally.largeCalled += 1;
        if (called && (verdict.call === "first is better") === real > 0) tally.largeRight += 1;
      } else {
        tally.small += 1;
        if (called) tally.smallCalled += 1;
      }
    }
    return tally;
  }).filter((tally) => tally !== undefined);
};

/** A share over all registers, with its Monte Carlo error (pairs of one register lean on the same trials). */
export const shareOf = (
  tallies: readonly Tally[],
  part: Count,
  whole: Count,
): Readonly<{ part: number; whole: number; share: number; error: number }> => {
  const sum = (count: Count): number => tallies.reduce((total, tally) => total + tally[count], 0);
  const [parts, all] = [sum(part), sum(whole)];
  const share = parts / all;
  const squares = tallies.reduce(
    (total, tally) => total + (tally[part] - share * tally[whole]) ** 2,
    0,
  );
  return { part: parts, whole: all, share, error: Math.sqrt(squares) / all };
};

/** One line of the printed table. */
export const cellLine = (
  { truth, studies, confounded }: Cell,
  tallies: readonly Tally[],
): string => {
  const words = (part: Count, whole: Count): string => {
    const { part: count, whole: all, share, error } = shareOf(tallies, part, whole);
    return all === 0
      ? "none"
      : `${(100 * share).toFixed(1)}% ± ${(100 * error).toFixed(1)} (${count}/${all})`;
  };
  return [
    `${truth}, ${studies} studies, ${confounded ? "confounded" : "clean"}, ${tallies.length} registers`,
    `average held ${words("averagesHeld", "averages")}`,
    `difference held ${words("differencesHeld", "differences")}`,
    `${amount} points or more: called ${words("largeCalled", "large")}, rightly ${words("largeRight", "largeCalled")}`,
    `less: called ${words("smallCalled", "small")}`,
    `trials left out inside ${words("leftOutInside", "leftOut")}`,
    `width ${shareOf(tallies, "width", "averages").share.toFixed(1)} points`,
  ].join(" | ");
};

export const cells: readonly Cell[] = truthNames.flatMap((truth) =>
  ([5, 12] as const).flatMap((studies) =>
    [false, true].map((confounded) => ({ truth, studies, confounded })),
  ),
);
