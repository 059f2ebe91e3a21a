import { CallError } from "../errors.js";
import { capital, formatNumber } from "../tables/number-format.js";
import { shownDuration } from "../tables/shown-duration.js";
import type { Figure } from "./figure.js";
import { roomOf, type Room } from "./frame.js";
import {
  commonStripScale,
  holdStrip,
  holdStripLayers,
  inSeconds,
  segmentsOf,
  type SessionSegment,
} from "./hold-strip.js";
import { axisRoom, panelDrawing, type Words } from "./layer.js";
import { drawnChart } from "./row-chart.js";
import { figureTheme } from "./theme.js";
import { timeTicks } from "./time-ticks.js";
import { clipText, oneLine, roughTextWidth, wrapText } from "./wrap-text.js";

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

const type = figureTheme.sizes.small;
const lineHeight = 14;
/** Where the percents of intensity stand, left of the strips. */
const labels = 34;

/** A hold's length, written above its block where there is room; in units of the axis and percent of intensity. */
const holdWords = (
  segments: readonly SessionSegment[],
  { unit, across, above }: Readonly<{ unit: number; across: number; above: number }>,
): readonly Words[] =>
  segments.flatMap(({ kind, startSeconds, endSeconds, intensityPercent }) => {
    const seconds = endSeconds - startSeconds;
    const text = `${formatNumber(seconds, { digits: Number.isInteger(seconds) ? 0 : 1 })} s`;
    if (kind !== "hold" || seconds * across < 1.15 * roughTextWidth(text, type) + 2) return [];
    const y = Math.min(100, intensityPercent ?? 50) + above;
    return [{ x: (startSeconds + endSeconds) / 2 / unit, y, text }];
  });

type Taken = Readonly<{ label: string; long: number; tension: number }>;

/** How long sessions take and how much of it is tension: of one or two each, of more the longest and the shortest. */
const answerOf = (taken: readonly Taken[]): string => {
  const byLength = [...taken].sort((a, b) => b.long - a.long);
  const [first, second] = taken.length > 2 ? [byLength[0]!, byLength.at(-1)!] : taken;
  const { label, long, tension } = first!;
  return capital(
    `${clipText(label, 40)} takes ${shownDuration(long)}, ${shownDuration(tension)} of it under tension${
      second === undefined
        ? ""
        : `; ${clipText(second.label, 40)}${taken.length > 2 ? ", the shortest of " + String(taken.length) + "," : ""} ${shownDuration(second.long)}, ${shownDuration(second.tension)} of it`
    }`,
  );
};

/**
 * One to six sessions drawn to scale under each other, on one time scale.
 *
 * Time runs along and effort up; holds are blocks with their seconds above them, rests are gaps. Where
 * the whole sessions would blur at this width, one set of each is drawn and the figure says so.
 *
 * @param input  sessions with their names; each timeline as `sessionTimeline` gives it
 * @throws {CallError} "sessions-count", "empty-timeline", "timeline-not-in-order"
 */
