/** What the figure of single trials holds of a comparison, and its words. */
import type { Interval } from "../synthesis/synthesis-results.js";
import { formatNumber } from "../tables/number-format.js";

/** One arm: its dose in words, its gain, and the gain's interval where its row has a weight. */
export type PairedArm = Readonly<{
  dose: string;
  gain: number;
  interval: Interval | null;
  /** Whether the interval stands on a borrowed spread. */
  borrowed: boolean;
}>;

/** Two arms of one trial. */
export type PairedRow = Readonly<{
  /** What they differ in; rows of one variable stand together. */
  variable: string;
  study: string;
  /** What tells this test from others of the study; empty where nothing does. */
  tested: string;
  lower: PairedArm;
  higher: PairedArm;
  difference: number;
  interval: Interval | null;
  /** What else the arms differ in, as it is read. */
  differs: string;
}>;

export type SingleTrialsInput = Readonly<{
  id: string;
  family: string;
  /** Of the gains; of percentages the difference is one of points. */
  unit: string;
  confidence: number;
  rows: readonly PairedRow[];
}>;

/** Between two doses, or what they gained. */
export const arrow = " \u2192 ";

/** A gain in the digits it is shown with. */
export const number = (value: number): string =>
  formatNumber(value, { digits: Number.isInteger(value) ? 0 : 1 });

/** Whose spread an arm's interval stands on. */
export const spreadOf = ({ interval, borrowed }: PairedArm): "its own" | "borrowed" | "none" =>
  interval === null ? "none" : borrowed ? "borrowed" : "its own";

/** What is said of an arm by that. */
export const markWords = {
  "its own": "",
  borrowed: "; spread borrowed, weighted",
  none: "; no spread, not weighted",
} as const;
