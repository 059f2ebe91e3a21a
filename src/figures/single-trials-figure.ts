/** Arms of single trials in pairs: a line from the gain of the lower dose to that of the higher, trial by trial. */
import { CallError } from "../errors.js";
import { withUnit } from "../protocol/with-unit.js";
import type { Interval } from "../synthesis/synthesis-results.js";
import {
  capital,
  confidenceWords,
  counted,
  formatInterval,
  formatNumber,
} from "../tables/number-format.js";
import { scaleDisplay } from "../tables/scale-display.js";
import { axisTicks, highest, lowest } from "./axis-ticks.js";
import type { Figure } from "./figure.js";
import { panelDrawing, plainFrame, type Point, type Stroke, type Words } from "./layer.js";
import { requireFinite } from "./require-finite.js";
import { themeConfig } from "./theme-config.js";
import { oneLine, wrapText } from "./wrap-text.js";

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

const plotWidth = 284;
const numbersWidth = 160;
const width = plotWidth + numbersWidth;
const bodySize = 12;
const smallSize = 10.5;
const lineHeight = 15;
/** Height of the ground on which a pair is drawn. */
const strip = 34;
const rowsPerFigure = 12;
/** Intervals reach at most so many times as far as the gains; what is cut is marked. */
const furthest = 1.6;

const arrow = " \u2192 ";

type Laid = Readonly<{
  row: PairedRow;
  title: readonly string[];
  differs: readonly string[];
  top: number;
  /** Middle of the ground. */
  middle: number;
}>;

/** Headings and rows from the top down. */
const laidOut = (rows: readonly PairedRow[], from: number) => {
  const headings: Words[] = [];
  let y = from;
  let variable = "";
  const laid = rows.map((row): Laid => {
    if (row.variable !== variable) {
      variable = row.variable;
      headings.push({ x: 0, y: y + 10, text: variable });
      y += 24;
    }
    const top = y;
    const tested = row.tested === "" ? "" : ` (${row.tested})`;
    const title = wrapText(`${row.study}${tested}: ${row.lower.dose}${arrow}${row.higher.dose}`, {
      width: width - 8,
      fontSize: bodySize,
      lines: 3,
    });
    const differs =
      row.differs === ""
        ? []
        : wrapText(row.differs, { width: width - 8, fontSize: smallSize, lines: 3 });
    const ground = top + lineHeight * (title.length + differs.length) + 4;
    y = ground + strip + 10;
    return { row, title, differs, top, middle: ground + strip / 2 };
  });
  return { headings, laid, bottom: y };
};

const number = (value: number): string =>
  formatNumber(value, { digits: Number.isInteger(value) ? 0 : 1 });

const spreadOf = ({ interval, borrowed }: PairedArm): "its own" | "borrowed" | "none" =>
  interval === null ? "none" : borrowed ? "borrowed" : "its own";

