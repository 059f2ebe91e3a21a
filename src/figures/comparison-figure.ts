/** Protocols side by side in three parts: sessions on one clock, gains on one axis, differences from the first. */
import { contrastShortLabel } from "../effects/scale-label.js";
import { CallError } from "../errors.js";
import type { ComparedProtocol, ProtocolComparison } from "../projection/compare-protocols.js";
import type { ReadyProjection } from "../projection/prepare-projection.js";
import type { TimelinePart } from "../protocol/session-timeline.js";
import { verdictSentences } from "../tables/comparison-table.js";
import { gradeWords as holdWords } from "../tables/hold-table.js";
import { confidenceWords, counted } from "../tables/number-format.js";
import { rangeLimits, rangeText } from "../tables/range-cells.js";
import { shownDuration } from "../tables/shown-duration.js";
import { beyondFirst, comparisonInShort, differenceWords } from "./comparison-words.js";
import type { Figure } from "./figure.js";
import { roomOf, type Room } from "./frame.js";
import { commonStripScale, holdStrip, holdStripLayers, inSeconds } from "./hold-strip.js";
import { panelDrawing, type Layer, type Panel, type Words } from "./layer.js";
import type { nestedKinds } from "./nested-bars.js";
import { nestedBars, type NestedBar } from "./nested-bars.js";
import { themeConfig } from "./theme-config.js";
import { figureTheme } from "./theme.js";
import { clipText, oneLine, wrapText } from "./wrap-text.js";

export type ComparisonFigureInput = Readonly<{
  id?: string;
  comparison: ProtocolComparison;
  prepared: Pick<ReadyProjection, "contrast">;
  /** Sessions to draw, in the protocols' order; undefined where one cannot be laid out. */
  timelines: readonly (readonly TimelinePart[] | undefined)[];
  /** Share of the probability inside a range, as it was compared with. */
  confidence?: number;
}>;
export const comparisonFigureDefaults = { id: "comparison", confidence: 0.95 } as const;

const type = figureTheme.sizes.small;
const lineHeight = 14;

type Line = Readonly<{ text: string; style: string; full?: string }>;
/** What one part says of one protocol: words, a drawing under them, more words. */
type Cell = Readonly<{ above: readonly Line[]; drawn: number; below: readonly Line[] }>;

const heightOf = ({ above, drawn, below }: Cell): number =>
  lineHeight * (above.length + below.length) + drawn;

/** A domain that holds all ends and no change, with a little air. */
const domainOf = (
  bars: readonly Readonly<{ low: number; high: number }>[],
): readonly [number, number] => {
  const ends = bars.flatMap(({ low, high }) => [low, high]);
  const [least, most] = [Math.min(0, ...ends), Math.max(0, ...ends)];
  const air = Math.max(0.5, 0.04 * (most - least));
  return [least - air, most + air];
};

const gradeWords = ({ feasibility }: ComparedProtocol): string =>
  feasibility.kind === "not judged" ? "hold not judged" : holdWords(feasibility.assessment);

const percentOf = (logRatio: number): number => 100 * Math.expm1(logRatio);

/**
 * Two to six protocols side by side: each session to scale, its three ranges on one axis, and its difference from the
 * first with the range, the chance of being better and the call in words.
 *
 * The three parts stand beside each other on a page and under each other in a column; a slide of many protocols leaves
 * the sessions out.
 *
 * @param input from `compareProtocols`
 * @throws {CallError} "timelines-count" when the sessions do not match the protocols
 */
