import { contrastShortLabel } from "../effects/scale-label.js";
import { CallError } from "../errors.js";
import type { ComparedProtocol, ProtocolComparison } from "../projection/compare-protocols.js";
import type { ReadyProjection } from "../projection/prepare-projection.js";
import type { TimelinePart } from "../protocol/session-timeline.js";
import { isSameProtocol, isUntold, verdictSentences } from "../tables/comparison-table.js";
import { probabilityCell, rangeLimits, rangeText } from "../tables/range-cells.js";
import { scaleDisplay } from "../tables/scale-display.js";
import { axisTicks } from "./axis-ticks.js";
import { clipText, oneLine, wrapText } from "./wrap-text.js";
import { comparisonLayout, type ComparisonLayoutName } from "./comparison-layout.js";
import type { Figure } from "./figure.js";
import { commonStripScale, holdStrip, holdStripLayers } from "./hold-strip.js";
import { panelDrawing, plainFrame, type Words } from "./layer.js";
import { rangeBarLayers } from "./range-bars.js";
import { shownDuration } from "../tables/shown-duration.js";
import { themeConfig } from "./theme-config.js";
import { confidenceWords } from "../tables/number-format.js";

export type ComparisonFigureInput = Readonly<{
  id?: string;
  comparison: ProtocolComparison;
  prepared: Pick<ReadyProjection, "contrast">;
  /** Sessions to draw, in the protocols' order; undefined where one cannot be laid out. */
  timelines: readonly (readonly TimelinePart[] | undefined)[];
  /** Share of the probability inside a range, as it was compared with. */
  confidence?: number;
  layout?: ComparisonLayoutName;
}>;
export const comparisonFigureDefaults = {
  id: "comparison",
  confidence: 0.95,
  layout: "wide",
} as const;

const display = scaleDisplay("log-ratio-of-means");

/** A domain that holds all ends and no change, with a little air. */
const domainOf = (ends: readonly number[]): readonly [number, number] => {
  const [least, most] = [Math.min(0, ...ends), Math.max(0, ...ends)];
  const air = Math.max(0.01, 0.05 * (most - least));
  return [least - air, most + air];
};

const gradeWords = ({ feasibility }: ComparedProtocol): string =>
  feasibility.kind === "not judged" ? "hold not judged" : feasibility.assessment.grade;

/**
 * Two to six protocols side by side: each session to scale, its three ranges on one axis, and its difference from the
 * first with the range, the chance of being better and the call in words.
 *
 * @param input from `compareProtocols`
 * @throws {CallError} "timelines-count" when the sessions do not match the protocols
 */
