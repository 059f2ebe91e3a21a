import { contrastShortLabel } from "../effects/scale-label.js";
import { logRatioFromPercent } from "../effects/percent-from-log-ratio.js";
import { CallError } from "../errors.js";
import type { Frontier } from "../projection/explore-protocols.js";
import type { ReadyProjection } from "../projection/prepare-projection.js";
import { frontierSentences } from "../tables/frontier-table.js";
import {
  confidenceWords,
  formatCount,
  formatNumber,
  plainNumber,
} from "../tables/number-format.js";
import { probabilityCell, rangeLimits, rangeText } from "../tables/range-cells.js";
import { scaleDisplay } from "../tables/scale-display.js";
import { axisTicks, roundValues } from "./axis-ticks.js";
import { clipText, wrapText } from "./wrap-text.js";
import type { Figure } from "./figure.js";
import { panelDrawing, plainFrame, type Stroke, type Words } from "./layer.js";
import { themeConfig } from "./theme-config.js";

export type FrontierFigureInput = Readonly<{
  id?: string;
  frontier: Frontier;
  prepared: Pick<ReadyProjection, "contrast">;
  /** Share of the probability inside a range, as it was searched with. */
  confidence?: number;
  layout?: "wide" | "narrow";
}>;
export const frontierFigureDefaults = {
  id: "frontier",
  confidence: 0.95,
  layout: "wide",
} as const;

const left = 50;
const top = 26;
const lowestPlot = 320;
const highestPlot = 620;
const lineHeight = 13;
const entryGap = 7;

/** Most candidates drawn; more would only blacken the same ground, so every so-manieth stands for its neighbours. */
const mostCandidates = 2000;

type PlacedPoint = Readonly<{ x: number; low: number; high: number }>;

