/** Arms of single trials in pairs: a line from the gain of the lower dose to that of the higher, trial by trial. */
import { CallError } from "../errors.js";
import { withUnit } from "../protocol/with-unit.js";
import {
  capital,
  confidenceWords,
  counted,
  formatInterval,
  formatNumber,
} from "../tables/number-format.js";
import { highest, lowest } from "./extremes.js";
import type { Figure } from "./figure.js";
import { roomOf, type Room } from "./frame.js";
import { panelDrawing, plainFrame, type Encoding, type Panel, type Words } from "./layer.js";
import { requireFinite } from "./require-finite.js";
import { groupWidths, slideRows } from "./row-chart.js";
import {
  arrow,
  markWords,
  number,
  spanWords,
  spreadOf,
  type PairedRow,
  type SingleTrialsInput,
} from "./single-trials-rows.js";
import { themeConfig } from "./theme-config.js";
import { figureTheme } from "./theme.js";
import { narrowest, oneLine, roughTextWidth, wrapText } from "./wrap-text.js";

const type = figureTheme.sizes.small;
const lineHeight = 14;
const leastPlot = 110;
/** Intervals reach at most so many times as far as the gains; what is cut is marked. */
const furthest = 1.6;

/** How a pair is laid out, in drawing units. */
type Sheet = Readonly<{
  /** Pairs on one drawing. */
  rows: number;
  /** Height of the ground on which a pair is drawn, and how far its two arms stand apart. */
  ground: number;
  apart: number;
}>;
const sheets: Readonly<Record<Room["size"], Sheet>> = {
  column: { rows: 12, ground: 30, apart: 6 },
  page: { rows: 16, ground: 30, apart: 6 },
  slide: { rows: slideRows, ground: 11.6, apart: 0 },
};

const doses = ["lower dose", "higher dose"] as const;
const spreads = ["a spread of its own", "none of its own"] as const;
/** Size tells the dose, filling tells whose the spread is, where that differs. */
const byArm = ({ column, several }: Readonly<Record<"column" | "several", boolean>>): Encoding => {
  const legend = {
    title: null,
    orient: "top",
    direction: column ? "vertical" : "horizontal",
    symbolType: "circle",
  };
  return {
    size: {
      field: "dose",
      type: "ordinal",
      scale: { domain: [...doses], range: [24, 76] },
      // Faint: it is of the size alone, and says nothing of the filling.
      legend: { ...legend, symbolOpacity: 0.4 },
    },
    fill: {
      field: "spread",
      type: "ordinal",
      scale: { domain: [...spreads], range: "category" },
      legend: several ? { ...legend, symbolSize: 50 } : null,
    },
  };
};

