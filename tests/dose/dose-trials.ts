import type { CovarianceBlock, Effect, EffectSet } from "../../src/effects/effect.js";
import type { RandomStream } from "../../src/numeric/random-stream.js";
import type { OutcomeRow } from "../../src/records/outcome-row.js";

export type DoseTrialsOptions = Readonly<{
  studies?: number;
  /** Fewest and most arms of a study. */
  arms?: readonly [number, number];
  /** Readings of each arm. */
  readings?: number;
  /** Gain at an intensity (in percent) and a hold length (in seconds). */
  gain?: (intensity: number, hold: number) => number;
  /** Added to the gain of a whole study: per percent of its mean intensity above 65. */
  confounding?: number;
  /** Added per percent × second about 65 % and 20 s. */
  interaction?: number;
  /** Deviations of study, arm, reading, and of a sampling error. */
  deviations?: readonly [number, number, number, number];
  /** Intensities an arm's dose is drawn from. */
  intensities?: readonly number[];
  /** All arms of a study at one intensity. */
  sameWithin?: boolean;
}>;

export const doseTrialsDefaults = {
  studies: 12,
  arms: [1, 3],
  readings: 2,
  gain: (intensity: number, hold: number) => 0.1 + 0.001 * intensity + 0.002 * hold,
  confounding: 0,
  interaction: 0,
  deviations: [0.04, 0.02, 0.01, 0.05],
  intensities: [30, 40, 50, 60, 70, 80, 90, 100],
  sameWithin: false,
} as const satisfies Required<DoseTrialsOptions>;

const holds = [3, 5, 10, 20, 30, 45] as const;

/** Trials whose gain follows intensity and hold length in a known way, with correlated readings of each arm. */
export const doseTrials = (
  stream: RandomStream,
  options: DoseTrialsOptions = {},
): Readonly<{ set: EffectSet; gain: (intensity: number, hold: number) => number }> => {
  const o: Required<DoseTrialsOptions> = { ...doseTrialsDefaults, ...options };
  const [studyDeviation, armDeviation, readingDeviation, errorDeviation] = o.deviations;
  const truth = (intensity: number, hold: number): number =>
    o.gain(intensity, hold) + o.interaction * (intensity - 65) * (hold - 20);
  const effects: Effect[] = [];
  const blocks: CovarianceBlock[] = [];
  const pick = (list: readonly number[]): number => list[stream.integer(list.length)]!;
  for (let s = 1; s <= o.studies; s++) {
    const study = `study ${s}`;
    const count = o.arms[0] + stream.integer(o.arms[1] - o.arms[0] + 1);
    const shift = studyDeviation * stream.normal();
    const first = pick(o.intensities);
    const doses = Array.from({ length: count }, () => ({
      intensity: o.sameWithin ? first : pick(o.intensities),
      hold: pick(holds),
    }));
    const mean = doses.reduce((total, { intensity }) => total + intensity, 0) / count;
    doses.forEach(({ intensity, hold }, a) => {
      const armShift = armDeviation * stream.normal();
      const start = effects.length;
      const shared = Math.sqrt(0.5) * stream.normal();
      for (let reading = 0; reading < o.readings; reading++) {
        const error = errorDeviation * (shared + Math.sqrt(0.5) * stream.normal());
        const row: OutcomeRow = {
          line: effects.length + 2,
          notReported: [],
          study,
          arm: `arm ${a + 1}`,
          armKind: "isometric",
          outcome: `torque ${reading + 1}`,
          outcomeFamily: "strength",
          intensityPercent: intensity,
          holdSeconds: hold,
          repetitions: 4,
          sets: 3,
          sessionsPerWeek: 3,
          weeks: 8,
        };
        effects.push({
          effectId: `${study} ${a + 1} ${reading + 1}`,
          study,
          cohort: study,
          arm: `arm ${a + 1}`,
          scale: "log-ratio-of-means",
          contrast: "change-within-arm",
          estimate:
            truth(intensity, hold) +
            o.confounding * (mean - 65) +
            shift +
            armShift +
            readingDeviation * stream.normal() +
            error,
          variance: errorDeviation ** 2,
          route: "simulated",
          correlationSource: "not needed",
          participants: 12,
          row,
          notes: [],
        });
      }
      const n = o.readings;
      if (n > 1) {
        blocks.push({
          cluster: study,
          indices: Array.from({ length: n }, (_, i) => start + i),
          values: Array.from(
            { length: n * n },
            (_, at) => errorDeviation ** 2 * (Math.floor(at / n) === at % n ? 1 : 0.5),
          ),
        });
      }
    });
  }
  return {
    set: {
      scale: "log-ratio-of-means",
      contrast: "change-within-arm",
      effects,
      blocks,
      rowUses: [],
      assumptions: [],
      notes: [],
    },
    gain: truth,
  };
};