export const comparisonFigure = (input: ComparisonFigureInput): Figure => {
  const { id, confidence, layout: layoutName } = { ...comparisonFigureDefaults, ...input };
  const { comparison, prepared, timelines } = input;
  const { protocols, differences } = comparison;
  if (timelines.length !== protocols.length) {
    throw new CallError({
      code: "timelines-count",
      where: "comparisonFigure",
      needs: `${protocols.length} sessions, one for each protocol`,
      got: String(timelines.length),
    });
  }
  const at = comparisonLayout(layoutName, protocols.length);
  const draw = panelDrawing("comparison", plainFrame(at.width, at.height));
  const percent = confidenceWords(confidence);
  const laid = timelines.filter((line): line is readonly TimelinePart[] => line !== undefined);
  const scale = laid.length === 0 ? undefined : commonStripScale(laid, at.strip.width);

  const gains = domainOf(
    protocols.flatMap(({ projection: { ranges } }) =>
      [ranges.average, ranges.newGroup, ranges.person].flatMap(({ low, high }) => [low, high]),
    ),
  );
  // Every difference is turned so that it says what the row's protocol gives beyond the first.
  const versusFirst = protocols.map((_, index) => {
    const found = differences.find(({ first, second }) => first === 0 && second === index);
    if (found === undefined) return undefined;
    const turned = ({ estimate, low, high }: typeof found.average) => ({
      estimate: -estimate,
      low: -high,
      high: -low,
    });
    return {
      found,
      average: turned(found.average),
      newTrial: turned(found.newTrial),
      probability: 1 - found.probabilityFirstBetter,
      worthwhile: {
        own: found.probabilitySecondWorthwhile,
        first: found.probabilityFirstWorthwhile,
      },
    };
  });
  const spans = domainOf(
    versusFirst.flatMap((one) =>
      one === undefined
        ? []
        : [one.newTrial.low, one.newTrial.high, one.average.low, one.average.high],
    ),
  );
  const along =
    (domain: readonly [number, number], place: Readonly<{ left: number; width: number }>) =>
    (value: number): number =>
      place.left + ((value - domain[0]) / (domain[1] - domain[0])) * place.width;
  const gainAt = along(gains, at.ranges);
  const differenceAt = along(spans, at.difference);

  const strips = timelines.map((timeline, row) =>
    timeline === undefined
      ? undefined
      : holdStrip(timeline, {
          left: at.strip.left,
          top: at.strip.top(row),
          width: at.strip.width,
          height: at.strip.height,
          ...(scale === undefined || scale.secondsAcross === null
            ? {}
            : { part: scale.part, secondsAcross: scale.secondsAcross }),
        }),
  );
  const stripWords = protocols.map((protocol, row): string => {
    const strip = strips[row];
    const length =
      strip === undefined
        ? "rests or intensity missing"
        : `${strip.part === "whole session" ? "" : `${strip.part}, `}${shownDuration(strip.seconds)}`;
    return `${length}; ${gradeWords(protocol)}`;
  });
  const rows = protocols.map((protocol, row) => ({ protocol, row }));
  const nameLines = rows.flatMap(({ protocol, row }): readonly Words[] => [
    {
      x: at.names.left,
      y: at.names.top(row),
      text: clipText(protocol.name, at.names.letters),
      full: oneLine(protocol.name),
    },
  ]);
  const writtenLines = rows.flatMap(({ protocol, row }): readonly Words[] =>
    wrapText(clipText(protocol.written, at.names.writtenLetters), {
      width: at.names.width,
      fontSize: 9.5,
      lines: 4,
    }).map((text, line) => ({
      x: at.names.left,
      y: at.names.top(row) + 14 + 12 * line,
      text,
      full: protocol.written,
    })),
  );
  const axis = (
    domain: readonly [number, number],
    place: Readonly<{ left: number; width: number }>,
    at_: (value: number) => number,
  ) =>
    axisTicks(domain, display, { length: place.width }).map(({ position, label }) => ({
      x: at_(position),
      text: label,
    }));
  const gainTicks = axis(gains, at.ranges, gainAt);
  const differenceTicks = axis(spans, at.difference, differenceAt);
  const gridOf = (
    ticks: readonly Readonly<{ x: number }>[],
    place: Readonly<{ top: (row: number) => number; height: number }>,
    from: number,
  ) =>
    rows
      .slice(from)
      .flatMap(({ row }) =>
        ticks.map(({ x }) => ({ x, x2: x, y: place.top(row), y2: place.top(row) + place.height })),
      );
  const numbers = rows.flatMap(
    ({
      protocol: {
        projection: { ranges },
      },
      row,
    }) =>
      at.ranges.numbers(row).map(({ x, y, key }) => ({
        x,
        y,
        text:
          key === "average"
            ? rangeText(ranges.average)
            : key === "newGroup"
              ? `group ${rangeLimits(ranges.newGroup)}%`
              : `person ${rangeLimits(ranges.person)}%`,
        strong: key === "average",
      })),
  );
  const amount = comparison.smallestWorthwhilePercent;
  const more = amount > 0 ? `gives over ${amount}% more` : "is better";
  const words = rows.flatMap(
    ({ protocol, row }): readonly (Words & Readonly<{ strong: boolean }>)[] => {
      const one = versusFirst[row];
      const { x, y } = at.difference.words(row);
      if (one === undefined)
        return [
          {
            x,
            y,
            text: protocols.length > 1 ? "the one the others are set against" : "",
            strong: false,
          },
        ];
      const first = clipText(protocols[0]?.name ?? "", at.difference.letters);
      const own = clipText(protocol.name, at.difference.letters);
      if (isSameProtocol(comparison, one.found))
        return [{ x, y, text: "the same protocol", strong: true }];
      if (isUntold(comparison, one.found))
        return [
          { x, y, text: "cannot be told apart", strong: true },
          { x, y: y + 14, text: "the file says nothing about", strong: false },
          { x, y: y + 28, text: "that in which they differ", strong: false },
        ];
      const { call, short } = one.found.verdict;
      return [
        {
          x,
          y,
          text: rangeText(one.average),
          strong: true,
        },
        {
          x,
          y: y + 14,
          text:
            one.worthwhile.own >= one.worthwhile.first
              ? `${probabilityCell(one.worthwhile.own)} that ${own} ${more}`
              : `${probabilityCell(one.worthwhile.first)} that ${first} ${more}`,
          strong: false,
        },
        {
          x,
          y: y + 28,
          text: `${call === "tie" ? short : `${call === "first is better" ? first : own} is better`}; ${one.found.headToHead.trials.length > 0 ? "direct" : "indirect"} evidence`,
          strong: false,
        },
      ];
    },
  );
  const directLine = at.difference.halfThickness;
  const differenceBars = (pick: "average" | "newTrial", half: number) =>
    versusFirst.flatMap((one, row) =>
      one === undefined || !one.found.toldApart
        ? []
        : [
            {
              x: differenceAt(one[pick].low),
              x2: differenceAt(one[pick].high),
              y: at.difference.middle(row) - half,
              y2: at.difference.middle(row) + half,
            },
          ],
    );
  const layers = [
    draw.boxes(
      "rows",
      "band",
      rows
        .filter(({ row }) => row % 2 === 0)
        .map(({ row }) => ({
          x: 0,
          x2: at.width,
          y: at.rowTop(row),
          y2: at.rowTop(row) + at.rowHeight(row),
        })),
    ),
    draw.lines("gain grid", "grid", gridOf(gainTicks, at.ranges, 0)),
    draw.lines("difference grid", "grid", gridOf(differenceTicks, at.difference, 1)),
    draw.lines("no change", "zero", gridOf([{ x: gainAt(0) }], at.ranges, 0)),
    draw.lines("no difference", "zero", gridOf([{ x: differenceAt(0) }], at.difference, 1)),
    ...holdStripLayers(
      strips.filter((strip) => strip !== undefined),
      draw,
    ),
    ...rangeBarLayers(
      "gains",
      rows.map(({ protocol, row }) => ({
        ranges: protocol.projection.ranges,
        across: at.ranges.middle(row),
      })),
      gainAt,
      draw,
    ),
    draw.boxes("differences in a new trial", "range-group", differenceBars("newTrial", 2.5)),
    draw.boxes("differences", "pooled-bar", differenceBars("average", directLine)),
    draw.boxes(
      "middle of differences",
      "range-tick",
      versusFirst.flatMap((one, row) =>
        one === undefined || isSameProtocol(comparison, one.found)
          ? []
          : [
              {
                x: differenceAt(one.average.estimate) - 0.9,
                x2: differenceAt(one.average.estimate) + 0.9,
                y: at.difference.middle(row) - directLine,
                y2: at.difference.middle(row) + directLine,
              },
            ],
      ),
    ),
    draw.words("names", "text-strong", nameLines, { limit: at.names.width }),
    draw.words("prescriptions", "text-small", writtenLines, { limit: at.names.width }),
    draw.words(
      "sessions",
      "text-small",
      rows.map(({ row }) => ({
        x: at.strip.left,
        y: at.strip.top(row) + at.strip.height + 10,
        text: stripWords[row] ?? "",
      })),
      { limit: at.strip.width + 12 },
    ),
    draw.words(
      "average numbers",
      "text-strong",
      numbers.filter(({ strong }) => strong),
    ),
    draw.words(
      "other numbers",
      "text-small",
      numbers.filter(({ strong }) => !strong),
    ),
    draw.words(
      "difference numbers",
      "text-pooled-strong",
      words.filter(({ strong }) => strong),
    ),
    draw.words(
      "difference words",
      "text-small",
      words.filter(({ strong }) => !strong),
      { limit: at.difference.wordsWidth },
    ),
    draw.words("headings", "text-heading", at.headings(percent)),
    draw.words(
      "gain axis",
      "text-small",
      at.axes.gain.flatMap((y) => gainTicks.map((tick) => ({ ...tick, y }))),
      { align: "center" },
    ),
    draw.words(
      "difference axis",
      "text-small",
      at.axes.difference.flatMap((y) => differenceTicks.map((tick) => ({ ...tick, y }))),
      { align: "center" },
    ),
  ];
  const title = `Side by side: ${comparison.goal}`;
  const subtitle = `${protocols.length} protocols, ${contrastShortLabel(prepared.contrast)}${comparison.smallestWorthwhilePercent > 0 ? `; differences under ${comparison.smallestWorthwhilePercent}% count as none` : ""}`;
  const verdicts = verdictSentences(comparison);
  const description = `${title}. ${protocols
    .map(
      ({ name, written, projection: { ranges } }) =>
        `${oneLine(name)} (${written}): average ${rangeText(ranges.average)}, a new group ${rangeLimits(ranges.newGroup)}%, a single person ${rangeLimits(ranges.person)}%`,
    )
    .join("; ")}. ${verdicts.map(oneLine).join(" ")}`;
  return {
    id,
    title,
    caption: `Sessions ${scale === undefined ? "cannot be laid out" : scale.secondsAcross === null ? "each on its own time scale" : `to one time scale (${scale.part})`}, intensity up. Gains: the darkest bar is the average over such studies with its middle cut out, the next a new group, the thin one a single person, each holding ${percent}. Differences are from the first protocol: the thick bar is the average, the thin one what a new trial would show; they are ratios of end scores, and surer than the gains look beside each other, since what two protocols share cancels. One is called better from 90% on. All pairs stand in the table.`,
    description,
    specification: {
      $schema: "https://vega.github.io/schema/vega-lite/v6.json",
      description,
      title: {
        text: [...wrapText(title, { width: at.width * 0.98, fontSize: 16, lines: 3 })],
        subtitle: [...wrapText(subtitle, { width: at.width * 0.98, fontSize: 11.5, lines: 3 })],
      },
      hconcat: [draw.panel(layers)],
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
        probabilityBetterThanFirst: one?.probability ?? null,
      };
    }),
  };
};
