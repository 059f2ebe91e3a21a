/** Expected gain against minutes a week, and the protocols for which no other takes less time and gives as much. */
import { contrastShortLabel } from "../effects/scale-label.js";
import { CallError } from "../errors.js";
import type { Frontier } from "../projection/explore-protocols.js";
import type { ReadyProjection } from "../projection/prepare-projection.js";
import { frontierSentences } from "../tables/frontier-table.js";
import {
  capital,
  confidenceWords,
  formatCount,
  formatNumber,
  plainNumber,
} from "../tables/number-format.js";
import { probabilityCell, rangeLimits, rangeMiddle, rangeText } from "../tables/range-cells.js";
import { sharedPieces } from "./estimates-layout.js";
import type { Figure } from "./figure.js";
import { roomOf, type Room } from "./frame.js";
import {
  axisRoom,
  panelDrawing,
  plainFrame,
  uprightAxis,
  type Encoding,
  type Words,
} from "./layer.js";
import { themeConfig } from "./theme-config.js";
import { figureTheme } from "./theme.js";
import { clipText, oneLine, wrapText } from "./wrap-text.js";

export type FrontierFigureInput = Readonly<{
  id?: string;
  frontier: Frontier;
  prepared: Pick<ReadyProjection, "contrast">;
  /** Share of the probability inside a range, as it was searched with. */
  confidence?: number;
}>;
export const frontierFigureDefaults = { id: "frontier", confidence: 0.95 } as const;

const type = figureTheme.sizes.small;
const lineHeight = 14;
/** Most candidates drawn; more would only blacken the same ground, so every so-manieth stands for its neighbours. */
const mostCandidates = 2000;
/** Most lines of the list on a slide. */
const slideLines = 10;

const kinds = ["other protocols that fit", "the most for its time"] as const;
const kind = (channel: Encoding, legend: Encoding | null): Encoding => ({
  field: "kind",
  type: "ordinal",
  scale: { domain: [...kinds], ...channel },
  legend,
});
/** Grey is what nobody need look at twice; one legend for colour and size. */
const byKind: Encoding = {
  fill: kind(
    { range: "heatmap" },
    { title: null, orient: "top", symbolStrokeWidth: 0, symbolType: "circle" },
  ),
  size: kind(
    { range: [7, 60] },
    { title: null, orient: "top", symbolStrokeWidth: 0, symbolType: "circle" },
  ),
};

type Placed = Readonly<{ x: number; low: number; high: number }>;

/** Heights of the points' numbers above their bars, in drawing units, moved up where another number or bar stands. */
const numbered = (points: readonly Placed[]): readonly Words[] => {
  const placed: Words[] = [];
  const taken = (x: number, y: number): boolean =>
    placed.some((other) => Math.abs(other.x - x) < 15 && Math.abs(other.y - y) < 12) ||
    points.some((bar) => Math.abs(bar.x - x) < 10 && y > bar.high - 7 && y < bar.low + 7);
  points.forEach(({ x, high }, index) => {
    let at = high - 9;
    while (at > 6 && taken(x, at)) at -= 4;
    placed.push({ x, y: at, text: String(index + 1) });
  });
  return placed;
};

/**
 * Expected gain against minutes a week: the frontier with its ranges, its protocols listed beside it, and every other
 * candidate faint.
 *
 * @param input from `exploreProtocols`
 * @throws {CallError} "no-points" for a frontier without points
 */
