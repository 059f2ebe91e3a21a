/** Averages before and now: the older interval above, the newer below, and a line from one middle to the other. */
import { CallError } from "../errors.js";
import { confidenceWords, counted, formatInterval, formatNumber } from "../tables/number-format.js";
import type { Figure } from "./figure.js";
import { roomOf, type Room } from "./frame.js";
import { panelDrawing, plainFrame, type Panel, type Words } from "./layer.js";
import { requireFinite } from "./require-finite.js";
import { drawnChart, slideRows } from "./row-chart.js";
import { figureTheme } from "./theme.js";
import { oneLine, roughTextWidth, wrapText } from "./wrap-text.js";

/** An average in the unit it is shown in. */
type Side = Readonly<{ estimate: number; low: number; high: number; studies: number }>;

type ChangedAverage = Readonly<{
  about: string;
  before: Side | null;
  now: Side | null;
  /** Whether a person concludes something else now. */
  isOther: boolean;
  /** The study that moves it most; empty where none does alone. */
  by: string;
}>;

export type ChangesInput = Readonly<{
  id: string;
  unit: string;
  /** Follows a number: "%", or nothing. */
  sign: string;
  confidence: number;
  rows: readonly ChangedAverage[];
}>;

const type = figureTheme.sizes.small;
const ends = ["before", "now"] as const;
/** Intervals reach at most so many times as far as the averages; what is cut is marked. */
const furthest = 1.6;
const number = (value: number): string => formatNumber(value, { digits: 1 });

const sideWords = (side: Side | null, sign: string): string =>
  side === null ? "none" : `${number(side.estimate)}${sign}`;
const rangeWords = (side: Side | null): string =>
  side === null ? "" : `(${formatInterval(side, { digits: 1 })})`;
const middlesWords = ({ before, now }: ChangedAverage, sign: string): string =>
  `${sideWords(before, sign)} → ${sideWords(now, sign)}`;
const rangesWords = ({ before, now }: ChangedAverage): string =>
  before === null || now === null
    ? rangeWords(before ?? now)
    : `${rangeWords(before)} → ${rangeWords(now)}`;
const wholeWords = ({ before, now }: ChangedAverage, sign: string): string =>
  [before, now].map((side) => `${sideWords(side, sign)} ${rangeWords(side)}`.trim()).join(" → ");

/** How far an average moved, in the width of its intervals. */
const moved = ({ before, now, isOther }: ChangedAverage): number =>
  before === null || now === null
    ? -1
    : (isOther ? 1e3 : 0) +
      Math.abs(now.estimate - before.estimate) /
        (now.high - now.low + before.high - before.low || 1);

/**
 * Every average that moved: the older one hollow with its interval above, the newer filled below, joined by a line; numbers
 * at the right, and the study that moved it most under the name.
 *
 * @throws {CallError} "no-effects" without an average, "not-finite"
 */