const pageOf = (
  input: SingleTrialsInput,
  rows: readonly PairedRow[],
  domain: readonly [number, number],
  page: string,
): Figure => {
  const { family, unit, confidence } = input;
  const percent = unit === "%";
  const [low, high] = domain;
  const { headings, laid, bottom } = laidOut(rows, 34);
  const foot = bottom;
  const height = foot + 80;
  const draw = panelDrawing("gains", { width: plotWidth, height, x: domain, y: [0, height] });
  const numbers = panelDrawing("numbers", plainFrame(numbersWidth, height));
  const at = (share: number): number => low + share * (high - low);
  const display = {
    ...scaleDisplay("raw-mean-difference"),
    sign: percent ? ("%" as const) : ("" as const),
  };
  const ticks = axisTicks(domain, display, { length: plotWidth });
  const cut = (value: number): number => Math.min(high, Math.max(low, value));
  const left = (place: Words): Words => ({ ...place, x: low });
  const lines = (pick: "title" | "differs"): readonly Words[] =>
    laid.flatMap(({ title, differs, top }) =>
      (pick === "title" ? title : differs).map((text, index) => ({
        x: low,
        y: top + 7 + lineHeight * (index + (pick === "title" ? 0 : title.length)),
        text,
      })),
    );
  const lowerY = (middle: number): number => middle - 6;
  const higherY = (middle: number): number => middle + 6;
  const ends = laid.flatMap(({ row, middle }) => [
    { arm: row.lower, y: lowerY(middle), row, end: "lower" as const },
    { arm: row.higher, y: higherY(middle), row, end: "higher" as const },
  ]);
  const points = (end: "lower" | "higher", filled: boolean): readonly Point[] =>
    ends
      .filter((one) => one.end === end && (spreadOf(one.arm) === "its own") === filled)
      .map(({ arm, y, row }) => ({
        x: arm.gain,
        y,
        full: oneLine(`${row.study}, ${arm.dose}: ${withUnit(number(arm.gain), unit)}`),
      }));
  const bars: readonly Stroke[] = ends.flatMap(({ arm: { interval }, y }) =>
    interval === null ? [] : [{ x: cut(interval.low), x2: cut(interval.high), y, y2: y }],
  );
  const beyond = (side: "low" | "high"): readonly Words[] =>
    ends.flatMap(({ arm: { interval }, y }) =>
      interval === null || (side === "low" ? interval.low >= low : interval.high <= high)
        ? []
        : [{ x: side === "low" ? low : high, y, text: side === "low" ? "\u2039" : "\u203a" }],
    );
  const ground = (from: number, to: number): readonly Stroke[] =>
    laid.map(({ middle }) => ({ x: from, x2: to, y: middle - strip / 2, y2: middle + strip / 2 }));
  const gap = (high - low) / plotWidth;
  const keyY = foot + 38;
  // Three kinds of arm, on two lines: the third has no interval, as nothing lends it one.
  const key = [
    { x: 8, y: keyY, text: "lower dose" },
    { x: 98, y: keyY, text: "higher dose" },
    { x: 200, y: keyY, text: "spread of its own" },
    { x: 22, y: keyY + 18, text: "spread borrowed, weighted" },
    { x: 200, y: keyY + 18, text: "no spread, not weighted" },
  ];
  const keyBar = (x: number, y: number): Stroke => ({
    x: low + (x - 9) * gap,
    x2: low + (x + 9) * gap,
    y,
    y2: y,
  });
  const gainsWords = ({ lower, higher }: PairedRow): string =>
    `${number(lower.gain)}${arrow}${withUnit(number(higher.gain), unit)}`;
  const differenceWords = ({ difference, interval }: PairedRow): string =>
    `${formatNumber(difference, { digits: 1 })} (${interval === null ? "no interval" : formatInterval(interval, { digits: 1 })})`;
  const trials = new Set(rows.map(({ study }) => study)).size;
  const weighted = rows.filter(({ interval }) => interval !== null).length;
  const title = `${capital(family)}: ${counted(rows.length, "comparison")} inside ${counted(trials, "single trial")}${page}`;
  const percentWords = confidenceWords(confidence);
  const told = `Each line runs from the gain of the lower dose to that of the higher, in one trial; ${weighted === 0 ? "none has an interval" : weighted === rows.length ? "each has an interval" : `${weighted} of ${rows.length} have an interval`}. Nothing is pooled.`;
  const description = oneLine(
    `${title}. ${told} ${rows.map((row) => `${row.study}, ${row.variable} ${row.lower.dose} to ${row.higher.dose}: ${gainsWords(row)}, difference ${differenceWords(row)}`).join("; ")}.`,
  );
  return {
    id: input.id,
    title,
    caption: `${told} Filled: the row prints a spread, its bar is the ${percentWords} interval; open with a bar: the spread is borrowed from like studies, and the row has a weight; open without: nothing lends it one, the gain is shown and enters no average. Numbers: both gains, and the higher dose minus the lower${percent ? " in percentage points" : ""} with its ${percentWords} interval.`,
    description,
    specification: {
      $schema: "https://vega.github.io/schema/vega-lite/v6.json",
      description,
      title: {
        text: [...wrapText(title, { width, fontSize: 16, lines: 3 })],
        subtitle: [...wrapText(told, { width, fontSize: 11.5, lines: 3 })],
      },
      hconcat: [
        draw.panel([
          draw.boxes("grounds", "band", ground(low, high)),
          draw.lines(
            "grid",
            "grid",
            ticks.flatMap(({ position }) =>
              ground(position, position).map((one) => ({ ...one, x: position, x2: position })),
            ),
          ),
          draw.lines(
            "no change",
            "zero",
            ground(0, 0).map((one) => ({ ...one, x: 0, x2: 0 })),
          ),
          draw.words("variables", "text-strong", headings.map(left), { fontSize: 13 }),
          draw.words("comparisons", "text-body", lines("title"), {
            limit: width,
            fontSize: bodySize,
          }),
          draw.words("what else differs", "text-small", lines("differs"), {
            limit: width,
            fontSize: smallSize,
          }),
          draw.lines("intervals", "pair-interval", [
            ...bars,
            keyBar(190, keyY),
            keyBar(10, keyY + 18),
          ]),
          draw.words("intervals cut at the left", "text-strong", beyond("low"), { align: "left" }),
          draw.words("intervals cut at the right", "text-strong", beyond("high"), {
            align: "right",
          }),
          draw.lines(
            "pairs",
            "pair-line",
            laid.map(({ row, middle }) => ({
              x: row.lower.gain,
              x2: row.higher.gain,
              y: lowerY(middle),
              y2: higherY(middle),
            })),
          ),
          draw.points("lower, weighted", "pair-lower", points("lower", true)),
          draw.points("higher, weighted", "pair-higher", points("higher", true)),
          draw.points("lower, no spread of its own", "pair-lower-open", points("lower", false)),
          draw.points("higher, no spread of its own", "pair-higher-open", points("higher", false)),
          draw.words("heading", "text-heading", [
            { x: low, y: 8, text: percent ? "Gain, % of the start" : `Gain, ${unit}` },
          ]),
          draw.words(
            "axis above",
            "text-small",
            ticks.map(({ position, label }) => ({ x: position, y: 24, text: label })),
            { align: "center" },
          ),
          draw.words(
            "axis below",
            "text-small",
            ticks.map(({ position, label }) => ({ x: position, y: foot + 4, text: label })),
            { align: "center" },
          ),
          draw.points("key, lower", "pair-lower", [{ x: low + 2 * gap, y: keyY }]),
          draw.points("key, higher", "pair-higher", [
            { x: low + 91 * gap, y: keyY },
            { x: low + 190 * gap, y: keyY },
          ]),
          draw.points("key, no spread of its own", "pair-higher-open", [
            { x: low + 10 * gap, y: keyY + 18 },
            { x: low + 190 * gap, y: keyY + 18 },
          ]),
          draw.words(
            "key",
            "text-small",
            key.map(({ x, y, text }) => ({ x: at(x / plotWidth), y, text })),
          ),
        ]),
        numbers.panel([
          numbers.boxes("grounds", "band", ground(0, numbersWidth)),
          numbers.words(
            "headings",
            "text-heading",
            [
              { x: numbersWidth - 6, y: 8, text: "Gains" },
              { x: numbersWidth - 6, y: 22, text: `Difference (${percentWords} interval)` },
            ],
            { align: "right" },
          ),
          numbers.words(
            "gains",
            "text-strong",
            laid.map(({ row, middle }) => ({
              x: numbersWidth - 6,
              y: middle - 8,
              text: gainsWords(row),
            })),
            { align: "right", fontSize: bodySize },
          ),
          numbers.words(
            "differences",
            "text-body",
            laid.map(({ row, middle }) => ({
              x: numbersWidth - 6,
              y: middle + 8,
              text: differenceWords(row),
            })),
            { align: "right", fontSize: bodySize },
          ),
        ]),
      ],
      spacing: 0,
      bounds: "flush",
      config: themeConfig("light"),
    },
    data: rows.map(({ variable, study, tested, lower, higher, difference, interval, differs }) => ({
      variable,
      study,
      tested,
      lowerDose: lower.dose,
      higherDose: higher.dose,
      lowerGain: lower.gain,
      lowerLow: lower.interval?.low ?? null,
      lowerHigh: lower.interval?.high ?? null,
      lowerSpread: spreadOf(lower),
      higherGain: higher.gain,
      higherLow: higher.interval?.low ?? null,
      higherHigh: higher.interval?.high ?? null,
      higherSpread: spreadOf(higher),
      unit,
      difference,
      low: interval?.low ?? null,
      high: interval?.high ?? null,
      alsoDiffers: differs,
    })),
  };
};

