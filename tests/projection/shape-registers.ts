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
): Readonly<{ set: EffectSet; doses: readonly Dose[] }> => {
  const doses: Dose[] = [];
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
      doses.push(dose);
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
  return { set: handMadeSet(written), doses };
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

export type Tally = {
  averages: number;
  averagesHeld: number;
  differences: number;
  differencesHeld: number;
  /** Pairs whose true difference is at least the amount: called, and called rightly. */
  large: number;
  called: number;
  right: number;
  /** Pairs whose true difference is smaller. */
  small: number;
  smallCalled: number;
  /** Sum of the widths of the averages' ranges, percentage points. */
  width: number;
  registers: number;
  refused: number;
};

const pairsEach = 6;

/** Registers of one cell, each asked for six pairs of protocols inside what it studied. */
export const tallyOf = (
  cell: Cell,
  registers: number,
  seed: number,
  shapes?: readonly ProjectionShape[],
): Tally => {
  const stream = randomStream(seed);
  const tally: Tally = {
    ...{ averages: 0, averagesHeld: 0, differences: 0, differencesHeld: 0, large: 0, called: 0 },
    ...{ right: 0, small: 0, smallCalled: 0, width: 0, registers, refused: 0 },
  };
  const truth = truths[cell.truth];
  for (let register = 0; register < registers; register++) {
    const { set } = registerOf(cell, stream);
    const pairs = Array.from({ length: pairsEach }, () =>
      [0, 1].map(() => drawnDose(stream, cell.confounded, between(stream, 45, 85))),
    );
    const prepared = prepareProjection(set, {
      goal: "strength at the trained angle",
      quadrature: { points: 7, tolerance: Infinity },
      ...(shapes === undefined ? {} : { shapes }),
    });
    if (prepared.kind === "refusal") {
      tally.refused += 1;
      continue;
    }
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
      const [difference] = compared.differences;
      const real = truth(pair[0]!) - truth(pair[1]!);
      tally.differences += 1;
      if (difference!.average.low <= real && real <= difference!.average.high)
        tally.differencesHeld += 1;
      const isCalled = difference!.verdict.call !== "tie";
      if (Math.abs(real) >= Math.log1p(amount / 100)) {
        tally.large += 1;
        if (isCalled) tally.called += 1;
        if (isCalled && (difference!.verdict.call === "first is better") === real > 0)
          tally.right += 1;
      } else {
        tally.small += 1;
        if (isCalled) tally.smallCalled += 1;
      }
    }
  }
  return tally;
};

const share = (part: number, whole: number): string =>
  whole === 0
    ? "–"
    : `${((100 * part) / whole).toFixed(1)}% ± ${(100 * Math.sqrt(((part / whole) * (1 - part / whole)) / whole)).toFixed(1)} (${part}/${whole})`;

/** One line of the printed table; ± is the Monte Carlo error as if pairs were independent. */
export const tallyLine = ({ truth, studies, confounded }: Cell, t: Tally): string =>
  [
    `${truth}, ${studies} studies, ${confounded ? "confounded" : "clean"}`,
    `average held ${share(t.averagesHeld, t.averages)}`,
    `difference held ${share(t.differencesHeld, t.differences)}`,
    `large called ${share(t.called, t.large)}`,
    `of these right ${share(t.right, t.called)}`,
    `small called ${share(t.smallCalled, t.small)}`,
    `width ${(t.width / t.averages).toFixed(1)} points`,
    `registers ${t.registers - t.refused}`,
  ].join(" | ");

export const cells: readonly Cell[] = truthNames.flatMap((truth) =>
  ([5, 12] as const).flatMap((studies) =>
    [false, true].map((confounded) => ({ truth, studies, confounded })),
  ),
);
