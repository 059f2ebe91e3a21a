import { contrastShortLabel } from "../effects/scale-label.js";
import { CallError } from "../errors.js";
import type { ReadyProjection } from "../projection/prepare-projection.js";
import type { Projection } from "../projection/project-protocol.js";
import type { ThreeRanges } from "../projection/three-ranges.js";
import type { TimelinePart } from "../protocol/session-timeline.js";
import { confidenceWords, counted, plainNumber } from "../tables/number-format.js";
import { projectionAnswer } from "../tables/projection-table.js";
import { rangeText } from "../tables/range-cells.js";
import { scaleDisplay } from "../tables/scale-display.js";
import { axisTicks } from "./axis-ticks.js";
import { clipText, oneLine, wrapText } from "./wrap-text.js";
import type { Figure } from "./figure.js";
import { holdStrip, holdStripLayers } from "./hold-strip.js";
import { panelDrawing, plainFrame } from "./layer.js";
import { courseLayers } from "./projection-course.js";
import { rangeBarLayers } from "./range-bars.js";
import { shownDuration } from "../tables/shown-duration.js";
import { themeConfig } from "./theme-config.js";

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
  /** Beside each other for paper and wide screens, or under each other for narrow ones. */
  layout?: "wide" | "narrow";
}>;
export const projectionFigureDefaults = {
  id: "projection",
  confidence: 0.95,
  layout: "wide",
} as const;

const left = 50;
const plotHeight = 268;
const stripWidth = 250;
const stripHeight = 26;
const sizes = {
  wide: { plot: 452, aside: 232 },
  narrow: { plot: 300, aside: 0 },
} as const;

const names = {
  person: "a single person",
  newGroup: "a new group",
  average: "the average over such studies",
} as const satisfies Record<keyof ThreeRanges, string>;
const styleOf = {
  person: "range-person",
  newGroup: "range-group",
  average: "range-average",
} as const;
const order = ["average", "newGroup", "person"] as const satisfies readonly (keyof ThreeRanges)[];

/** Whole weeks for marks: at most eight. */
const weekTicks = (last: number): readonly number[] => {
  const step = [1, 2, 4, 8, 13, 26, 52].find((each) => last / each <= 8) ?? last / 8;
  return Array.from({ length: Math.floor(last / step + 1e-9) + 1 }, (_, index) => index * step);
};

/**
 * A projection over the weeks: the average, a new group and a single person as three nested ranges, their numbers at
 * the end, and the span of weeks that was studied.
 *
 * Where weeks were not studied the ranges are hatched with dotted edges. The session stands above, to scale.
 *
 * @param input from `projectProtocol`, with its course
 * @throws {CallError} "no-course" when the projection was made without its course
 */