export const comparisonFigure = (input: ComparisonFigureInput, room: Room = roomOf()): Figure => {
  const { id, confidence } = { ...comparisonFigureDefaults, ...input };
  const { comparison, prepared } = input;
  // A session that cannot be laid out is null once an answer has been plain data.
  const timelines = input.timelines.map((line) => line ?? undefined);
  const { protocols, differences } = comparison;
  if (timelines.length !== protocols.length)
    throw new CallError({
      code: "timelines-count",
      where: "the figure of protocols side by side",
      needs: `${protocols.length} sessions, one for each protocol`,
      got: String(timelines.length),
    });
  const [column, slide] = [room.size === "column", room.size === "slide"];
  const many = slide && protocols.length > 2;
  const percent = confidenceWords(confidence);
  const lines = (
    text: string,
    style: string,
    width: number,
    most: number,
    full?: string,
  ): readonly Line[] =>
    wrapText(text, {
      width,
      fontSize: style === "text-small" ? type : type * 1.06,
      lines: most,
    }).map((line) => ({ text: line, style, ...(full === undefined ? {} : { full }) }));
  const gap = slide ? 14 : 24;
  const widths: readonly number[] = column
    ? [room.width, room.width, room.width]
    : (many ? [0, 0.42, 0.58] : [0.3, 0.35, 0.35]).map(
        (share) => share * (room.width - (many ? 1 : 2) * gap),
      );
  const nameOf = (row: number): string => oneLine(protocols[row]!.name);
  const named = (row: number, width: number): readonly Line[] =>
    lines(clipText(nameOf(row), Math.floor(width / 7)), "text-strong", width, 1, nameOf(row));

  const versusFirst = protocols.map((_, index) => {
    const found = differences.find(({ first, second }) => first === 0 && second === index);
    return found === undefined ? undefined : beyondFirst(found);
  });
  const barOf = (
    range: Readonly<{ estimate: number; low: number; high: number }>,
    kind: (typeof nestedKinds)[number],
    row: number,
  ): NestedBar => ({
    kind,
    row,
    low: percentOf(range.low),
    estimate: percentOf(range.estimate),
    high: percentOf(range.high),
  });
  const gains = protocols.flatMap(({ projection: { ranges } }, row) => [
    barOf(ranges.person, "a single person", row),
    barOf(ranges.newGroup, "a new group", row),
    barOf(ranges.average, "the average", row),
  ]);
  const overFirst = versusFirst.flatMap((one, row) =>
    one === undefined || !one.found.toldApart
      ? []
      : [barOf(one.newTrial, "a new group", row), barOf(one.average, "the average", row)],
  );

  const laid = timelines.filter((line): line is readonly TimelinePart[] => line !== undefined);
  const scale = laid.length === 0 ? undefined : commonStripScale(laid, widths[0]!);
  const stripHeight = 30;
  const strips = timelines.map((timeline) =>
    timeline === undefined || many
      ? undefined
      : holdStrip(timeline, {
          left: 0,
          top: 0,
          width: widths[0]!,
          height: stripHeight,
          ...(scale === undefined || scale.secondsAcross === null
            ? {}
            : { part: scale.part, secondsAcross: scale.secondsAcross }),
        }),
  );
  const sessions = protocols.map((protocol, row): Cell => {
    const [width, strip] = [widths[0]!, strips[row]];
    const length =
      strip === undefined
        ? "rests or intensity missing"
        : `${strip.part === "whole session" ? "" : `${strip.part}, `}${shownDuration(strip.seconds)}`;
    const written = clipText(protocol.written, 150);
    return {
      above: [
        ...named(row, width),
        ...(slide ? [] : lines(written, "text-small", width, 4, protocol.written)),
      ],
      drawn: strip === undefined ? 0 : stripHeight + 8,
      below: lines(`${length}; ${gradeWords(protocol)}`, "text-small", width, 2),
    };
  });
  const barHeight = many
    ? Math.max(10, Math.min(28, 150 / protocols.length - lineHeight - 4))
    : slide
      ? 28
      : 26;
  const gained = protocols.map(({ projection: { ranges } }, row): Cell => {
    const width = widths[1]!;
    const number = rangeText(ranges.average);
    return {
      above: many
        ? lines(`${clipText(nameOf(row), 12)}: ${number}`, "text-strong", width, 1, nameOf(row))
        : [...(column ? named(row, width) : []), ...lines(number, "text-pooled-strong", width, 1)],
      drawn: barHeight,
      below: many
        ? []
        : [
            ...(slide ? [] : [`a new group ${rangeLimits(ranges.newGroup)}%`]),
            `a single person ${rangeLimits(ranges.person)}%`,
          ].flatMap((text) => lines(text, "text-small", width, 2)),
    };
  });
  const compared = protocols.map((_, row): Cell => {
    const [width, one] = [widths[2]!, versusFirst[row]];
    if (one === undefined)
      return {
        above: [],
        drawn: 0,
        below:
          row > 0 || column || protocols.length < 2
            ? []
            : lines(
                `the other${protocols.length > 2 ? "s are" : " is"} set against this one`,
                "text-small",
                width,
                2,
              ),
      };
    const [strong, rest] = differenceWords(
      comparison,
      one,
      many ? "line" : slide ? "short" : "full",
    );
    return {
      above: [
        ...(column ? named(row, width) : []),
        ...lines(strong, "text-pooled-strong", width, 2),
      ],
      drawn: one.found.toldApart ? barHeight : 0,
      below: rest.flatMap((text) => lines(text, "text-small", width, 2)),
    };
  });

  const parts = [sessions, gained, compared];
  const space = many ? 4 : slide ? 10 : 18;
  const headed = 20;
  const topsOf = (cells: readonly Cell[]): readonly number[] => {
    const tops = [headed];
    cells.forEach((cell, row) => {
      const tallest = column
        ? heightOf(cell)
        : Math.max(...parts.slice(many ? 1 : 0).map((part) => heightOf(part[row]!)));
      tops.push(tops[row]! + tallest + (tallest === 0 ? 0 : space));
    });
    return tops;
  };
  const part = (
    place: 0 | 1 | 2,
    name: string,
    heading: string,
    { domain, axis }: Readonly<{ domain: readonly [number, number]; axis: boolean }>,
    drawn: (draw: ReturnType<typeof panelDrawing>, tops: readonly number[]) => readonly Layer[],
  ): Panel => {
    const [cells, width] = [parts[place]!, widths[place]!];
    const tops = topsOf(cells);
    const height = tops.at(-1)!;
    const draw = panelDrawing(name, {
      width,
      height,
      x: domain,
      y: [0, height],
      ...(axis
        ? {
            xAxis: {
              title: place === 0 ? "seconds" : "%",
              tickCount: Math.round(width / 60),
              grid: false,
              labelOverlap: true,
              labelFlush: 14,
              ...(slide ? { title: null } : {}),
            },
          }
        : {}),
    });
    const words: readonly (Words & { style: string })[] = [
      { x: domain[0], y: 6, text: heading, style: "text-heading" },
      ...cells.flatMap(({ above, drawn: room_, below }, row) =>
        [...above, ...below].map(({ text, style, full }, line) => ({
          x: domain[0],
          y: tops[row]! + 7 + lineHeight * line + (line < above.length ? 0 : room_),
          text,
          style,
          ...(full === undefined ? {} : { full }),
        })),
      ),
    ];
    const drawnTops = cells.map(({ above }, row) => tops[row]! + lineHeight * above.length + 2);
    return draw.panel([...drawn(draw, drawnTops), ...draw.styledWords(words)]);
  };
  const toSeconds = (scale?.secondsAcross ?? widths[0]!) / widths[0]!;
  const gainDomain = domainOf(gains);
  const amount = comparison.smallestWorthwhilePercent;
  // A slide has no room to say what is grey.
  const greyDrawn = !slide && amount > 0 && overFirst.length > 0;
  const countsAsNone = { low: -amount, high: amount };
  const groundOf = (bars: readonly NestedBar[], tops: readonly number[]) =>
    [...new Set(bars.map(({ row }) => row))].map((row) => ({
      ...{ x: -amount, x2: amount },
      ...{ y: tops[row]! - 2, y2: tops[row]! + barHeight - 2 },
    }));
  const panels = [
    ...(many
      ? []
      : [
          part(
            0,
            "sessions",
            laid.length === 0 ? "Sessions" : "Session, to scale",
            {
              domain: [0, widths[0]! * toSeconds],
              axis: scale !== undefined && scale.secondsAcross !== null,
            },
            (draw, tops) =>
              holdStripLayers(
                strips.flatMap((strip, row) =>
                  strip === undefined ? [] : [inSeconds(strip, toSeconds, tops[row]! + 2)],
                ),
                draw,
              ),
          ),
        ]),
    part(
      1,
      "gains",
      slide ? `Gain, %, ${contrastShortLabel(prepared.contrast)}` : `Gain, ${percent} ranges`,
      { domain: gainDomain, axis: true },
      (draw, tops) => nestedBars(draw, gains, { tops, height: barHeight - 4 }),
    ),
    ...(overFirst.length === 0 && protocols.length < 2
      ? []
      : [
          part(
            2,
            "differences",
            `Each minus ${clipText(nameOf(0), 24)}${slide ? ", %" : `, ${percent} ranges`}`,
            {
              domain: domainOf([...overFirst, ...(greyDrawn ? [countsAsNone] : [])]),
              axis: overFirst.length > 0,
            },
            (draw, tops) => [
              ...(greyDrawn
                ? [draw.boxes("counts as none", "zone", groundOf(overFirst, tops))]
                : []),
              ...nestedBars(draw, overFirst, { tops, height: barHeight - 4 }),
            ],
          ),
        ]),
  ];
  const sessionsWords = many
    ? ""
    : ` Sessions ${scale === undefined ? "cannot be laid out" : scale.secondsAcross === null ? "each on its own time scale" : `on one time scale (${scale.part})`}, intensity up.`;
  const title = comparisonInShort(comparison);
  const subtitle = `${counted(protocols.length, "protocol")}, ${contrastShortLabel(prepared.contrast)}${amount > 0 ? `; differences under ${amount}%${greyDrawn ? " (grey)" : ""} count as none` : ""}.`;
  const description = oneLine(
    `${title} ${protocols
      .map(
        ({ name, written, projection: { ranges } }) =>
          `${name} (${written}): average ${rangeText(ranges.average)}, a new group ${rangeLimits(ranges.newGroup)}%, a single person ${rangeLimits(ranges.person)}%`,
      )
      .join("; ")}. ${verdictSentences(comparison).join(" ")}`,
  );
  return {
    id,
    title,
    brief: `Middles cut out. A new group, from the top: ${protocols.map(({ projection: { ranges } }) => `${rangeLimits(ranges.newGroup)}%`).join(", ")}.`,
    caption: `Bars hold ${percent}, with the middle cut out; of a difference the tinted one is what a new trial would show. Differences are ratios of end scores, and surer than the gains look beside each other, since what two protocols share cancels. One is called better from a chance of 90% on.${sessionsWords} All pairs stand in the table.`,
    description,
    width: room.width,
    height: topsOf(gained).at(-1)! + (slide ? 36 : 58),
    specification: {
      $schema: "https://vega.github.io/schema/vega-lite/v6.json",
      description,
      title: { text: [title], subtitle: [subtitle] },
      ...(column ? { vconcat: panels, spacing: 14 } : { hconcat: panels, spacing: gap }),
      bounds: column ? "full" : "flush",
      config: themeConfig("light"),
    },
    data: protocols.map(({ name, written, projection: { ranges, weeks } }, row) => {
      const one = versusFirst[row];
      return {
        protocol: name,
        prescription: written,
        weeks,
        averagePercent: ranges.average.percent.estimate,
        averageLowPercent: ranges.average.percent.low,
        averageHighPercent: ranges.average.percent.high,
        newGroupLowPercent: ranges.newGroup.percent.low,
        newGroupHighPercent: ranges.newGroup.percent.high,
        personLowPercent: ranges.person.percent.low,
        personHighPercent: ranges.person.percent.high,
        overFirstLogRatio: one?.average.estimate ?? null,
        overFirstLow: one?.average.low ?? null,
        overFirstHigh: one?.average.high ?? null,
        probabilityBetterThanFirst: one === undefined ? null : 1 - one.found.probabilityFirstBetter,
      };
    }),
  };
};