const pageOf = (
  input: SingleTrialsInput,
  rows: readonly PairedRow[],
  {
    room,
    domain,
    page,
    left,
  }: Readonly<{
    room: Room;
    domain: readonly [number, number];
    page: string;
    /** Pairs that no drawing has room for. */
    left: number;
  }>,
): Figure => {
  const { family, unit, confidence } = input;
  const percent = unit === "%";
  const [low, high] = domain;
  const slide = room.size === "slide";
  const sheet = sheets[room.size];
  const percentWords = confidenceWords(confidence);
  const gainsWords = ({ lower, higher }: PairedRow): string =>
    `${number(lower.gain)}${arrow}${withUnit(number(higher.gain), unit)}`;
  const differenceWords = ({ difference, interval }: PairedRow): string =>
    `${formatNumber(difference, { digits: 1 })} (${interval === null ? "no interval" : formatInterval(interval, { digits: 1 })})`;
  const nameOf = ({ study, tested, lower, higher }: PairedRow): string =>
    `${study}${tested === "" || slide ? "" : ` (${tested})`}: ${lower.dose}${arrow}${higher.dose}`;
  // Words take what they need, and the plot has the rest.
  const column = room.size === "column";
  const widest = (texts: readonly string[], strong = 1.04): number =>
    Math.max(...texts.map((text) => strong * roughTextWidth(text, type)));
  const numbersWidth = column
    ? 0
    : Math.max(
        widest(rows.map(differenceWords)),
        slide ? 0 : widest(rows.map(gainsWords), 1.1) + 8,
      ) + 10;
  // A slide names groups at the left, each in as many lines as it has rows.
  const groups = [...new Set(rows.map(({ variable }) => variable))];
  const linesIn = (text: string, width: number) =>
    wrapText(text, { width, fontSize: 1.18 * type, lines: 9 });
  const groupsWidth = slide
    ? (narrowest(
        groups.map((text) => ({
          text,
          lines: rows.filter((row) => row.variable === text).length,
        })),
        groupWidths,
        1.18 * type,
      ) ?? -12) + 12
    : 0;
  const names = Math.min(
    widest(rows.map(nameOf)) + 14,
    slide ? room.width - groupsWidth - numbersWidth - leastPlot : 0.39 * room.width,
  );
  const namesWidth = column ? 0 : slide ? groupsWidth + names : 0.39 * room.width;
  const plotWidth = room.width - namesWidth - numbersWidth;
  const beside = !column;
  const textWidth = (column ? plotWidth : namesWidth - groupsWidth) - 12;
  const nameLines = (row: PairedRow): readonly string[] =>
    wrapText(nameOf(row), { width: textWidth, fontSize: type * 1.04, lines: 3 });
  // Few rows of a slide stand further apart, so that they fill it.
  const lineCount =
    rows.reduce((sum, row) => sum + nameLines(row).length, left === 0 ? 0 : 1) +
    (groupsWidth === 0 ? groups.length : 0);
  const spare = slide
    ? Math.max(0, Math.min(24, (150 - sheet.ground * lineCount) / rows.length))
    : 0;

  const words: (Words & Readonly<{ style: string }>)[] = [];
  const numbers: (Words & Readonly<{ style: string }>)[] = [];
  let y = 0;
  let variable = "";
  const laid = rows.map((row) => {
    if (row.variable !== variable) {
      variable = row.variable;
      const lines = groupsWidth === 0 ? [variable] : linesIn(variable, groupsWidth - 12);
      lines.forEach((text, line) => {
        const at = y + (slide ? 7 + spare / 2 + sheet.ground * line : 9);
        words.push({ x: 0, y: at, text, style: "text-group" });
      });
      if (groupsWidth === 0) y += slide ? sheet.ground : 22;
    }
    const top = y;
    y += spare / 2;
    const put = (lines: readonly string[], style: string): void => {
      for (const line of lines) {
        words.push({ x: groupsWidth, y: y + 7, text: line, style, full: oneLine(lines.join(" ")) });
        y += slide ? sheet.ground : lineHeight;
      }
    };
    const wrapped = (text: string, lines: number): readonly string[] =>
      wrapText(text, { width: textWidth, fontSize: type * 1.04, lines });
    put(nameLines(row), "text-body");
    if (!slide && row.differs !== "") put(wrapped(row.differs, 3), "text-small");
    if (column) put(wrapped(`${gainsWords(row)}; ${differenceWords(row)}`, 2), "text-strong");
    y += spare / 2;
    const ground = beside ? top : y;
    const middle = ground + (slide ? 7 + spare / 2 : sheet.ground / 2);
    if (beside) {
      const at = (text: string, style: string, shift: number): void => {
        numbers.push({ x: 10, y: middle + shift, text, style });
      };
      if (!slide) at(gainsWords(row), "text-strong", -7);
      at(differenceWords(row), slide ? "text-body" : "text-quiet", slide ? 0 : 8);
    }
    y = Math.max(y, ground + sheet.ground) + (slide ? 0 : 10);
    return { row, middle };
  });
  if (left > 0) {
    const text = `${counted(left, "more comparison")}, less sure: in the table of the answer.`;
    words.push({ x: 0, y: y + 7, text, style: "text-quiet" });
    y += sheet.ground;
  }
  const height = y;
  const draw = panelDrawing("gains", {
    width: plotWidth,
    height,
    x: domain,
    y: [0, height],
    xAxis: {
      title: percent ? "gain, % of the start" : `gain, ${unit}`,
      tickCount: Math.round(plotWidth / 70),
      grid: beside,
      labelFlush: 12,
      ...(slide ? { titlePadding: 1, labelPadding: 2, tickSize: 3 } : {}),
    },
  });
  const cut = (value: number): number => Math.min(high, Math.max(low, value));
  const ends = laid.flatMap(({ row, middle }) => [
    { arm: row.lower, y: middle - sheet.apart, row, dose: doses[0] },
    { arm: row.higher, y: middle + sheet.apart, row, dose: doses[1] },
  ]);
  // Two intervals on one line could not be told apart: a slide has them in numbers.
  const withInterval = slide
    ? []
    : ends.flatMap(({ arm: { interval }, y: at }) =>
        interval === null ? [] : [{ ...interval, at }],
      );
  const beyond = (side: "low" | "high"): readonly Words[] =>
    withInterval
      .filter((one) => (side === "low" ? one.low < low : one.high > high))
      .map(({ at }) => ({
        x: side === "low" ? low : high,
        y: at,
        text: side === "low" ? "\u2039" : "\u203a",
      }));
  const upright = laid.map(({ middle }) => ({
    x: 0,
    x2: 0,
    y: beside ? 0 : middle - sheet.ground / 2,
    y2: beside ? height : middle + sheet.ground / 2,
  }));
  const drawn = draw.panel([
    draw.lines("no change", "zero", beside ? upright.slice(0, 1) : upright),
    ...(beside ? [] : draw.styledWords(words.map((one) => ({ ...one, x: low })))),
    draw.lines(
      "intervals",
      "pair-interval",
      withInterval.map((one) => ({ x: cut(one.low), x2: cut(one.high), y: one.at, y2: one.at })),
    ),
    draw.words("intervals cut at the left", "text-strong", beyond("low")),
    draw.words("intervals cut at the right", "text-strong", beyond("high"), { align: "right" }),
    draw.lines(
      "pairs",
      "pair-line",
      laid.map(({ row, middle }) => ({
        x: row.lower.gain,
        x2: row.higher.gain,
        y: middle - sheet.apart,
        y2: middle + sheet.apart,
      })),
    ),
    draw.points(
      "arms",
      "pair-point",
      ends.map(({ arm, y: at, row, dose }) => ({
        x: arm.gain,
        y: at,
        dose,
        spread: spreads[spreadOf(arm) === "its own" ? 0 : 1],
        full: oneLine(
          `${row.study}, ${arm.dose}: ${withUnit(number(arm.gain), unit)}${markWords[spreadOf(arm)]}`,
        ),
      })),
      byArm({
        column,
        several: ends.some(({ arm }) => spreadOf(arm) !== "its own"),
      }),
    ),
  ]);
  const side = (name: string, width: number, own: typeof words): Panel => {
    const panel = panelDrawing(name, plainFrame(width, height));
    return panel.panel(panel.styledWords(own));
  };
  const weighted = rows.filter(({ interval }) => interval !== null).length;
  const title = `${capital(family)}, ${spanWords(input)}${page}.`;
  const said = `Each line runs from the gain of the lower dose to that of the higher, in one trial; ${weighted === 0 ? "none has an interval" : weighted === rows.length ? "each has an interval" : `${weighted} of ${rows.length} have an interval`}. Nothing is pooled.`;
  const description = oneLine(
    `${title} ${said} ${rows.map((row) => `${row.study}, ${row.variable} ${row.lower.dose} to ${row.higher.dose}: ${gainsWords(row)}, difference ${differenceWords(row)}`).join("; ")}.`,
  );
  return {
    id: input.id,
    title,
    brief: `At the right: the higher dose minus the lower, with its ${percentWords} interval.`,
    caption: `Filled: the row prints a spread, its bar is the ${percentWords} interval; open with a bar: the spread is borrowed from like studies, and the row has a weight; open without: nothing lends it one, the gain is shown and enters no average. Numbers: both gains, and the higher dose minus the lower${percent ? " in percentage points" : ""} with its ${percentWords} interval.`,
    description,
    width: beside ? namesWidth + plotWidth + numbersWidth : plotWidth,
    height: height + (slide ? 44 : 76),
    specification: {
      $schema: "https://vega.github.io/schema/vega-lite/v6.json",
      description,
      title: { text: [title], subtitle: [said] },
      hconcat: beside
        ? [side("names", namesWidth, words), drawn, side("numbers", numbersWidth, numbers)]
        : [drawn],
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

/** Under a heading of two lines. */
const slideHeight = 206;

/** A slide shows what is known most narrowly. */
const uncertainty = ({ interval }: PairedRow): number =>
  interval === null ? Infinity : interval.high - interval.low;

/**
 * What single trials compared: each pair of arms a line from the gain of the lower dose to that of the higher, filled
 * where the row prints a spread, open where it is borrowed (with a bar) or where there is none; in as many figures as stay readable, all on one axis.
 *
 * @throws {CallError} "no-pairs" without a row, "not-finite"
 */
export const singleTrialsFigures = (
  input: SingleTrialsInput,
  room: Room = roomOf(),
): readonly Figure[] => {
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
  const { rows: perSheet } = sheets[room.size];
  if (room.size === "slide") {
    const known = [...rows].sort((a, b) => uncertainty(a) - uncertainty(b));
    for (let count = Math.min(perSheet, rows.length); ; count -= 1) {
      const kept = new Set(known.slice(0, count));
      const own = rows.filter((row) => kept.has(row));
      const slide = pageOf(input, own, { room, domain, page: "", left: rows.length - count });
      if (count === 1 || slide.height! <= slideHeight) return [slide];
    }
  }
  const pages = Array.from({ length: Math.ceil(rows.length / perSheet) }, (_, page) =>
    rows.slice(page * perSheet, (page + 1) * perSheet),
  );
  return pages.map((own, page) =>
    pageOf(pages.length === 1 ? input : { ...input, id: `${input.id}-page-${page + 1}` }, own, {
      room,
      domain,
      page: pages.length === 1 ? "" : ` (${page + 1} of ${pages.length})`,
      left: 0,
    }),
  );
};
