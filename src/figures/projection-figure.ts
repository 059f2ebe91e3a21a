import { contrastShortLabel } from "../effects/scale-label.js";
import { CallError } from "../errors.js";
import type { ReadyProjection } from "../projection/prepare-projection.js";
import type { Projection } from "../projection/project-protocol.js";
import type { TimelinePart } from "../protocol/session-timeline.js";
import { capital, confidenceWords, counted, plainNumber } from "../tables/number-format.js";
import { projectionAnswer } from "../tables/projection-table.js";
import { rangeLimits, rangeText } from "../tables/range-cells.js";
import { shownDuration } from "../tables/shown-duration.js";
import type { Figure } from "./figure.js";
import { roomOf, type Room } from "./frame.js";
import { holdStrip, holdStripLayers } from "./hold-strip.js";
import { axisRoom, panelDrawing, plainFrame, uprightAxis, type Panel } from "./layer.js";
import { courseLayers, nestedRanges } from "./projection-course.js";
import { themeConfig } from "./theme-config.js";
import { figureTheme } from "./theme.js";
import { clipText, oneLine, wrapText } from "./wrap-text.js";

/** Reasons of an extrapolation have room for so many letters. */
const reasonLetters = 220;

/** Whole reasons, as many as have room, and how many others there are. */
const someReasons = (reasons: readonly string[]): string => {
  const kept = reasons.filter(
    (_one, place) => place === 0 || reasons.slice(0, place + 1).join("; ").length <= reasonLetters,
  );
  const others = reasons.length - kept.length;
  return others === 0
    ? clipText(kept.join("; "), reasonLetters)
    : `${clipText(kept.join("; "), reasonLetters)}; and ${counted(others, "more reason")}`;
};

export type ProjectionFigureInput = Readonly<{
  id?: string;
  /** Name of the protocol, where it has one beside its written form. */
  name?: string;
  projection: Projection;
  prepared: Pick<ReadyProjection, "contrast" | "weeksStudied">;
  /** The session to draw above; left out where it cannot be laid out. */
  timeline?: readonly TimelinePart[];
  /** Share of the probability inside a range, as it was projected with. */
  confidence?: number;
}>;
export const projectionFigureDefaults = {
  id: "projection",
  confidence: 0.95,
} as const;

const order = [...nestedRanges].reverse();
const type = figureTheme.sizes.small;

type Said = Readonly<{ text: string; style: "text-heading" | "text-body" | "text-pooled-strong" }>;

/**
 * A projection over the weeks: the average, a new group and a single person as three nested ranges, their numbers at
 * the end, and the span of weeks that was studied.
 *
 * Where weeks were not studied the edges are broken and nothing is filled. The session stands above, to scale.
 *
 * @param input from `projectProtocol`, with its course
 * @throws {CallError} "no-course" when the projection was made without its course
 */
