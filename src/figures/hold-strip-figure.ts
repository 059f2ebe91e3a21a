import { CallError } from "../errors.js";
import { formatNumber } from "../tables/number-format.js";
import type { Figure } from "./figure.js";
import {
  commonStripScale,
  holdStrip,
  holdStripLayers,
  segmentsOf,
  type SessionSegment,
} from "./hold-strip.js";
import { panelDrawing, plainFrame, type Words } from "./layer.js";
import { shownDuration } from "../tables/shown-duration.js";
import { themeConfig } from "./theme-config.js";
import { timeTicks } from "./time-ticks.js";
import { oneLine, wrapText } from "./wrap-text.js";

/** A session to draw, with its name and the numbers that go beside it. */
export type NamedSession = Readonly<{
  label: string;
  timeline: readonly SessionSegment[];
  /** Derived quantities in words, for example "60 s of tension, 4 min long". */
  summary?: string;
}>;

export type HoldStripFigureInput = Readonly<{
  id?: string;
  title: string;
  sessions: readonly NamedSession[];
}>;

const left = 46;
const stripWidth = 620;
const stripHeight = 54;
const rowHeight = 118;

/** A hold's length, written in its block where there is room. */
const holdWords = (
  segments: readonly SessionSegment[],
  top: number,
  unitsPerSecond: number,
): readonly Words[] =>
  segments.flatMap(({ kind, startSeconds, endSeconds, intensityPercent }) => {
    const seconds = endSeconds - startSeconds;
    const text = `${formatNumber(seconds, { digits: Number.isInteger(seconds) ? 0 : 1 })} s`;
    if (kind !== "hold" || seconds * unitsPerSecond < text.length * 6 + 2) return [];
    const effort = Math.min(100, intensityPercent ?? 50);
    const y = top + stripHeight * (1 - effort / 100) - 7;
    return [{ x: left + ((startSeconds + endSeconds) / 2) * unitsPerSecond, y, text }];
  });

/**
 * One to six sessions drawn to scale under each other, on one time scale.
 *
 * Time runs along and effort up; holds are blocks with their seconds above them, rests are gaps. Where
 * the whole sessions would blur at this width, one set of each is drawn and the figure says so.
 *
 * @param input  sessions with their names; each timeline as `sessionTimeline` gives it
 * @throws {CallError} "sessions-count", "empty-timeline", "timeline-not-in-order"
 */
export const holdStripFigure = (input: HoldStripFigureInput): Figure => {
  const { sessions, title } = input;
  if (sessions.length < 1 || sessions.length > 6) {
    throw new CallError({
      code: "sessions-count",
      where: "holdStripFigure",
      needs: "one to six sessions",
      got: String(sessions.length),
    });
  }
  const scale = commonStripScale(
    sessions.map(({ timeline }) => timeline),
    stripWidth,
  );
  const width = left + stripWidth + 24;
  const height = sessions.length * rowHeight;
  const draw = panelDrawing("sessions", plainFrame(width, height));
  const rows = sessions.map(({ label, summary, timeline }, index) => {
    const top = index * rowHeight + 38;
    const strip = holdStrip(timeline, {
      left,
      top,
      width: stripWidth,
      height: stripHeight,
      ...(scale.secondsAcross === null
        ? {}
        : { part: scale.part, secondsAcross: scale.secondsAcross }),
    });
    const across = scale.secondsAcross ?? strip.seconds;
    const shownPart = strip.part === "whole session" ? "" : `${strip.part} shown`;
    const effortUnknown =
      strip.holdsWithoutEffort.length > 0 ? "intensity not stated, drawn at half height" : "";
    return {
      label: oneLine(label),
      aside: [shownPart, effortUnknown, summary === undefined ? "" : oneLine(summary)]
        .filter((piece) => piece !== "")
        .join("; "),
      top,
      bottom: top + stripHeight,
      strip,
      across,
      words: holdWords(
        segmentsOf(timeline, strip.part).filter(
          ({ endSeconds }) => endSeconds <= strip.seconds + 1e-9,
        ),
        top,
        stripWidth / across,
      ),
    };
  });
  const ticks = rows.flatMap(({ bottom, across }) =>
    timeTicks(across).map(({ seconds, label }) => ({
      x: left + (seconds / across) * stripWidth,
      y: bottom,
      text: label,
    })),
  );
  const effortMarks = rows.flatMap(({ top }) =>
    [0, 50, 100].map((effort) => ({ y: top + stripHeight * (1 - effort / 100), effort })),
  );
  const labelWidth = 250;
  const layers = [
    draw.boxes(
      "grounds",
      "band",
      rows.map(({ top, bottom }) => ({ x: left, x2: left + stripWidth, y: top, y2: bottom })),
    ),
    draw.lines(
      "intensity grid",
      "grid",
      effortMarks.map(({ y }) => ({ x: left, x2: left + stripWidth, y, y2: y })),
    ),
    draw.lines(
      "time marks",
      "grid",
      ticks.map(({ x, y }) => ({ x, x2: x, y, y2: y + 4 })),
    ),
    ...holdStripLayers(
      rows.map(({ strip }) => strip),
      draw,
    ),
    draw.words(
      "time",
      "text-small",
      ticks.map((tick) => ({ ...tick, y: tick.y + 12 })),
      {
        align: "center",
      },
    ),
    draw.words(
      "intensity",
      "text-small",
      effortMarks.map(({ y, effort }) => ({ x: left - 6, y, text: `${effort}%` })),
      { align: "right" },
    ),
    draw.words(
      "hold seconds",
      "text-small",
      rows.flatMap(({ words }) => words),
      {
        align: "center",
      },
    ),
    draw.words(
      "labels",
      "text-strong",
      rows.map(({ label, top }) => ({ x: left, y: top - 26, text: label, full: label })),
      { limit: rows.some(({ aside }) => aside !== "") ? labelWidth : stripWidth },
    ),
    draw.words(
      "summaries",
      "text-quiet",
      rows.map(({ aside, top }) => ({
        x: left + stripWidth,
        y: top - 26,
        text: aside,
        full: aside,
      })),
      { align: "right", limit: stripWidth - labelWidth - 12 },
    ),
  ];
  const drawnAs =
    scale.secondsAcross === null
      ? "one set or its beginning of each, each on its own time scale"
      : scale.part === "whole session"
        ? "whole sessions on one time scale"
        : "one set of each on one time scale, as whole sessions would blur";
  const description = `${oneLine(title)}: ${rows
    .map(({ label, strip, aside }) =>
      [label, `${shownDuration(strip.seconds)} drawn`, aside].filter((p) => p !== "").join(", "),
    )
    .join("; ")}.`;
  return {
    id: input.id ?? "hold-strip",
    title,
    caption: `Drawn to scale: ${drawnAs}. Time runs along, intensity in percent of the maximum runs up; blocks are holds with their seconds, gaps are rests, dotted where they part sets.`,
    description,
    specification: {
      $schema: "https://vega.github.io/schema/vega-lite/v6.json",
      description,
      title: { text: [...wrapText(title, { width, fontSize: 16, lines: 3 })] },
      hconcat: [draw.panel(layers)],
      config: themeConfig("light"),
    },
    data: sessions.flatMap(({ label, timeline }) =>
      timeline.map(({ kind, startSeconds, endSeconds, intensityPercent, set }) => ({
        session: label,
        kind,
        startSeconds,
        endSeconds,
        intensityPercent: intensityPercent ?? null,
        set,
      })),
    ),
  };
};
