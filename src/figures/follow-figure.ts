import type { CoursePoint } from "../projection/project-protocol.js";
import type { Range } from "../projection/three-ranges.js";
import { capital, confidenceWords, formatNumber, plainNumber } from "../tables/number-format.js";
import { rangeText } from "../tables/range-cells.js";
import type { Figure } from "./figure.js";
import { roomOf, type Room } from "./frame.js";
import { axisRoom, panelDrawing, uprightAxis } from "./layer.js";
import { drawnChart } from "./row-chart.js";
import { oneLine } from "./wrap-text.js";

/** A client's tests as they are drawn, log scale. */
export type FollowFigureInput = Readonly<{
  id?: string;
  /** The answer in a line: test, change, call. */
  title: string;
  protocol: string;
  tests: readonly Readonly<{ weeks: number; change: number; low: number; high: number }>[];
  /** Mean change of people who do not train; absent where it is not known. */
  withoutTraining?: number;
  /** What is projected; absent where nothing is. */
  projected?: Readonly<{
    course: readonly Pick<CoursePoint, "weeks" | "studied" | "person">[];
    weeks: number;
    alone: Range;
    together: Range;
  }>;
  /** Share of logs in which all intervals hold, and of people within the range. */
  confidence?: number;
}>;
export const followFigureDefaults = { id: "follow", confidence: 0.95 } as const;

/** Where the percents stand at the left. */
const labels = 34;
/** Between the two lines of a name. */
const nameLine = 13;
const heights = { column: 220, page: 290, slide: 112 } as const;
const percentOf = (logRatio: number): number => 100 * Math.expm1(logRatio);
const signed = (logRatio: number): string => {
  const text = formatNumber(percentOf(logRatio), { digits: 1 });
  return `${logRatio > 0 && Number(text) !== 0 ? "+" : ""}${text}%`;
};

/**
 * One client's tests over the weeks, with intervals, in the range projected for one person; beside them what is expected
 * by the end, without the client's tests and with them.
 *
 * @param input from the answer to `follow`
 */
