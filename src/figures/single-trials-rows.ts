/** What the figure of single trials holds of a comparison, and its words. */
import type { Interval } from "../synthesis/synthesis-results.js";
import { highest, lowest } from "./extremes.js";
import { counted, formatNumber } from "../tables/number-format.js";

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
  /** Whether they are coded alike, so that neither has the higher dose. */
  alike?: boolean;
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

/** From the least to the most that the higher dose gained over the lower; of arms coded alike where there are no others. */
export const spanWords = ({ rows, unit }: SingleTrialsInput): string => {
  const dosed = rows.filter(({ alike }) => alike !== true);
  const told = dosed.length > 0 ? dosed : rows;
  const all = told.map(({ difference }) => difference);
  const trials = counted(new Set(told.map(({ study }) => study)).size, "trial");
  const shown = (value: number): string => formatNumber(value, { digits: 1 });
  const [least, most] = [shown(lowest(all)), shown(highest(all))];
  const sign = unit === "%" ? `point${most === "1.0" ? "" : "s"}` : unit;
  const what = dosed.length > 0 ? "the higher dose minus the lower" : "one arm minus the other";
  return `inside ${trials}: ${what} ${least === most ? `is ${most}` : `runs from ${least} to ${most}`} ${sign}`;
};

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