export const changesFigure = (input: ChangesInput, room: Room = roomOf()): Figure => {
  const { id, unit, sign, confidence } = input;
  if (input.rows.length === 0)
    throw new CallError({
      code: "no-effects",
      where: "the figure of changes",
      needs: "at least one average that moved",
      got: "none",
    });
  for (const { about, before, now } of input.rows)
    for (const side of [before, now])
      if (side !== null)
        requireFinite(`the figure of changes (${JSON.stringify(about)})`, {
          average: side.estimate,
          "lower limit": side.low,
          "upper limit": side.high,
        });
  const slide = room.size === "slide";
  const column = room.size === "column";
  const most = slide ? slideRows : room.rows;
  const kept = new Set([...input.rows].sort((a, b) => moved(b) - moved(a)).slice(0, most));
  const rows = input.rows.filter((row) => kept.has(row));
  const left = input.rows.length - rows.length;
  const sides = rows.flatMap(({ before, now }) => [before, now].filter((side) => side !== null));
  const middles = [0, ...sides.map(({ estimate }) => estimate)];
  const [least, greatest] = [Math.min(...middles), Math.max(...middles)];
  const reach = (greatest - least || 1) * (furthest - 1);
  const air = 0.04 * (greatest - least || 1);
  const drawn = slide ? [] : sides;
  const low = Math.max(least - reach, Math.min(least, ...drawn.map((side) => side.low)));
  const high = Math.min(greatest + reach, Math.max(greatest, ...drawn.map((side) => side.high)));
  const cut = (value: number): number => Math.min(high, Math.max(low, value));

  const wide = (text: string): number => 1.06 * roughTextWidth(text, type);
  const numbersWidth = column
    ? 0
    : Math.max(
        ...rows.map((row) => wide(middlesWords(row, sign))),
        ...(slide ? [] : rows.map((row) => wide(rangesWords(row)))),
      ) + 16;
  const namesWidth = column
    ? 0
    : Math.min(Math.max(...rows.map(({ about }) => wide(about))) + 16, slide ? 250 : 300);
  const plotWidth = Math.min(column ? room.width - 4 : 440, room.width - namesWidth - numbersWidth);
  const apart = slide ? 0 : 5;
  // Many rows of a slide stand closer.
  const line = slide && rows.length > 9 ? 13 : 14;
  const names: (Words & Readonly<{ style: string }>)[] = [];
  const numbers: (Words & Readonly<{ style: string }>)[] = [];
  let y = 0;
  const laid = rows.map((row) => {
    const put = (text: string, style: string): void => {
      const width = (column ? plotWidth : namesWidth) - 10;
      for (const words of wrapText(text, { width, fontSize: type * 1.04, lines: 2 })) {
        names.push({ x: 0, y: y + 7, text: words, style });
        y += line;
      }
    };
    const top = y;
    put(row.about, row.isOther ? "text-strong" : "text-body");
    if (!slide && row.by !== "") put(`most by ${oneLine(row.by)}`, "text-small");
    if (column) put(wholeWords(row, sign), "text-quiet");
    const middle = slide ? top + 7 : column ? y + 11 : top + 14;
    const say = (text: string, style: string, shift: number): void => {
      numbers.push({ x: 12, y: middle + shift, text, style });
    };
    if (!column) {
      say(middlesWords(row, sign), row.isOther ? "text-strong" : "text-body", slide ? 0 : -7);
      if (!slide) say(rangesWords(row), "text-quiet", 7);
    }
    y = Math.max(y, middle + (slide ? line - 7 : 14)) + (slide ? 0 : 7);
    return { row, middle };
  });
  const height = y;
  const draw = panelDrawing("averages", {
    width: plotWidth,
    height,
    x: [low - air, high + air],
    y: [0, height],
    xAxis: {
      title: `average, ${unit}`,
      tickCount: Math.max(3, Math.round(plotWidth / 70)),
      grid: !column,
      labelFlush: 12,
      ...(slide ? { titlePadding: 1, labelPadding: 2, tickSize: 3 } : {}),
    },
  });
  const byEnd = (range: string) => ({
    field: "end",
    type: "ordinal",
    scale: { domain: ["now", "before"], range },
    legend: {
      title: null,
      direction: "horizontal",
      orient: "top",
      symbolType: "circle",
      ...(slide ? { offset: 3 } : {}),
    },
  });
  const marks = laid.flatMap(({ row, middle }) =>
    ends.flatMap((end) => {
      const side = row[end];
      const at = middle + (end === "before" ? -apart : apart);
      return side === null ? [] : [{ side, end, row, y: at }];
    }),
  );
  const beyond = (edge: "low" | "high"): readonly Words[] =>
    slide
      ? []
      : marks
          .filter(({ side }) => (edge === "low" ? side.low < low : side.high > high))
          .map(({ y: at }) => ({
            x: edge === "low" ? low : high,
            y: at,
            text: edge === "low" ? "\u2039" : "\u203a",
          }));
  const panel = draw.panel([
    draw.lines(
      "no change",
      "zero",
      column
        ? laid.map(({ middle }) => ({ x: 0, x2: 0, y: middle - 11, y2: middle + 11 }))
        : [{ x: 0, x2: 0, y: 0, y2: height }],
    ),
    ...(column ? draw.styledWords(names.map((one) => ({ ...one, x: low - air }))) : []),
    draw.lines(
      "intervals",
      "pooled-line",
      slide
        ? []
        : marks.map(({ side, y: at }) => ({ x: cut(side.low), x2: cut(side.high), y: at, y2: at })),
    ),
    draw.words("cut at the left", "text-strong", beyond("low")),
    draw.words("cut at the right", "text-strong", beyond("high"), { align: "right" }),
    draw.lines(
      "moves",
      "moved-line",
      laid.flatMap(({ row: { before, now }, middle }) =>
        before === null || now === null
          ? []
          : [{ x: before.estimate, x2: now.estimate, y: middle - apart, y2: middle + apart }],
      ),
    ),
    draw.points(
      "middles",
      "moved-point",
      marks.map(({ side, end, row, y: at }) => ({
        x: side.estimate,
        y: at,
        end,
        full: oneLine(
          `${row.about}, ${end}: ${number(side.estimate)}${sign} (${formatInterval(side, { digits: 1 })}), ${counted(side.studies, "study", "studies")}`,
        ),
      })),
      {
        fill: byEnd("ramp"),
        stroke: byEnd("diverging"),
      },
    ),
  ]);
  const side = (name: string, width: number, own: typeof names): Panel => {
    const drawn = panelDrawing(name, plainFrame(width, height));
    return drawn.panel(drawn.styledWords(own));
  };
  const others = input.rows.filter(({ isOther }) => isOther).length;
  const fresh = input.rows.filter(({ before }) => before === null).length;
  const title = `${counted(input.rows.length, "average")} moved${fresh === 0 ? "" : `, ${fresh} of them new`}: ${others === 0 ? "no conclusion changed" : `${counted(others, "conclusion")} changed`}.`;
  const told =
    left === 0
      ? []
      : [`${counted(left, "more average")} moved less and ${left === 1 ? "is" : "are"} not shown.`];
  const description = oneLine(
    `${title} ${rows.map((row) => `${row.about}: ${wholeWords(row, sign)}${row.by === "" ? "" : `, most by ${row.by}`}`).join("; ")}.`,
  );
  return {
    id,
    title,
    caption: `Light: the average before, with its ${confidenceWords(confidence)} interval; filled: the average now. The line joins them. Bold: a person concludes something else now. Named under each is the study whose changed rows alone move it most.`,
    ...drawnChart(
      {
        view: {
          hconcat: column
            ? [panel]
            : [side("names", namesWidth, names), panel, side("numbers", numbersWidth, numbers)],
          spacing: 0,
          bounds: "flush",
        },
        width: namesWidth + plotWidth + numbersWidth,
        height: height + (slide ? 54 : 66),
      },
      { text: [title], subtitle: told, description },
    ),
    data: rows.map(({ about, before, now, isOther, by }) => ({
      about,
      before: before?.estimate ?? null,
      beforeLow: before?.low ?? null,
      beforeHigh: before?.high ?? null,
      now: now?.estimate ?? null,
      nowLow: now?.low ?? null,
      nowHigh: now?.high ?? null,
      unit,
      otherConclusion: isOther ? "yes" : "no",
      by,
    })),
  };
};