export const followFigure = (input: FollowFigureInput, room: Room = roomOf()): Figure => {
  const { confidence, id } = { ...followFigureDefaults, ...input };
  const { tests, projected, withoutTraining } = input;
  const course = projected?.course ?? [];
  const ends = projected === undefined ? 0 : room.size === "column" ? 92 : 150;
  const width = room.width - labels - ends;
  const height = heights[room.size];
  const last = Math.max(1, projected?.weeks ?? 0, ...tests.map(({ weeks }) => weeks));
  const all = [
    0,
    ...tests.flatMap(({ low, high }) => [low, high]),
    ...course.flatMap(({ person }) => [person.low, person.high]),
    ...(projected === undefined
      ? []
      : [projected.alone.low, projected.alone.high, projected.together.low]),
  ].map(percentOf);
  const air = Math.max(1, 0.05 * (Math.max(...all) - Math.min(...all)));
  const bottom = Math.min(...all) - air;
  // Names of two lines stand above the ranges at the right.
  const named = projected === undefined ? 0 : (2 * nameLine + 6) / height;
  const endsTop =
    projected === undefined
      ? -Infinity
      : Math.max(percentOf(projected.alone.high), percentOf(projected.together.high));
  const top = Math.max(Math.max(...all) + air, (endsTop - named * bottom) / (1 - named));
  const y = [top, bottom] as const;
  // The point before training stands clear of the edge.
  const x = [-0.03 * last, 1.03 * last] as const;
  const draw = panelDrawing("tests", {
    ...{ width, height, x, y },
    xAxis: {
      title: "weeks since training began",
      tickCount: Math.min(Math.ceil(last), Math.round(width / 50)),
      grid: false,
    },
    yAxis: uprightAxis("Change, %", height),
  });
  const studied = course.filter((point) => point.studied);
  const [first, end] = [studied[0]?.weeks ?? Infinity, studied.at(-1)?.weeks ?? -Infinity];
  const outside = [
    course.filter(({ weeks }) => weeks <= first),
    course.filter(({ weeks }) => weeks >= end),
  ].filter((side) => side.length > 1);
  const panel = draw.panel([
    draw.areas(
      "one person, weeks with tests",
      "computed-tint",
      studied.map(({ weeks, person }) => ({
        x: weeks,
        y: percentOf(person.high),
        y2: percentOf(person.low),
      })),
    ),
    draw.paths(
      "one person, weeks without tests",
      "computed-broken",
      outside.flatMap((side, place) =>
        (["low", "high"] as const).flatMap((limit) =>
          side.map(({ weeks, person }) => ({
            x: weeks,
            y: percentOf(person[limit]),
            part: `${limit} ${place}`,
          })),
        ),
      ),
      { detail: { field: "part", type: "nominal" } },
    ),
    draw.paths(
      "middle",
      "computed-line",
      course.map(({ weeks, person }) => ({ x: weeks, y: percentOf(person.estimate) })),
    ),
    draw.lines("no change", "zero", [{ x: x[0], x2: x[1], y: 0, y2: 0 }]),
    draw.lines(
      "without training",
      "prediction-edge",
      withoutTraining === undefined
        ? []
        : [{ x: x[0], x2: x[1], y: percentOf(withoutTraining), y2: percentOf(withoutTraining) }],
    ),
    draw.lines(
      "intervals",
      "pair-line",
      tests.map(({ weeks, low, high }) => ({
        x: weeks,
        x2: weeks,
        y: percentOf(low),
        y2: percentOf(high),
      })),
    ),
    draw.points(
      "tests",
      "pair-point",
      [{ weeks: 0, change: 0, full: "before training" }, ...tests].map((test) => ({
        x: test.weeks,
        y: percentOf(test.change),
        full:
          "full" in test
            ? test.full
            : `week ${formatNumber(test.weeks, { digits: 1 })}: ${signed(test.change)}`,
      })),
    ),
    draw.words(
      "changes",
      "text-strong",
      tests.slice(-1).map(({ weeks, change, high }) => ({
        x: weeks,
        y: percentOf(high),
        text: signed(change),
      })),
      { align: "center", baseline: "bottom" },
    ),
  ]);
  const byEnd = panelDrawing("by the end", {
    ...{ width: ends, height, x: [0, ends], y },
    xAxis: {
      title: `by week ${plainNumber(projected?.weeks ?? 0)}`,
      ...{ labels: false, ticks: false, grid: false, titlePadding: 24 },
    },
  });
  const up = ((top - bottom) / height) * nameLine;
  const bars =
    projected === undefined
      ? []
      : [
          {
            ...{ range: projected.alone, at: 0.26 * ends, style: "prediction-bracket" },
            name: ["trials", "alone"],
          },
          {
            ...{ range: projected.together, at: 0.74 * ends, style: "reach-line" },
            name: ["with these", "tests"],
          },
        ];
  const ending = byEnd.panel([
    ...bars.map(({ range, name, at, style }) =>
      byEnd.lines(name.join(" "), style, [
        { x: at, x2: at, y: percentOf(range.low), y2: percentOf(range.high) },
      ]),
    ),
    byEnd.points(
      "middles",
      "runs-on",
      bars.map(({ range, at }) => ({ x: at, y: percentOf(range.estimate) })),
    ),
    byEnd.words(
      "names",
      "text-pooled",
      bars.flatMap(({ range, name, at }) =>
        name.map((text, line) => ({ x: at, y: percentOf(range.high) + (1 - line) * up, text })),
      ),
      { align: "center", baseline: "bottom" },
    ),
  ]);
  const percent = confidenceWords(confidence);
  const expected =
    projected === undefined
      ? ""
      : ` True change by week ${plainNumber(projected.weeks)}: ${rangeText(projected.alone)} expected from the trials alone; ${rangeText(projected.together)} with this client's tests.`;
  const atRight =
    projected === undefined
      ? ""
      : `At the right: the true change by week ${plainNumber(projected.weeks)}, thin from the trials alone, thick with this client's tests.`;
  const caption = `Points: the client's tests as measured, as change from before training, with ${percent} intervals that hold for all of them at once. ${
    projected === undefined
      ? ""
      : `Tinted, with its middle: the range projected for one person, error of the test included; broken edges where no trial tested. ${atRight} `
  }${withoutTraining === undefined ? "" : `Broken level line: people who do not train, ${signed(withoutTraining)}. `}One client: it says nothing of others.`;
  const description = `${input.title}.${expected} ${oneLine(input.protocol)}.`;
  return {
    id,
    title: input.title,
    brief: [
      `Points: tests with ${percent} intervals.`,
      projected === undefined ? "" : "Tinted, with its middle: the range projected for one person.",
      withoutTraining === undefined ? "" : "Broken level line: people who do not train.",
      atRight,
    ]
      .join(" ")
      .replace(/ {2,}/g, " ")
      .trim(),
    caption,
    ...drawnChart(
      {
        view: {
          hconcat: [
            axisRoom("axis", labels, height),
            panel,
            ...(projected === undefined ? [] : [ending]),
          ],
          spacing: 0,
          bounds: "flush",
        },
        width: room.width,
        height: height + 50,
      },
      {
        text: [input.title],
        subtitle: [capital(`${expected.trim()} ${oneLine(input.protocol)}.`.trim())],
        description,
      },
    ),
    data: tests.map(({ weeks, change, low, high }) => ({
      weeks,
      changePercent: percentOf(change),
      lowPercent: percentOf(low),
      highPercent: percentOf(high),
    })),
  };
};