export const projectionFigure = (input: ProjectionFigureInput, room: Room = roomOf()): Figure => {
  const { confidence, id } = { ...projectionFigureDefaults, ...input };
  const { projection, prepared } = input;
  const { course, ranges } = projection;
  const last = course.at(-1)?.weeks ?? 0;
  if (course.length < 2 || last <= 0)
    throw new CallError({
      code: "no-course",
      where: "the figure of a projection",
      needs: "a projection with its course over weeks",
      got: `${course.length} points`,
    });
  const [column, slide] = [room.size === "column", room.size === "slide"];
  const labels = 34;
  const wordsWidth = column ? room.width : slide ? 196 : 236;
  const gap = slide ? 20 : 28;
  const left = column ? 0 : gap;
  const plot = column ? room.width - labels - 6 : room.width - labels - gap - wordsWidth;
  const height = column ? 220 : slide ? 122 : 290;
  const percent = confidenceWords(confidence);

  const { low, high } = prepared.weeksStudied;
  const studiedWords =
    low === high
      ? `tests stand at ${counted(low, "week")}`
      : `tests stand between ${plainNumber(low)} and ${plainNumber(high)} weeks`;
  const ends = course.flatMap(({ average, newGroup, person }) =>
    [average, newGroup, person].flatMap((range) => [range.percent.low, range.percent.high]),
  );
  const [least, most] = [Math.min(0, ...ends), Math.max(0, ...ends)];
  const air = Math.max(1, (most - least) * 0.05);
  const [bottom, top] = [least - air, most + air];
  const draw = panelDrawing("projection", {
    width: plot,
    height,
    x: [0, last],
    y: [top, bottom],
    xAxis: { title: "weeks", tickCount: Math.min(last, Math.round(plot / 50)), grid: false },
    yAxis: uprightAxis(`Gain, %, ${contrastShortLabel(prepared.contrast)}`, height),
  });
  const [from, to] = [Math.min(low, last), Math.min(high, last)];
  const mark = Math.max(0, 0.006 * last - (to - from));
  const drawn = draw.panel([
    draw.lines("no change", "zero", [{ x: 0, x2: last, y: 0, y2: 0 }]),
    ...courseLayers(course, { low, high }, draw),
    draw.boxes(
      "studied",
      "studied",
      low <= last
        ? [{ x: from - mark, x2: to + mark, y: bottom, y2: bottom + 0.02 * (top - bottom) }]
        : [],
    ),
  ]);

  const strip =
    slide || input.timeline === undefined || input.timeline.length === 0
      ? undefined
      : holdStrip(input.timeline, { left: 0, top: 0, width: 0.7 * plot, height: 26 });
  const stripWords =
    strip === undefined
      ? ""
      : `${strip.part === "whole session" ? "the session" : strip.part} to scale, ${shownDuration(strip.seconds)}`;
  const session = panelDrawing("session", plainFrame(plot, 46));
  const said = (text: string, style: Said["style"], lines: number): readonly Said[] =>
    wrapText(text, { width: wordsWidth, fontSize: type * 1.06, lines }).map((line) => ({
      text: line,
      style,
    }));
  const list: readonly Said[] = [
    ...said(
      `After ${counted(projection.weeks, "week")}: middle, ${percent} range`,
      "text-heading",
      2,
    ),
    ...order.flatMap(({ key, kind }): readonly Said[] => [
      { text: kind, style: "text-body" },
      { text: rangeText(ranges[key]), style: "text-pooled-strong" },
    ]),
    ...(projection.support.extrapolates
      ? said(
          slide ? "An extrapolation" : `Extrapolation: ${someReasons(projection.support.reasons)}`,
          "text-pooled-strong",
          slide ? 2 : 8,
        )
      : slide
        ? []
        : said(`Grey under the axis: ${studiedWords}.`, "text-body", 3)),
  ];
  const step = slide ? 14 : 17;
  const words = panelDrawing(
    "numbers",
    plainFrame(wordsWidth + left, column ? list.length * step + 8 : height),
  );
  const numbers = words.panel(
    words.styledWords(list.map((line, place) => ({ ...line, x: left, y: 8 + place * step }))),
  );
  const beside = (...panels: readonly Panel[]) =>
    ({ hconcat: panels, spacing: 0, bounds: "flush" }) as unknown as Panel;
  const plotted = [axisRoom("axis", labels, height), drawn] as const;
  const row = column ? beside(...plotted) : beside(...plotted, numbers);
  const above =
    strip === undefined
      ? []
      : [
          beside(
            axisRoom("before the session", labels, 46),
            session.panel([
              ...holdStripLayers([strip], session),
              session.words("session", "text-small", [{ x: 0, y: 38, text: stripWords }]),
            ]),
          ),
        ];
  const named = input.name === undefined ? "" : `${clipText(input.name, column ? 60 : 110)}: `;
  const protocol = `${input.name === undefined ? "" : `${input.name}: `}${projection.written}`;
  const title = `${capital(projection.goal)} after ${counted(projection.weeks, "week")}: ${rangeText(ranges.average)} on average; a single person ${rangeLimits(ranges.person)}%${projection.support.extrapolates ? "; an extrapolation" : ""}.`;
  const description = `${oneLine(protocol)}. ${projectionAnswer(projection, prepared, confidence)}`;
  return {
    id,
    title,
    brief: `Each range holds ${percent}. Grey bar: weeks that trials tested; broken: other weeks.${projection.support.extrapolates ? ` An extrapolation: ${someReasons(projection.support.reasons)}.` : ""}`,
    caption: `Three ranges around one middle, each holding ${percent}: filled, the average over such studies; tinted, a new group's mean; outlined, what a single person of such a group would measure, test error included. ${capital(studiedWords)}; broken edges outside. ${strip === undefined ? "" : `Above: ${stripWords}, intensity up. `}About groups and people like those studied; a forecast for nobody.`,
    description,
    width: room.width,
    height: height + (slide ? 71 : 84),
    specification: {
      $schema: "https://vega.github.io/schema/vega-lite/v6.json",
      description,
      title: {
        text: [title],
        subtitle: [`${named}${clipText(projection.written, 200)}.`],
      },
      vconcat: [...above, row, ...(column ? [numbers] : [])],
      spacing: 22,
      config: themeConfig("light"),
    },
    data: course.map(({ weeks, studied, average, newGroup, person }) => ({
      weeks,
      studied: studied ? "yes" : "no",
      averagePercent: average.percent.estimate,
      averageLowPercent: average.percent.low,
      averageHighPercent: average.percent.high,
      newGroupPercent: newGroup.percent.estimate,
      newGroupLowPercent: newGroup.percent.low,
      newGroupHighPercent: newGroup.percent.high,
      personPercent: person.percent.estimate,
      personLowPercent: person.percent.low,
      personHighPercent: person.percent.high,
    })),
  };
};
