/** Effects beside their hold strips, on one figure or on pages of it; longer than most for the pages. */
import { CallError } from "../errors.js";
import { capital } from "../tables/number-format.js";
import { scaleDisplay, valueText } from "../tables/scale-display.js";
import {
  type EstimateRow,
  type EstimatesInput,
  effectDomain,
  estimatesInputDefaults,
  studiesIn,
} from "./estimates-input.js";
import { estimatesLayout, groupedByStudy, noteMark } from "./estimates-layout.js";
import {
  namesPanel,
  numbersPanel,
  stripPanel,
  stripPanelWidth,
  stripWidth,
} from "./estimates-columns.js";
import { plotPanel } from "./estimates-plot.js";
import { estimatesRows } from "./estimates-rows.js";
import type { Figure } from "./figure.js";
import { roomOf, type Room } from "./frame.js";
import { commonStripScale } from "./hold-strip.js";
import type { Panel } from "./layer.js";
import { requireFinite } from "./require-finite.js";
import { themeConfig } from "./theme-config.js";
import { oneLine, wrapText } from "./wrap-text.js";

export type EstimatesOptions = Readonly<{
  /** Ends of the axis on the analysis scale, to hold several figures to one axis. */
  domain?: readonly [number, number];
  /** All that the pooled answer rests on, when this figure shows a part of it. */
  partOf?: Readonly<{ effects: number; studies: number }>;
}>;

const where = "estimatesFigure";

/** Least and most width of the panel of marks. */
const [leastPlot, mostPlot] = [186, 262];

const checkInput = (input: EstimatesInput): void => {
  if (input.effects.length === 0) {
    throw new CallError({ code: "no-effects", where, needs: "at least one effect", got: "none" });
  }
  for (const { study, estimate, low, high } of input.effects) {
    requireFinite(`${where} (study ${JSON.stringify(study)})`, { estimate, low, high });
    if (!(low <= estimate && estimate <= high)) {
      throw new CallError({
        code: "interval-without-estimate",
        where: `${where} (study ${JSON.stringify(study)})`,
        needs: "an interval that holds its estimate",
        got: `${estimate} in ${low} to ${high}`,
      });
    }
  }
  if (input.pooled !== undefined) {
    const { estimate, interval, predictionInterval } = input.pooled;
    requireFinite(`${where} (pooled)`, {
      estimate,
      "interval low": interval.low,
      "interval high": interval.high,
      "prediction low": predictionInterval?.low,
      "prediction high": predictionInterval?.high,
    });
  }
};

const countText = (count: number, one: string, many: string) =>
  `${count} ${count === 1 ? one : many}`;

/**
 * Each effect with its interval, grouped by study, beside its prescription drawn to scale.
 *
 * The pooled answer stands first; from it hangs a band through all rows: the shaded part is the
 * confidence interval of the average, the broken lines are the prediction interval, where the true effect of a
 * further study like these is expected. Numbers stand beside the marks, on the shown scale.
 * Rows shrink as there are more; for more than about forty, `estimatesFigures` makes several figures.
 *
 * @param given  effects in the order to be shown, on one analysis scale
 * @returns the figure; its data hold full names and unrounded numbers
 * @throws {CallError} "no-effects", "not-finite", "interval-without-estimate"
 */