/**
 * What single trials compared: each pair of arms a line from the gain of the lower dose to that of the higher, filled
 * where the row prints a spread, open where it is borrowed (with a bar) or where there is none; in as many figures as stay readable, all on one axis.
 *
 * @throws {CallError} "no-pairs" without a row, "not-finite"
 */
export const singleTrialsFigures = (input: SingleTrialsInput): readonly Figure[] => {
  const { rows } = input;
  if (rows.length === 0)
    throw new CallError({
      code: "no-pairs",
      where: "singleTrialsFigures",
      needs: "at least one pair of arms",
      got: "none",
    });
  for (const { study, lower, higher, difference } of rows)
    requireFinite(`singleTrialsFigures (study ${JSON.stringify(study)})`, {
      "gain of the lower dose": lower.gain,
      "gain of the higher dose": higher.gain,
      difference,
    });
  const arms = rows.flatMap(({ lower, higher }) => [lower, higher]);
  const gains = [0, ...arms.map(({ gain }) => gain)];
  const [least, most] = [lowest(gains), highest(gains)];
  const reach = (most - least || 1) * (furthest - 1);
  const lows = arms.flatMap(({ interval }) => (interval === null ? [] : [interval.low]));
  const highs = arms.flatMap(({ interval }) => (interval === null ? [] : [interval.high]));
  const air = 0.04 * (most - least || 1);
  const domain = [
    Math.max(least - reach, lowest([least, ...lows])) - air,
    Math.min(most + reach, highest([most, ...highs])) + air,
  ] as const;
  const pages = Array.from({ length: Math.ceil(rows.length / rowsPerFigure) }, (_, page) =>
    rows.slice(page * rowsPerFigure, (page + 1) * rowsPerFigure),
  );
  return pages.map((own, page) =>
    pageOf(
      pages.length === 1 ? input : { ...input, id: `${input.id}-page-${page + 1}` },
      own,
      domain,
      pages.length === 1 ? "" : ` (${page + 1} of ${pages.length})`,
    ),
  );
};