export const holdStripFigure = (input: HoldStripFigureInput, room: Room = roomOf()): Figure => {
  const { sessions } = input;
  if (sessions.length < 1 || sessions.length > 6) {
    throw new CallError({
      code: "sessions-count",
      where: "holdStripFigure",
      needs: "one to six sessions",
      got: String(sessions.length),
    });
  }
  const slide = room.size === "slide";
  const width = room.width - labels - 6;
  const scale = commonStripScale(
    sessions.map(({ timeline }) => timeline),
    width,
  );
  const each = scale.secondsAcross === null;
  // A slide shares its height out; the words of a strip stand above it.
  const share = slide ? Math.floor((each ? 120 : 150) / sessions.length) : 100;
  const seconds = !slide || share >= 50;
  const named = sessions.length > 1;
  const rows = sessions.map(({ label: written, summary = "", timeline }, index) => {
    const label = oneLine(written);
    const frame = { left: 0, top: 100, width, height: -100 };
    const strip = holdStrip(timeline, {
      ...frame,
      ...(each ? {} : { part: scale.part, secondsAcross: scale.secondsAcross }),
    });
    const across = scale.secondsAcross ?? strip.seconds;
    const unit = across > 120 ? 60 : 1;
    const aside = [
      strip.part === "whole session"
        ? ""
        : each
          ? `${strip.part} shown, ${shownDuration(strip.seconds)}`
          : `${strip.part} shown`,
      strip.holdsWithoutEffort.length > 0 ? "intensity not stated, drawn at half height" : "",
      named ? oneLine(summary) : "",
    ]
      .filter((piece) => piece !== "")
      .join("; ");
    const fit = { width: room.width - 6, fontSize: 1.08 * type };
    const asideWidth = 1.1 * roughTextWidth(aside, type);
    const most = Math.max(12, Math.floor((fit.width - (slide ? asideWidth : 0)) / 7.5));
    const name = named ? clipText(label, most) : "";
    const oneWide = name !== "" && 1.1 * roughTextWidth(name, type) + asideWidth + 24 < fit.width;
    const lines =
      aside === "" || oneWide
        ? []
        : slide && name !== ""
          ? []
          : wrapText(aside, { ...fit, lines: 3 });
    const first = name === "" ? 0 : 1;
    const above = lineHeight * (first + lines.length);
    const numbers = seconds ? 13 : 2;
    const height = Math.max(8, slide ? share - above - numbers - 2 : 54);
    const total = above + numbers + height;
    const perUnit = 100 / height;
    const drawn = inSeconds(strip, across / width / unit);
    const last = each || index === sessions.length - 1;
    const draw = panelDrawing(`session ${index + 1}`, {
      width,
      height: total,
      x: [0, across / unit],
      y: [total * perUnit, 0],
      xAxis: {
        title: last && !(slide && each) ? (unit === 60 ? "minutes" : "seconds") : null,
        values: timeTicks(across, Math.max(3, Math.round(width / 70))).map(
          (tick) => tick.seconds / unit,
        ),
        labels: last,
        ticks: last,
        labelFlush: 12,
        grid: false,
      },
      yAxis: {
        title: null,
        // The lowest strips have room for one label.
        values: height < 22 ? [100] : height < 34 ? [0, 100] : [0, 50, 100],
        ...(height < 22 ? { labelBaseline: "top" } : {}),
        labelExpr: "datum.label + '%'",
        tickSize: 0,
      },
    });
    const top = (line: number): number => (total - 7 - lineHeight * line) * perUnit;
    const start = (-labels / width) * (across / unit);
    const shown = segmentsOf(timeline, strip.part).filter(
      ({ endSeconds }) => endSeconds <= strip.seconds + 1e-9,
    );
    const words = seconds
      ? holdWords(shown, { unit, across: width / across, above: 7 * perUnit })
      : [];
    const panel = draw.panel([
      draw.boxes("ground", "band", [{ x: 0, x2: across / unit, y: 100, y2: 0 }]),
      ...holdStripLayers([drawn], draw),
      draw.words("hold seconds", "text-small", words, { align: "center" }),
      draw.words(
        "label",
        "text-strong",
        name === "" ? [] : [{ x: start, y: top(0), text: name, full: label }],
      ),
      draw.words(
        "summary beside",
        "text-quiet",
        oneWide && aside !== "" ? [{ x: across / unit, y: top(0), text: aside }] : [],
        { align: "right" },
      ),
      draw.words(
        "summary",
        "text-quiet",
        lines.map((text, line) => ({ x: start, y: top(line + first), text })),
      ),
    ]);
    const holds = timeline.filter(({ kind }) => kind === "hold");
    return {
      label,
      strip,
      words,
      aside,
      long: timeline.at(-1)?.endSeconds ?? 0,
      tension: holds.reduce((sum, hold) => sum + hold.endSeconds - hold.startSeconds, 0),
      view: {
        hconcat: [axisRoom(`axis ${index + 1}`, labels, total), panel],
        spacing: 0,
        bounds: "flush",
      },
      total: total + (each ? 20 : 6),
    };
  });
  const title = answerOf(rows);
  const drawnAs = each
    ? "each session on its own time scale"
    : scale.part === "whole session"
      ? "whole sessions on one time scale"
      : "one set of each on one time scale, as whole sessions would blur";
  const rests = sessions.some(({ timeline }) =>
    timeline.some(({ kind }) => kind === "rest between sets"),
  );
  const description = `${title}. ${oneLine(input.title)}: ${rows
    .map(({ label, strip, aside }) =>
      [label, `${shownDuration(strip.seconds)} drawn`, aside].filter((p) => p !== "").join(", "),
    )
    .join("; ")}.`;
  return {
    id: input.id ?? "hold-strip",
    title,
    brief: `Blocks are holds, as high as their intensity${rests ? "; dotted: rests between sets" : ""}.`,
    caption: `Drawn to scale: ${drawnAs}. Time runs along, intensity in percent of the maximum runs up; blocks are holds${rows.some(({ words }) => words.length > 0) ? " with their seconds" : ""}, gaps are rests, dotted where they part sets.`,
    ...drawnChart(
      {
        view: { vconcat: rows.map(({ view }) => view), spacing: slide ? 2 : 10 },
        width: room.width,
        height: rows.reduce((sum, { total }) => sum + total, slide ? 21 : 30),
      },
      { text: [title], subtitle: [`${oneLine(input.title).replace(/[.]$/u, "")}.`], description },
    ),
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
