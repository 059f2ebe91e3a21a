/** A session drawn to scale in characters: time along, effort up. */
import type { TimelinePart } from "../protocol/session-timeline.js";
import { formatNumber } from "./number-format.js";

export type HoldStripTextOptions = Readonly<{
  /** Cells of the line, at least 30. */
  width?: number;
  /** Lines of the drawing; each has eight steps of effort. */
  height?: number;
}>;
export const holdStripTextDefaults = { width: 100, height: 4 } as const;

/** Seconds one column can stand for. */
const columnSeconds = [0.5, 1, 2, 3, 5, 10, 15, 20, 30, 60, 120, 300, 600, 1800, 3600] as const;
const blocks = [" ", "▁", "▂", "▃", "▄", "▅", "▆", "▇", "█"] as const;
/** Room for the effort marks on the left, "100% ". */
const gutter = 5;

const lengthOf = (parts: readonly TimelinePart[]): number => parts.at(-1)?.endSeconds ?? 0;

/** The seconds a column must stand for so that a drawing of this length fits the line. */
const columnFor = (seconds: number, columns: number): number =>
  columnSeconds.find((each) => seconds / each <= columns) ?? Math.ceil(seconds / columns);

/** Whether every hold and every rest has at least one column of its own. */
const keepsApart = (parts: readonly TimelinePart[], seconds: number): boolean =>
  parts.every(({ startSeconds, endSeconds }) => endSeconds - startSeconds >= seconds - 1e-9);

/** The most of a session that can be told apart: all of it, one set, or the beginning of one. */
const drawnPart = (
  timeline: readonly TimelinePart[],
  columns: number,
): Readonly<{ words: string; parts: readonly TimelinePart[]; seconds: number }> => {
  const firstSet = timeline.filter(({ set, kind }) => set === 1 && kind !== "rest between sets");
  for (const [words, parts] of [
    ["the whole session", timeline],
    ["the first set", firstSet],
  ] as const) {
    const seconds = columnFor(lengthOf(parts), columns);
    if (keepsApart(parts, seconds)) return { words, parts, seconds };
  }
  const shortest = Math.min(
    ...firstSet.map(({ startSeconds, endSeconds }) => endSeconds - startSeconds),
  );
  const seconds = columnSeconds.findLast((each) => each <= shortest) ?? shortest;
  return {
    words: "the beginning of the first set",
    parts: firstSet.filter(({ startSeconds }) => startSeconds < columns * seconds),
    seconds,
  };
};

/** Effort of the part that takes most of a column; 0 in a rest. */
const columnEffort = (parts: readonly TimelinePart[], from: number, to: number): number => {
  let [most, effort] = [0, 0];
  for (const { startSeconds, endSeconds, intensityPercent, kind } of parts) {
    const shared = Math.min(to, endSeconds) - Math.max(from, startSeconds);
    if (shared > most + 1e-9) [most, effort] = [shared, kind === "hold" ? intensityPercent : 0];
  }
  return effort;
};

const clock = (seconds: number): string =>
  seconds < 60
    ? `${formatNumber(seconds, { digits: Number.isInteger(seconds) ? 0 : 1 })}s`
    : `${Math.floor(seconds / 60)}:${String(Math.round(seconds % 60)).padStart(2, "0")}`;

/** Marks of time under the drawing, about every ten columns. */
const ruler = (columns: number, seconds: number): string => {
  const marks = Array.from({ length: columns + 8 }, () => " ");
  for (let column = 0; column < columns; column += 10)
    [...(column === 0 ? "0" : clock(column * seconds))].forEach((letter, index) => {
      marks[column + index] = letter;
    });
  return marks.join("").trimEnd();
};

/**
 * A session drawn to scale in block characters, with marks of effort and time and a line that says the
 * scale. Where the whole session would blur at this width, one set is drawn, or its beginning, and the
 * line says so.
 *
 * @param timeline stretches in order, as `sessionTimeline` gives them; at least one
 * @returns lines joined by line ends, each at most `width` cells
 * @example holdStripText([{ kind: "hold", startSeconds: 0, endSeconds: 20, intensityPercent: 50, set: 1, repetition: 1 }], { height: 2 }).includes("█") // => true
 */
export const holdStripText = (
  timeline: readonly TimelinePart[],
  options: HoldStripTextOptions = {},
): string => {
  const width = Math.max(30, options.width ?? holdStripTextDefaults.width);
  const height = options.height ?? holdStripTextDefaults.height;
  const most = width - gutter - 6;
  const { words, parts, seconds } = drawnPart(timeline, most);
  const columns = Math.min(most, Math.max(1, Math.ceil(lengthOf(parts) / seconds - 1e-9)));
  const steps = Array.from({ length: columns }, (_, column) =>
    Math.round(
      (Math.min(100, columnEffort(parts, column * seconds, (column + 1) * seconds)) / 100) *
        height *
        8,
    ),
  );
  const lines = Array.from({ length: height }, (_, fromTop) => {
    const below = (height - 1 - fromTop) * 8;
    const mark = fromTop === 0 ? "100%" : fromTop === height / 2 ? " 50%" : "    ";
    const drawn = steps.map((step) => blocks[Math.max(0, Math.min(8, step - below))] ?? " ");
    return `${mark} ${drawn.join("")}`.trimEnd();
  });
  return [
    ...lines,
    `  0% ${"─".repeat(columns)}`,
    `     ${ruler(columns, seconds)}`,
    `To scale: ${words}, one column is ${formatNumber(seconds, { digits: Number.isInteger(seconds) ? 0 : 1 })} s.`,
  ].join("\n");
};
