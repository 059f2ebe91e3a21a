/** What the rows of a chart hold, and how far its axis reaches. */
import type { Panel } from "./layer.js";
import { figureTheme } from "./theme.js";
import { roughTextWidth } from "./wrap-text.js";

export type ChartRow = Readonly<{
  /** Rows of one group stand together under its name; none where left out. */
  group?: string;
  label: string;
  low: number;
  estimate: number;
  high: number;
  /** Further middles on the same range. */
  more?: readonly number[];
  /** A number that stands beside the range, as a dot of the first kind. */
  dot?: number;
  /** What is claimed of the number: a region with its edges, open where an end is null. */
  claim?: Readonly<{ low: number | null; high: number | null }>;
  /** Which of the two kinds of mark it has. */
  kind: string;
  /** Whether it is left out of what is computed from the others, and hollow. */
  apart?: boolean;
  /** Whether nothing gives it an interval: its middles are open points, and no range is drawn. */
  bare?: boolean;
  /** A word or two at the right. */
  word: string;
  /** Whether the word is set apart from the others. */
  strong?: boolean;
  /** A number after the word, e.g. of trials. */
  aside?: string;
}>;

/** Most rows of a slide. */
export const slideRows = 12;

export type RowChart = Readonly<{
  rows: readonly ChartRow[];
  /** Kinds of mark: the first filled, the second hollow and dashed unless it is computed from the others. */
  kinds: readonly string[];
  /** The kind that is computed from the others. */
  pooled?: string;
  axisTitle: string;
  /** What lies within so much of no change does not count. */
  zone?: Readonly<{ amount: number; words: string }>;
  /** Whether any row is apart, what the two are called. */
  apart?: readonly [inside: string, apart: string];
  /** What stands between the names and the ranges on a page, where it has room. */
  beside?: Readonly<{
    width: number;
    /** Drawn from the tops of the rows, each so high. */
    panel: (tops: readonly number[], step: number, height: number) => Panel;
  }>;
  /** How far rows of a page stand apart, in drawing units. */
  step?: number;
  /** Widest label of a page or a slide as a share of its width; longer ones have two lines. */
  widestLabel?: number;
}>;

/** Where ranges that run very far are cut: every middle and the zone are inside. */
export const domainOf = ({ rows, zone }: RowChart): readonly [number, number] => {
  const inside = [0, ...rows.flatMap(({ estimate, dot = estimate }) => [estimate, dot])];
  inside.push(...rows.flatMap(({ claim }) => [claim?.low ?? [], claim?.high ?? []].flat()));
  if (zone !== undefined) inside.push(-1.4 * zone.amount, 1.4 * zone.amount);
  const [least, most] = [Math.min(...inside), Math.max(...inside)];
  const halves = rows.map(({ low, high }) => (high - low) / 2).sort((a, b) => a - b);
  const usual = 1.5 * (halves[Math.floor((halves.length - 1) * 0.75)] ?? 0);
  const low = Math.max(least - usual, Math.min(least, ...rows.map((row) => row.low)));
  const high = Math.min(most + usual, Math.max(most, ...rows.map((row) => row.high)));
  return [low, high];
};

/** Room that the longest of some texts takes. */
export const widest = (texts: readonly string[], strong = 1.04): number =>
  Math.ceil(
    Math.max(0, ...texts.map((text) => strong * roughTextWidth(text, figureTheme.sizes.small))),
  );

/** The name of an axis at whose ends ranges are cut, with what the marks there say. */
export const runsOn = (title: string, room: number): string | string[] => {
  const key = "\u2039 \u203a: runs on";
  const inOne = `${title} (${key})`;
  return widest([inOne], 1.1) <= room ? inOne : [title, key];
};
