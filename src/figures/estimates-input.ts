import type { EffectScale } from "../effects/effect.js";
import type { Interval } from "../synthesis/synthesis-results.js";
import type { ScaleDisplay } from "../tables/scale-display.js";
import { highest, lowest } from "./extremes.js";
import type { SessionSegment } from "./hold-strip.js";

/** One effect as the estimates figure takes it; numbers stand on the analysis scale. */
export type EstimateRow = Readonly<{
  study: string;
  /** Papers on the same people share one and count as one study; the study's own name where none is given. */
  cohort?: string;
  /** What tells the study's effects apart: arm, outcome, angle. */
  label: string;
  estimate: number;
  low: number;
  high: number;
  /** The arm's session; the strip stays blank without one. */
  timeline?: readonly SessionSegment[] | undefined;
  /** Where the spread is not the row's own: its interval stands on a borrowed one, or it has none, and no weight. */
  spread?: "borrowed" | "none" | undefined;
  /** A doubt about this effect; marked by a letter and explained in the caption. */
  note?: string | undefined;
}>;

/** The pooled answer, on the same scale. */
export type PooledEstimate = Readonly<{
  estimate: number;
  interval: Interval;
  predictionInterval: Interval | null;
}>;

export type EstimatesInput = Readonly<{
  /** File name without ending, kebab-case. */
  id?: string;
  title: string;
  effects: readonly EstimateRow[];
  pooled?: PooledEstimate | undefined;
  scale: EffectScale;
  /** Coverage of all intervals, per cent. */
  confidencePercent?: number;
  /** One sentence on the model, for the caption. */
  model?: string;
  /** Words at the two ends of the axis. */
  directions?: Readonly<{ low: string; high: string }>;
}>;

/** The same with the way its scale is shown, worked out. */
export type ShownEstimates = EstimatesInput & Readonly<{ display: ScaleDisplay }>;

export const estimatesInputDefaults = {
  id: "estimates",
  confidencePercent: 95,
  directions: { low: "worse", high: "better" },
} as const;

/**
 * Ends of the effect axis: every estimate, the pooled intervals and zero are inside; most intervals are.
 *
 * An interval that runs very far would squeeze all others, so intervals may be cut where they pass
 * one and a half times the spread of the estimates beyond the outermost of them; the figure marks the cut and the
 * numbers beside it stay whole.
 */
export const effectDomain = (input: EstimatesInput): readonly [number, number] => {
  const { effects, pooled } = input;
  const inside = [0, ...effects.map(({ estimate }) => estimate)];
  if (pooled !== undefined) {
    inside.push(pooled.estimate, pooled.interval.low, pooled.interval.high);
    if (pooled.predictionInterval !== null) {
      inside.push(pooled.predictionInterval.low, pooled.predictionInterval.high);
    }
  }
  const halves = effects.map(({ low, high }) => (high - low) / 2).sort((a, b) => a - b);
  const usual = halves[Math.floor((halves.length - 1) * 0.75)] ?? 0;
  const innerLow = lowest(inside);
  const innerHigh = highest(inside);
  const allowance = Math.max(1.5 * (innerHigh - innerLow), 1.25 * usual);
  const low = Math.max(
    innerLow - allowance,
    Math.min(innerLow, lowest(effects.map((effect) => effect.low))),
  );
  const high = Math.min(
    innerHigh + allowance,
    Math.max(innerHigh, highest(effects.map((effect) => effect.high))),
  );
  const span = high - low;
  return span > 0 ? [low - 0.03 * span, high + 0.03 * span] : [low - 1, high + 1];
};

/** How many studies stand behind some effects: papers on the same people are one. */
export const studiesIn = (
  effects: readonly Readonly<{ study: string; cohort?: string }>[],
): number => new Set(effects.map(({ study, cohort }) => cohort ?? study)).size;