export const frontierFigure = (input: FrontierFigureInput, room: Room = roomOf()): Figure => {
  const { id, confidence } = { ...frontierFigureDefaults, ...input };
  const { frontier, prepared } = input;
  const { points } = frontier;
  if (points.length === 0)
    throw new CallError({
      code: "no-points",
      where: "the figure of the most for the time",
      needs: "a frontier with at least one protocol",
      got: "none",
    });
  const [column, slide] = [room.size === "column", room.size === "slide"];
  const [labels, gap] = [30, column ? 0 : 18];
  const plot = column ? room.width - labels - 4 : slide ? 196 : 452;
  const listWidth = column ? room.width : room.width - labels - plot - gap;
  const percent = confidenceWords(confidence);

  // What all listed protocols share is said once.
  const pieces = points.map(({ written }) => oneLine(written).split(", "));
  const shared = points.length === 1 ? [] : sharedPieces(points.map(({ written }) => written));
  const ownWords = (place: number): string =>
    pieces[place]!.filter((piece) => !shared.includes(piece)).join(", ");
  type Entry = Readonly<{ text: string; style: string; y: number; x: number; full?: string }>;
  let next = 24;
  const list: Entry[] = [
    {
      text: slide
        ? "Minutes a session: average gain"
        : `The most for its time: average, ${percent} range`,
      style: "text-heading",
      x: gap,
      y: 6,
    },
  ];
  const put = (text: string, style: string, x: number, full?: string): void => {
    for (const line of wrapText(text, { width: listWidth - x + gap, fontSize: type, lines: 3 })) {
      list.push({
        text: line,
        style,
        x: gap + x,
        y: next,
        ...(full === undefined ? {} : { full }),
      });
      next += lineHeight;
    }
  };
  const listed = points.filter((point, index) => {
    if (slide && next > 24 + (slideLines - 1) * lineHeight) return false;
    const { average, person } = point.projection.ranges;
    const minutes = formatNumber(point.minutesPerSession, { digits: 1 });
    list.push({ text: String(index + 1), style: "text-strong", x: gap, y: next });
    if (slide) {
      const gain = `${minutes}: ${rangeMiddle(average)}%`;
      list.push({ text: gain, style: "text-pooled-strong", x: gap + 20, y: next });
      put(clipText(ownWords(index), 150), "text-small", 98, point.written);
      return true;
    }
    put(clipText(ownWords(index), 150), "text-body", 22, point.written);
    put(
      `${minutes} min a session: ${rangeText(average)}${point.overPrevious === undefined ? "" : `; ${probabilityCell(point.overPrevious.probabilityBetter)} that it adds`}`,
      "text-pooled",
      22,
    );
    put(`a single person ${rangeLimits(person)}%`, "text-small", 22);
    next += 7;
    return true;
  });
  if (listed.length < points.length)
    put(`and ${points.length - listed.length} that take more time`, "text-small", 20);
  const listHeight = next;
  const height = column ? 260 : slide ? 148 : Math.min(620, Math.max(320, listHeight));

  const step = Math.max(1, Math.ceil(frontier.candidates.length / mostCandidates));
  const candidates = frontier.candidates
    .filter((_, index) => index % step === 0)
    .map(({ minutesPerWeek, expectedPercent }) => ({
      x: minutesPerWeek,
      y: expectedPercent,
      kind: kinds[0],
    }));
  const longest = Math.max(
    ...[...candidates.map(({ x }) => x), ...points.map((one) => one.minutesPerWeek)],
  );
  const ends = [
    0,
    ...points.flatMap(({ projection: { ranges } }) => [
      ranges.average.percent.low,
      ranges.average.percent.high,
    ]),
    ...candidates.map(({ y }) => y),
  ];
  const [least, most] = [Math.min(...ends), Math.max(...ends)];
  const air = Math.max(0.5, 0.06 * (most - least));
  // Air for the numbers above the bars, which stand over each other on a small sheet.
  const above = (slide ? 0.3 : column ? 0.16 : 0.08) * (most - least);
  const [bottom, top, right] = [least - air, most + air + above, longest * 1.04];
  const draw = panelDrawing("frontier", {
    width: plot,
    height,
    x: [0, right],
    y: [top, bottom],
    xAxis: {
      title: "minutes a week, rests included",
      tickCount: Math.round(plot / 60),
      grid: false,
    },
    yAxis: uprightAxis(`Average gain, %, ${contrastShortLabel(prepared.contrast)}`, height),
  });
  const at = points.map(({ minutesPerWeek, projection: { ranges } }) => ({
    x: minutesPerWeek,
    y: ranges.average.percent.estimate,
    low: ranges.average.percent.low,
    high: ranges.average.percent.high,
  }));
  // The frontier is a stair: between two protocols one has no more than the shorter one gives.
  const stairs = at.flatMap(({ x, y }, index) => {
    const before = at[index - 1];
    return before === undefined
      ? [{ x, y, part: "" }]
      : [
          { x, y: before.y, part: "" },
          { x, y, part: "" },
        ];
  });
  const stairAt = (x: number): number => at.findLast((one) => one.x <= x)?.y ?? Infinity;
  const offLine = candidates.some(({ x, y }) => y > stairAt(x) + 0.05)
    ? "Those above the line take longer than the numbered protocol before them and give hardly more, too little for a step. "
    : "";
  const half = (2.5 * right) / plot;
  const upUnits = (value: number): number => ((top - value) / (top - bottom)) * height;
  const drawn = draw.panel([
    draw.points("candidates", "candidate-point", candidates, byKind),
    draw.lines("no change", "zero", [{ x: 0, x2: right, y: 0, y2: 0 }]),
    draw.boxes(
      "ranges",
      "computed-tint",
      at.map(({ x, low, high }) => ({ x: x - half, x2: x + half, y: low, y2: high })),
    ),
    ...(points.length > 1 ? [draw.paths("frontier", "frontier-line", stairs)] : []),
    draw.points(
      "points",
      "candidate-point",
      at.map(({ x, y }, index) => ({
        x,
        y,
        kind: kinds[1],
        full: `${index + 1}: ${points[index]!.written}`,
      })),
      byKind,
    ),
    draw.words(
      "numbers",
      "text-strong",
      numbered(
        at.map(({ x, low, high }) => ({
          x: (x / right) * plot,
          low: upUnits(low),
          high: upUnits(high),
        })),
      ).map(({ x, y, text }) => ({
        x: (x / plot) * right,
        y: top - (y / height) * (top - bottom),
        text,
      })),
      { align: "center" },
    ),
  ]);
  const words = panelDrawing("list", plainFrame(listWidth + gap, column ? listHeight : height));
  const told = words.panel(words.styledWords(list));
  const beside = [axisRoom("axis", labels, height), drawn];
  const row = { hconcat: column ? beside : [...beside, told], spacing: 0, bounds: "flush" };
  const { limits } = frontier;
  const [shortest, last] = [points[0]!, points.at(-1)!];
  const takes = ({ minutesPerWeek, projection: { ranges } }: typeof last, unit: string): string =>
    `${rangeMiddle(ranges.average)}% for ${formatNumber(minutesPerWeek, { digits: 0 })} min${unit}`;
  const title = `${capital(frontier.goal)}: ${takes(shortest, " a week")}${points.length === 1 ? "" : `, ${takes(last, "")}`}, on average.`;
  const within = `up to ${plainNumber(limits.minutesPerSession)} min a session, ${plainNumber(limits.sessionsPerWeek)} a week, ${plainNumber(limits.effortCeilingPercent)}% of MVC${limits.joint === undefined ? "" : `, ${limits.joint}`}, ${plainNumber(limits.weeks ?? 0)} weeks`;
  const subtitle = `${capital(within)}.${shared.length === 0 ? "" : ` All listed: ${shared.join(", ")}.`}`;
  const description = `${title} ${capital(within)}. ${frontierSentences(frontier, { confidence }).join(" ")}`;
  return {
    id,
    title,
    brief: `Bars: ${percent} of the average.${offLine === "" ? "" : " Grey dots above the line: hardly more than the protocol before."}`,
    caption: `Grey dots: ${formatCount(frontier.candidates.length)} candidates that fit the limits, can be held and lie near evidence${step > 1 ? ` (one in ${step} drawn)` : ""}. ${offLine}Numbered: those for which no other takes less time and gives as much; bars hold ${percent} of the average over such studies. The best of many is somewhat flattered; a single person's range is far wider than any bar here.`,
    description,
    width: room.width,
    height: height + (slide ? 68 : 84),
    specification: {
      $schema: "https://vega.github.io/schema/vega-lite/v6.json",
      description,
      title: { text: [title], subtitle: [subtitle] },
      vconcat: column ? [row, told] : [row],
      spacing: 18,
      config: themeConfig("light"),
    } as unknown as Figure["specification"],
    data: points.map(
      ({ written, minutesPerSession, minutesPerWeek, grade, projection, overPrevious }, index) => ({
        number: index + 1,
        protocol: written,
        minutesPerSession,
        minutesPerWeek,
        canBeHeld: grade,
        averagePercent: projection.ranges.average.percent.estimate,
        averageLowPercent: projection.ranges.average.percent.low,
        averageHighPercent: projection.ranges.average.percent.high,
        personLowPercent: projection.ranges.person.percent.low,
        personHighPercent: projection.ranges.person.percent.high,
        probabilityAddsToPrevious: overPrevious?.probabilityBetter ?? null,
      }),
    ),
  };
};