export const projectionFigure = (input: ProjectionFigureInput): Figure => {
  const { confidence, layout, id } = { ...projectionFigureDefaults, ...input };
  const { projection, prepared } = input;
  const { course, ranges } = projection;
  const last = course.at(-1)?.weeks ?? 0;
  if (course.length < 2 || last <= 0) {
    throw new CallError({
      code: "no-course",
      where: "projectionFigure",
      needs: "a projection with its course over weeks",
      got: `${course.length} points`,
    });
  }
  const { plot, aside } = sizes[layout];
  const right = left + plot;
  const strip =
    input.timeline === undefined || input.timeline.length === 0
      ? undefined
      : holdStrip(input.timeline, { left, top: 4, width: stripWidth, height: stripHeight });
  const stripWords =
    strip === undefined
      ? ""
      : strip.part === "whole session"
        ? `the session to scale, ${shownDuration(strip.seconds)}`
        : `${strip.part} to scale, ${shownDuration(strip.seconds)}`;
  const top = strip === undefined ? 24 : 72;
  const bottom = top + plotHeight;
  const narrow = layout === "narrow";
  const width = right + 40 + aside;
  const warning = projection.support.extrapolates
    ? wrapText(clipText(`Extrapolation: ${projection.support.reasons.join("; ")}`, 220), {
        width: narrow ? plot : aside - 8,
        fontSize: 11,
        lines: 7,
      })
    : [];
  const height = bottom + 58 + (narrow ? 126 + 14 * warning.length : 0);
  const draw = panelDrawing("projection", plainFrame(width, height));

  const ends = course.flatMap(({ average, newGroup, person }) =>
    [average, newGroup, person].flatMap(({ low, high }) => [low, high]),
  );
  const [least, most] = [Math.min(0, ...ends), Math.max(0, ...ends)];
  const pad = Math.max(0.01, (most - least) * 0.04);
  const domain = [least - pad, most + pad] as const;
  const up = (value: number): number =>
    bottom - ((value - domain[0]) / (domain[1] - domain[0])) * plotHeight;
  const along = (weeks: number): number => left + (weeks / last) * plot;
  const display = scaleDisplay("log-ratio-of-means");
  const ticks = axisTicks(domain, display, { length: plotHeight, labels: "beside" });
  const { low, high } = prepared.weeksStudied;
  const studiedFrom = Math.min(low, last);
  const studiedTo = Math.min(high, last);
  const studiedWords =
    low === high
      ? `tests stand at ${counted(low, "week")}`
      : `tests stand between ${plainNumber(low)} and ${plainNumber(high)} weeks`;
  const percent = confidenceWords(confidence);

  const rowsTop = narrow ? bottom + 86 : top + 26;
  const rowsLeft = narrow ? left : right + 50;
  const rowHeight = narrow ? 34 : 52;
  const rowsAt = order.map((key, index) => ({ key, y: rowsTop + index * rowHeight }));
  const numbers = (key: keyof ThreeRanges): string => rangeText(ranges[key]);

  const layers = [
    ...(strip === undefined
      ? []
      : [
          ...holdStripLayers([strip], draw),
          draw.words("session", "text-small", [
            { x: left, y: 4 + stripHeight + 11, text: stripWords },
          ]),
        ]),
    draw.boxes("ground", "band", [{ x: left, x2: right, y: top, y2: bottom }]),
    draw.lines(
      "levels",
      "grid",
      ticks.map(({ position }) => ({ x: left, x2: right, y: up(position), y2: up(position) })),
    ),
    ...courseLayers(course, { low, high }, { along, up }, draw),
    draw.lines("no change", "zero", [{ x: left, x2: right, y: up(0), y2: up(0) }]),
    ...rangeBarLayers("end", [{ ranges, across: right + 18 }], up, draw, "up"),
    draw.words(
      "levels in words",
      "text-small",
      ticks.map(({ position, label }) => ({ x: left - 6, y: up(position), text: label })),
      { align: "right" },
    ),
    draw.words("heading", "text-heading", [
      { x: left, y: top - 11, text: `gain, ${contrastShortLabel(prepared.contrast)}` },
    ]),
    draw.lines(
      "week marks",
      "grid",
      weekTicks(last).map((week) => ({
        x: along(week),
        x2: along(week),
        y: bottom,
        y2: bottom + 4,
      })),
    ),
    draw.words(
      "weeks",
      "text-small",
      weekTicks(last).map((week) => ({ x: along(week), y: bottom + 13, text: plainNumber(week) })),
      { align: "center" },
    ),
    draw.words("weeks heading", "text-small", [{ x: right + 8, y: bottom + 13, text: "weeks" }]),
    draw.boxes(
      "studied",
      "studied",
      studiedTo > studiedFrom
        ? [{ x: along(studiedFrom), x2: along(studiedTo), y: bottom + 26, y2: bottom + 30 }]
        : low <= last
          ? [{ x: along(low) - 2, x2: along(low) + 2, y: bottom + 24, y2: bottom + 32 }]
          : [],
    ),
    draw.words("studied in words", "text-small", [
      { x: left, y: bottom + 42, text: `${studiedWords}; hatched where none do` },
    ]),
    draw.boxes("swatches of a single person", styleOf.person, [
      { x: rowsLeft, x2: rowsLeft + 14, y: (rowsAt[2]?.y ?? 0) - 5, y2: (rowsAt[2]?.y ?? 0) + 5 },
    ]),
    draw.boxes("swatches of a new group", styleOf.newGroup, [
      { x: rowsLeft, x2: rowsLeft + 14, y: (rowsAt[1]?.y ?? 0) - 5, y2: (rowsAt[1]?.y ?? 0) + 5 },
    ]),
    draw.boxes("swatches of the average", styleOf.average, [
      { x: rowsLeft, x2: rowsLeft + 14, y: (rowsAt[0]?.y ?? 0) - 5, y2: (rowsAt[0]?.y ?? 0) + 5 },
    ]),
    draw.words(
      "names",
      "text-body",
      rowsAt.map(({ key, y }) => ({ x: rowsLeft + 21, y: narrow ? y - 6 : y, text: names[key] })),
    ),
    draw.words(
      "numbers",
      "text-strong",
      rowsAt.map(({ key, y }) => ({
        x: rowsLeft + 21,
        y: narrow ? y + 7 : y + 15,
        text: numbers(key),
      })),
    ),
    draw.words("numbers heading", "text-heading", [
      {
        x: rowsLeft,
        y: rowsTop - 22,
        text: `at ${counted(projection.weeks, "week")}: middle and ${percent} range`,
      },
    ]),
    draw.words(
      "extrapolation",
      "text-pooled-strong",
      warning.map((text, index) => ({
        x: rowsLeft,
        y: rowsTop + 3 * rowHeight + (narrow ? 4 : 14) + index * 14,
        text,
      })),
    ),
  ];
  const named = (most: number): string =>
    input.name === undefined ? "" : `${clipText(input.name, most)}: `;
  const protocol = `${named(Infinity)}${projection.written}`;
  const title = `What to expect: ${projection.goal}`;
  const answer = projectionAnswer(projection, prepared, confidence);
  const description = `${oneLine(protocol)}. ${answer}`;
  return {
    id,
    title: `${title}, ${oneLine(protocol)}`,
    caption: `Three ranges around one middle, each holding ${percent}: the darkest is the average over such studies, the next a new group's mean, the lightest what a single person of such a group would measure, test error included. ${studiedWords.charAt(0).toUpperCase()}${studiedWords.slice(1)}; hatched and dotted outside. ${strip === undefined ? "" : `Above: ${stripWords}, intensity up. `}About groups and people like those studied; a forecast for nobody.`,
    description,
    specification: {
      $schema: "https://vega.github.io/schema/vega-lite/v6.json",
      description,
      title: {
        text: [...wrapText(title, { width: width * 0.98, fontSize: 16, lines: 3 })],
        subtitle: [
          ...wrapText(`${named(narrow ? 50 : 110)}${clipText(projection.written, 200)}`, {
            width: width * 0.98,
            fontSize: 11.5,
            lines: 4,
          }),
        ],
      },
      hconcat: [draw.panel(layers)],
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