/** The numbers of the points above their bars, moved up where another number or another bar stands. */
const numbered = (points: readonly PlacedPoint[]): readonly Words[] => {
  const placed: Words[] = [];
  const taken = (x: number, y: number): boolean =>
    placed.some((other) => Math.abs(other.x - x) < 15 && Math.abs(other.y - y) < 12) ||
    points.some((bar) => Math.abs(bar.x - x) < 10 && y > bar.high - 7 && y < bar.low + 7);
  points.forEach(({ x, high }, index) => {
    let at = high - 10;
    while (at > top + 6 && taken(x, at)) at -= 4;
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
export const frontierFigure = (input: FrontierFigureInput): Figure => {
  const { id, confidence, layout } = { ...frontierFigureDefaults, ...input };
  const { frontier, prepared } = input;
  const { points } = frontier;
  if (points.length === 0) {
    throw new CallError({
      code: "no-points",
      where: "frontierFigure",
      needs: "a frontier with at least one protocol",
      got: "none",
    });
  }
  const narrow = layout === "narrow";
  const plotWidth = narrow ? 310 : 500;
  const right = left + plotWidth;
  const listWidth = narrow ? right - 8 : 330;
  const listLeft = narrow ? 8 : right + 34;
  const percent = confidenceWords(confidence);

  let next = 0;
  const listed = points.map((point, index) => {
    const y = next;
    const { average, person } = point.projection.ranges;
    const title = wrapText(clipText(point.written, 150), {
      width: listWidth - 26,
      fontSize: 9.5,
      lines: 3,
    });
    const added =
      point.overPrevious === undefined
        ? ""
        : `; ${probabilityCell(point.overPrevious.probabilityBetter)} that it adds`;
    const numbers = `${formatNumber(point.minutesPerSession, { digits: 1 })} min a session: ${rangeText(average)}${added}`;
    const aside = `a single person ${rangeLimits(person)}%`;
    next += (title.length + 2) * lineHeight + entryGap;
    return { number: String(index + 1), y, title, numbers, aside, full: point.written };
  });
  const listHeight = next;
  const plotHeight = narrow
    ? lowestPlot
    : Math.min(highestPlot, Math.max(lowestPlot, listHeight - 26));
  const bottom = top + plotHeight;
  const listTop = narrow ? bottom + 78 : top + 12;
  const entries = listed.map((entry) => ({ ...entry, y: entry.y + listTop }));

  const step = Math.max(1, Math.ceil(frontier.candidates.length / mostCandidates));
  const candidates = frontier.candidates
    .filter((_, index) => index % step === 0)
    .map(({ minutesPerWeek, expectedPercent }) => ({
      minutesPerWeek,
      gain: logRatioFromPercent(expectedPercent),
    }));
  const longest = Math.max(
    ...points.map(({ minutesPerWeek }) => minutesPerWeek),
    ...candidates.map(({ minutesPerWeek }) => minutesPerWeek),
  );
  const ends = [
    0,
    ...points.flatMap(({ projection: { ranges } }) => [ranges.average.low, ranges.average.high]),
    ...candidates.map(({ gain }) => gain),
  ];
  const [least, most] = [Math.min(...ends), Math.max(...ends)];
  const air = Math.max(0.01, 0.05 * (most - least));
  const domain = [least - air, most + air] as const;
  const up = (gain: number): number =>
    bottom - ((gain - domain[0]) / (domain[1] - domain[0])) * plotHeight;
  const along = (minutes: number): number => left + (minutes / (longest * 1.04)) * plotWidth;
  const ticks = axisTicks(domain, scaleDisplay("log-ratio-of-means"), {
    length: plotHeight,
    labels: "beside",
  });
  const minuteTicks = roundValues(0, longest * 1.04, narrow ? 5 : 8);

  const at = points.map(({ minutesPerWeek, projection: { ranges } }) => ({
    x: along(minutesPerWeek),
    y: up(ranges.average.estimate),
    low: up(ranges.average.low),
    high: up(ranges.average.high),
  }));
  // The frontier is a stair: between two protocols one has no more than the shorter one gives.
  const stairs = at.slice(1).flatMap((point, index): readonly Stroke[] => {
    const before = at[index] ?? point;
    return [
      { x: before.x, x2: point.x, y: before.y, y2: before.y },
      { x: point.x, x2: point.x, y: before.y, y2: point.y },
    ];
  });
  const width = narrow ? right + 12 : listLeft + listWidth;
  const height = Math.max(bottom + 44, listTop + listHeight + 6);
  const draw = panelDrawing("frontier", plainFrame(width, height));
  const layers = [
    draw.boxes("ground", "band", [{ x: left, x2: right, y: top, y2: bottom }]),
    draw.lines(
      "levels",
      "grid",
      ticks.map(({ position }) => ({ x: left, x2: right, y: up(position), y2: up(position) })),
    ),
    draw.points(
      "candidates",
      "candidate-point",
      candidates.map(({ minutesPerWeek, gain }) => ({ x: along(minutesPerWeek), y: up(gain) })),
    ),
    draw.lines("no change", "zero", [{ x: left, x2: right, y: up(0), y2: up(0) }]),
    draw.boxes(
      "ranges",
      "range-group",
      at.map(({ x, low, high }) => ({ x: x - 2.5, x2: x + 2.5, y: high, y2: low })),
    ),
    draw.lines("frontier", "frontier-line", stairs),
    draw.points(
      "points",
      "frontier-point",
      at.map(({ x, y }, index) => ({
        x,
        y,
        full: `${index + 1}: ${points[index]?.written ?? ""}`,
      })),
    ),
    draw.words("numbers", "text-strong", numbered(at), {
      align: "center",
    }),
    draw.words(
      "levels in words",
      "text-small",
      ticks.map(({ position, label }) => ({ x: left - 6, y: up(position), text: label })),
      { align: "right" },
    ),
    draw.lines(
      "minute marks",
      "grid",
      minuteTicks.map((minutes) => ({
        x: along(minutes),
        x2: along(minutes),
        y: bottom,
        y2: bottom + 4,
      })),
    ),
    draw.words(
      "minutes",
      "text-small",
      minuteTicks.map((minutes) => ({
        x: along(minutes),
        y: bottom + 13,
        text: plainNumber(minutes),
      })),
      { align: "center" },
    ),
    draw.words("axis names", "text-heading", [
      { x: left, y: top - 12, text: `average gain, ${contrastShortLabel(prepared.contrast)}` },
      { x: left, y: bottom + 31, text: "minutes a week, rests included" },
    ]),
    draw.words("list heading", "text-heading", [
      {
        x: listLeft,
        y: listTop - (narrow ? 16 : 24),
        text: `the frontier: average and ${percent} range`,
      },
    ]),
    draw.words(
      "list numbers",
      "text-strong",
      entries.map(({ number, y }) => ({ x: listLeft, y, text: number })),
    ),
    draw.words(
      "list protocols",
      "text-small",
      entries.flatMap(({ title, y, full }) =>
        title.map((text, line) => ({ x: listLeft + 22, y: y + line * lineHeight, text, full })),
      ),
      { limit: listWidth - 22 },
    ),
    draw.words(
      "list gains",
      "text-pooled",
      entries.map(({ numbers, title, y }) => ({
        x: listLeft + 22,
        y: y + title.length * lineHeight,
        text: numbers,
      })),
      { limit: listWidth - 22, fontSize: 10 },
    ),
    draw.words(
      "list people",
      "text-small",
      entries.map(({ aside, title, y }) => ({
        x: listLeft + 22,
        y: y + (title.length + 1) * lineHeight,
        text: aside,
      })),
    ),
  ];
  const title = `The most for the time: ${frontier.goal}`;
  const { limits } = frontier;
  const subtitle = `up to ${plainNumber(limits.minutesPerSession)} min a session, ${plainNumber(limits.sessionsPerWeek)} a week, ${plainNumber(limits.effortCeilingPercent)}% of MVC${limits.joint === undefined ? "" : `, ${limits.joint}`}, ${plainNumber(limits.weeks ?? 0)} weeks`;
  const description = `${title}, ${subtitle}. ${frontierSentences(frontier, { confidence }).join(" ")}`;
  return {
    id,
    title,
    caption: `Faint dots: ${formatCount(frontier.candidates.length)} candidates that fit the limits, can be held and lie near evidence${step > 1 ? ` (one in ${step} drawn)` : ""}. Numbered: those for which no other takes less time and gives as much; bars hold ${percent} of the average over such studies. The best of many is somewhat flattered; a single person's range is far wider than any bar here.`,
    description,
    specification: {
      $schema: "https://vega.github.io/schema/vega-lite/v6.json",
      description,
      title: {
        text: [...wrapText(title, { width: width * 0.98, fontSize: 16, lines: 3 })],
        subtitle: [...wrapText(subtitle, { width: width * 0.98, fontSize: 11.5, lines: 3 })],
      },
      hconcat: [draw.panel(layers)],
      config: themeConfig("light"),
    },
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
