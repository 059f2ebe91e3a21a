import type { Interval } from "../synthesis/synthesis-results.js";
import type { SessionSegment } from "./hold-strip.js";
import type { ScaleDisplay } from "./scale-display.js";

/** One effect as the estimates figure takes it; numbers stand on the analysis scale. */
export type EstimateRow = Readonly<{
  study: string;
  /** What tells the study's effects apart: arm, outcome, angle. */
  label: string;
  estimate: number;
  low: number;
  high: number;
  /** The arm's session; the strip stays blank without one. */
  timeline?: readonly SessionSegment[] | undefined;
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
  display: ScaleDisplay;
  /** Coverage of all intervals, per cent. */
  confidencePercent?: number;
  /** One sentence on the model, for the caption. */
  model?: string;
  /** Words at the two ends of the axis. */
  directions?: Readonly<{ low: string; high: string }>;
}>;

export const estimatesInputDefaults = {
  id: "estimates",
  confidencePercent: 95,
  directions: { low: "worse", high: "better" },
} as const;