export const estimatesFigure = (given: EstimatesInput, options: EstimatesOptions = {}): Figure => {
  checkInput(given);
  const input = { ...given, display: scaleDisplay(given.scale) };
  const layout = estimatesLayout(input);
  const domain = options.domain ?? effectDomain(input);
  const { display, pooled, effects } = input;
  const percent = input.confidencePercent ?? estimatesInputDefaults.confidencePercent;
  const timelines = effects.flatMap(({ timeline }) =>
    timeline === undefined || timeline.length === 0 ? [] : [timeline],
  );
  const texts = layout.studyWidth + layout.labelWidth + layout.numbers.width;
  const common = timelines.length === 0 ? null : commonStripScale(timelines, stripWidth);
  const page = roomOf("page").width;
  // Strips stand where a page has room for them.
  const stripScale = texts + stripPanelWidth + leastPlot > page ? null : common;
  const left = page - texts - (stripScale === null ? 0 : stripPanelWidth);
  const plotWidth = Math.max(leastPlot, Math.min(mostPlot, left));
  const width = texts + (stripScale === null ? 0 : stripPanelWidth) + plotWidth;
  const weighted = effects.filter(({ spread }) => spread !== "none");
  const studies = studiesIn(weighted);
  const without = effects.length - weighted.length;
  const counts =
    options.partOf === undefined
      ? `${countText(weighted.length, "effect", "effects")} from ${countText(studies, "study", "studies")}`
      : `${weighted.length} of ${options.partOf.effects} effects, from ${studies} of ${options.partOf.studies} studies`;
  const average = options.partOf === undefined ? "The average" : "The average over all effects";
  const pooledText =
    pooled === undefined
      ? ""
      : ` ${average} is ${valueText(display, { estimate: pooled.estimate, ...pooled.interval })}` +
        (pooled.predictionInterval === null
          ? "; there are too few studies for the range of a further study."
          : `; the true effect of a further study like these is expected between ${display.write(pooled.predictionInterval.low)} and ${display.write(pooled.predictionInterval.high)}${display.sign}.`);
  const cutCount = effects.filter(({ low, high }) => low < domain[0] || high > domain[1]).length;
  const caption = [
    `${counts}. Each tick is an estimate; its bar is the ${percent}% interval, stronger in colour towards the middle.`,
    effects.some(({ spread }) => spread === "borrowed")
      ? "Open with a line: the row prints no spread, and its interval stands on one borrowed from like studies."
      : "",
    without === 0
      ? ""
      : `Open without a line: ${countText(without, "row has", "rows have")} no spread and nothing lends one; shown, and in no average.`,
    pooled === undefined
      ? ""
      : `The shaded band is the ${percent}% confidence interval of the average${pooled.predictionInterval === null ? "" : "; the broken lines and the tinted bar are the range of a further study"}.`,
    stripScale === null
      ? ""
      : stripScale.secondsAcross === null
        ? "Hold strips show the session, or one set where the whole would blur, each on its own time scale with its length beside it; height is intensity."
        : `Hold strips show ${stripScale.part === "whole session" ? "the whole session" : "one set, as whole sessions would blur"}, all on one time scale; height is intensity.`,
    cutCount === 0
      ? ""
      : `${countText(cutCount, "interval runs", "intervals run")} past the edge, marked \u2039 or \u203a; the numbers are whole.`,
    input.model === undefined ? "" : `${capital(input.model.replace(/[.]$/u, ""))}.`,
    ...layout.notes.map((note, index) => `${noteMark(index)}: ${oneLine(note)}.`),
  ]
    .filter((sentence) => sentence !== "")
    .join(" ");

  const panels: Panel[] = [
    namesPanel(layout, pooled !== undefined),
    ...(stripScale === null ? [] : [stripPanel(layout, stripScale)]),
    plotPanel(input, layout, domain, plotWidth),
    numbersPanel(input, layout),
  ];
  const description = `${oneLine(input.title)}: ${counts}.${pooledText}`;
  return {
    id: input.id ?? estimatesInputDefaults.id,
    title: input.title,
    caption,
    description,
    specification: {
      $schema: "https://vega.github.io/schema/vega-lite/v6.json",
      description,
      title: {
        text: [...wrapText(input.title, { width: width * 0.98, fontSize: 16, lines: 3 })],
        subtitle: [...wrapText(`${counts}.${pooledText}`, { width, fontSize: 11.5, lines: 3 })],
      },
      hconcat: panels,
      spacing: 0,
      config: themeConfig("light"),
    },
    data: effects.map(({ study, label, estimate, low, high, spread, note }) => ({
      study,
      label,
      estimate,
      low: spread === "none" ? null : low,
      high: spread === "none" ? null : high,
      shownEstimate: display.toShown(estimate),
      shownLow: spread === "none" ? null : display.toShown(low),
      shownHigh: spread === "none" ? null : display.toShown(high),
      spread: spread ?? "its own",
      note: note ?? null,
    })),
  };
};

export type EstimatesPagesOptions = Readonly<{
  /** Most rows on one figure; a study with more rows than this is parted. */
  rowsPerFigure?: number;
  /** What it is drawn into; a page with all rows where left out. */
  room?: Room | undefined;
}>;

export const estimatesPagesDefaults = { rowsPerFigure: 40 } as const;

/** Effects in pages of whole studies. */
const pagesOf = (
  effects: readonly EstimateRow[],
  rowsPerFigure: number,
): readonly (readonly EstimateRow[])[] => {
  const pages: EstimateRow[][] = [[]];
  for (const [, rows] of groupedByStudy(effects)) {
    for (let from = 0; from < rows.length; from += rowsPerFigure) {
      const piece = rows.slice(from, from + rowsPerFigure);
      const page = pages.at(-1) ?? [];
      if (page.length > 0 && page.length + piece.length > rowsPerFigure) pages.push([...piece]);
      else page.push(...piece);
    }
  }
  return pages;
};

/**
 * The estimates figure in as many pages as it needs to stay readable, all on one axis.
 *
 * Each page repeats the pooled answer, which is of all effects, and says which page it is. Studies stay
 * whole on a page unless one alone has more rows than a page holds.
 *
 * @param input  as for `estimatesFigure`
 * @throws {CallError} as `estimatesFigure`
 */
export const estimatesFigures = (
  input: EstimatesInput,
  options: EstimatesPagesOptions = {},
): readonly Figure[] => {
  const { rowsPerFigure, room } = { ...estimatesPagesDefaults, ...options };
  if (room !== undefined && (room.size !== "page" || input.effects.length > room.rows)) {
    checkInput(input);
    const many = input.effects.length > room.rows;
    if (!many || room.all !== true) return [estimatesRows(input, room, many ? "study" : "effect")];
  }
  const pages = pagesOf(input.effects, Math.max(1, Math.floor(rowsPerFigure)));
  if (pages.length === 1) return [estimatesFigure(input)];
  const domain = effectDomain(input);
  const weighted = input.effects.filter(({ spread }) => spread !== "none");
  const studies = studiesIn(weighted);
  const id = input.id ?? estimatesInputDefaults.id;
  return pages.map((effects, index) =>
    estimatesFigure(
      {
        ...input,
        id: `${id}-${index + 1}`,
        title: `${input.title} (${index + 1} of ${pages.length})`,
        effects,
      },
      { domain, partOf: { effects: weighted.length, studies } },
    ),
  );
};
