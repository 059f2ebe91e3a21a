import { CallError } from "../errors.js";
import { axisTicks } from "./axis-ticks.js";
import { effectDomain } from "./estimates-axis.js";
import { estimatesInputDefaults, type EstimatesInput } from "./estimates-input.js";
import {
  estimatesLayout,
  groupedByStudy,
  noteMark,
  type EstimatesLayout,
} from "./estimates-layout.js";
import { pooledLayers } from "./pooled-layers.js";
import type { Figure } from "./figure.js";
import { commonStripScale, holdStrip, holdStripLayers, type StripScale } from "./hold-strip.js";
import { panelDrawing, plainFrame, type Layer, type Panel } from "./layer.js";
import { requireFinite } from "./require-finite.js";
import type { ScaleDisplay } from "./scale-display.js";
import { shownDuration, shownClock } from "./shown-duration.js";
import { themeConfig } from "./theme-config.js";
import { oneLine, wrapText } from "./wrap-text.js";

export type EstimatesOptions = Readonly<{
  /** Ends of the axis on the analysis scale, to hold several figures to one axis. */
  domain?: readonly [number, number];
}>;

const plotWidth = 262;
const stripWidth = 104;
const numbersWidth = 158;

const where = "estimatesFigure";

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

const bands = (layout: EstimatesLayout, left: number, right: number) =>
  layout.studies.map(({ top, bottom }) => ({ x: left, x2: right, y: top, y2: bottom }));

const namesPanel = (layout: EstimatesLayout, hasPooled: boolean): Panel => {
  const { studyWidth, labelWidth, fontSize, height } = layout;
  const width = studyWidth + labelWidth;
  const draw = panelDrawing("names", plainFrame(width, height));
  const names = layout.studies.flatMap(({ study, nameLines }) =>
    nameLines.map(({ text, y }) => ({ x: 8, y, text, full: oneLine(study) })),
  );
  const labels = layout.studies.flatMap(({ rows }) =>
    rows.map(({ row, middle }) => ({
      x: studyWidth,
      y: middle,
      text: oneLine(row.label),
      full: oneLine(row.label),
    })),
  );
  const headings = [
    { x: 8, y: 10, text: "Study" },
    ...(labelWidth > 0 ? [{ x: studyWidth, y: 10, text: "Arm and outcome" }] : []),
  ];
  return draw.panel([
    draw.boxes("study bands", "band", bands(layout, 0, width)),
    draw.words("headings", "text-heading", headings),
    draw.words("study names", "text-strong", names, { limit: studyWidth - 14, fontSize }),
    ...(labelWidth > 0
      ? [draw.words("labels", "text-body", labels, { limit: labelWidth - 8, fontSize })]
      : []),
    ...(hasPooled
      ? [
          draw.words("pooled names", "text-pooled-strong", [
            { x: 8, y: layout.pooledTop + 11, text: "Average over such studies" },
            ...(layout.effectsTop - layout.pooledTop > 40
              ? [{ x: 8, y: layout.pooledTop + 33, text: "A further study like these" }]
              : []),
          ]),
        ]
      : []),
  ]);
};

const stripPanel = (layout: EstimatesLayout, scale: StripScale): Panel => {
  const frame = plainFrame(stripWidth + 22, layout.height);
  const draw = panelDrawing("hold strips", frame);
  const own = scale.secondsAcross === null;
  const drawn = layout.studies.flatMap(({ rows }) =>
    rows.flatMap(({ row, top, middle }) => {
      if (row.timeline === undefined || row.timeline.length === 0) return [];
      const strip = holdStrip(row.timeline, {
        left: 8,
        top: top + layout.rowHeight * 0.14,
        width: stripWidth - (own ? 34 : 0),
        height: layout.rowHeight * 0.72,
        ...(scale.secondsAcross === null
          ? {}
          : { secondsAcross: scale.secondsAcross, part: scale.part }),
      });
      const more = strip.part === "beginning of one set" ? "…" : "";
      return [{ strip, middle, length: `${shownClock(strip.seconds)}${more}` }];
    }),
  );
  const heading = own
    ? ["Session, or one set", "each to its own scale"]
    : scale.part === "whole session"
      ? ["Session, to scale"]
      : ["One set, to scale"];
  const foot = layout.foot;
  return draw.panel([
    draw.boxes("study bands", "band", bands(layout, 0, frame.width)),
    draw.words(
      "headings",
      "text-heading",
      heading.map((text, line) => ({ x: 8, y: 10 + line * 14, text })),
    ),
    ...holdStripLayers(
      drawn.map(({ strip }) => strip),
      draw,
    ),
    ...(own
      ? [
          draw.words(
            "strip lengths",
            "text-small",
            drawn.map(({ middle, length }) => ({ x: stripWidth - 22, y: middle, text: length })),
            { limit: 40 },
          ),
        ]
      : [
          draw.lines("strip axis", "grid", [
            { x: 8, x2: 8 + stripWidth, y: foot, y2: foot },
            { x: 8, x2: 8, y: foot, y2: foot + 4 },
            { x: 8 + stripWidth, x2: 8 + stripWidth, y: foot, y2: foot + 4 },
          ]),
          draw.words("strip axis start", "text-small", [{ x: 8, y: foot + 12, text: "0" }]),
          draw.words(
            "strip axis end",
            "text-small",
            [{ x: 8 + stripWidth, y: foot + 12, text: shownDuration(scale.secondsAcross ?? 0) }],
            { align: "right" },
          ),
        ]),
    draw.words("effort key", "text-small", [
      { x: 8, y: foot + 26, text: "height: effort to 100%" },
    ]),
  ]);
};

const plotPanel = (
  input: EstimatesInput,
  layout: EstimatesLayout,
  domain: readonly [number, number],
): Panel => {
  const { rowHeight, foot, height } = layout;
  const [low, high] = domain;
  const draw = panelDrawing("effects", { width: plotWidth, height, x: domain, y: [0, height] });
  const ticks = axisTicks(domain, input.display, { width: plotWidth });
  const rows = layout.studies.flatMap((study) => study.rows);
  const top = layout.pooledTop - 6;
  const half = Math.min(5, rowHeight * 0.26);
  const cut = (value: number) => Math.min(high, Math.max(low, value));
  const full = ({ row }: (typeof rows)[number]) =>
    oneLine(`${row.study} ${row.label}: ${valueText(input.display, row)}`);
  // The bar darkens from its ends to the estimate, so that the eye rests where the values are likeliest.
  const bar = (share: number, thickness: number) =>
    rows.map(({ row, middle }) => ({
      x: cut(row.estimate - share * (row.estimate - row.low)),
      x2: cut(row.estimate + share * (row.high - row.estimate)),
      y: middle - thickness,
      y2: middle + thickness,
    }));
  const tickWidth = ((high - low) / plotWidth) * 1.3;
  const beyond = (side: "low" | "high") =>
    rows
      .filter(({ row }) => (side === "low" ? row.low < low : row.high > high))
      .map(({ middle }) => ({
        x: side === "low" ? low : high,
        y: middle,
        text: side === "low" ? "\u2039" : "\u203a",
      }));
  const tickRows = (y: number) =>
    ticks.map(({ position, label }) => ({ x: position, y, text: label }));
  const directions = input.directions ?? estimatesInputDefaults.directions;
  const gap = ((high - low) / plotWidth) * 6;
  const zeroInside = low < 0 && high > 0;
  const roomLow = ((0 - low) / (high - low)) * plotWidth > 44;
  const roomHigh = ((high - 0) / (high - low)) * plotWidth > 44;
  const layers: Layer[] = [
    draw.boxes("study bands", "band", bands(layout, low, high)),
    ...(input.pooled === undefined
      ? []
      : pooledLayers(input.pooled, { draw, layout, domain, plotWidth })),
    draw.lines(
      "grid",
      "grid",
      ticks.map(({ position }) => ({ x: position, x2: position, y: top, y2: foot })),
    ),
    draw.lines("no change", "zero", [{ x: 0, x2: 0, y: top, y2: foot + 4 }]),
    draw.boxes("intervals", "effect-outer", bar(1, half * 0.55)),
    draw.boxes("intervals, inner two thirds", "effect-middle", bar(2 / 3, half * 0.8)),
    draw.words("intervals cut at the left", "text-strong", beyond("low"), { align: "right" }),
    draw.words("intervals cut at the right", "text-strong", beyond("high"), { align: "left" }),
    {
      ...draw.boxes(
        "estimates",
        "effect-tick",
        rows.map((laid) => ({
          x: laid.row.estimate - tickWidth,
          x2: laid.row.estimate + tickWidth,
          y: laid.middle - half * 1.5,
          y2: laid.middle + half * 1.5,
          full: full(laid),
        })),
      ),
    },
    draw.words("headings", "text-heading", [{ x: low, y: 10, text: input.display.label }]),
    draw.words("axis above", "text-small", tickRows(top - 8), { align: "center" }),
    draw.words("axis below", "text-small", tickRows(foot + 12), { align: "center" }),
    draw.words(
      "direction low",
      "text-small",
      zeroInside && roomLow ? [{ x: -gap, y: foot + 27, text: `\u2190 ${directions.low}` }] : [],
      { align: "right" },
    ),
    draw.words(
      "direction high",
      "text-small",
      zeroInside && roomHigh ? [{ x: gap, y: foot + 27, text: `${directions.high} \u2192` }] : [],
    ),
  ];
  return draw.panel(layers);
};

const written = (display: ScaleDisplay, value: number) => display.write(display.toShown(value));

/** An estimate and its interval in a sentence. */
const valueText = (
  display: ScaleDisplay,
  { estimate, low, high }: Readonly<{ estimate: number; low: number; high: number }>,
): string =>
  `${written(display, estimate)}${display.unit} (${written(display, low)} to ${written(display, high)})`;

const numbersPanel = (input: EstimatesInput, layout: EstimatesLayout): Panel => {
  const draw = panelDrawing("numbers", plainFrame(numbersWidth, layout.height));
  const percent = input.confidencePercent ?? estimatesInputDefaults.confidencePercent;
  const { display, pooled } = input;
  const { fontSize } = layout;
  const at = { estimate: 50, low: 96, to: 107, high: 150 };
  const rows = layout.studies.flatMap((study) => study.rows);
  const column = (pick: (row: (typeof rows)[number]["row"]) => number, x: number) =>
    rows.map(({ row, middle }) => ({ x, y: middle, text: written(display, pick(row)) }));
  const pooledRows =
    pooled === undefined
      ? []
      : [
          { y: layout.pooledTop + 11, estimate: pooled.estimate, ...pooled.interval },
          ...(pooled.predictionInterval === null
            ? []
            : [{ y: layout.pooledTop + 33, estimate: null, ...pooled.predictionInterval }]),
        ];
  const right = { align: "right" as const, fontSize };
  const pooledRight = { align: "right" as const };
  return draw.panel([
    draw.boxes("study bands", "band", bands(layout, 0, numbersWidth)),
    draw.words("heading estimate", "text-heading", [{ x: at.estimate, y: 10, text: "Estimate" }], {
      align: "right",
    }),
    draw.words(
      "heading interval",
      "text-heading",
      [{ x: at.high, y: 10, text: `${percent}% interval` }],
      { align: "right" },
    ),
    draw.words(
      "estimate numbers",
      "text-strong",
      column((row) => row.estimate, at.estimate),
      right,
    ),
    draw.words(
      "low numbers",
      "text-body",
      column((row) => row.low, at.low),
      right,
    ),
    draw.words(
      "high numbers",
      "text-body",
      column((row) => row.high, at.high),
      right,
    ),
    draw.words(
      "between numbers",
      "text-quiet",
      [...rows.map(({ middle }) => middle), ...pooledRows.map(({ y }) => y)].map((y) => ({
        x: at.to,
        y,
        text: "to",
      })),
      { align: "center", fontSize: Math.min(fontSize, 10) },
    ),
    draw.words(
      "note marks",
      "text-small",
      rows
        .filter(({ mark }) => mark !== "")
        .map(({ mark, top, row }) => ({
          x: at.estimate + 2,
          y: top + layout.rowHeight * 0.34,
          text: mark,
          full: row.note ?? "",
        })),
      { fontSize: fontSize - 2 },
    ),
    draw.words(
      "pooled estimate",
      "text-pooled-strong",
      pooledRows.flatMap(({ y, estimate }) =>
        estimate === null ? [] : [{ x: at.estimate, y, text: written(display, estimate) }],
      ),
      pooledRight,
    ),
    draw.words(
      "pooled low",
      "text-pooled",
      pooledRows.map(({ y, low }) => ({ x: at.low, y, text: written(display, low) })),
      pooledRight,
    ),
    draw.words(
      "pooled high",
      "text-pooled",
      pooledRows.map(({ y, high }) => ({ x: at.high, y, text: written(display, high) })),
      pooledRight,
    ),
  ]);
};

const countText = (count: number, one: string, many: string) =>
  `${count} ${count === 1 ? one : many}`;

/**
 * Each effect with its interval, grouped by study, beside its prescription drawn to scale.
 *
 * The pooled answer stands first; from it hangs a band through all rows: the shaded part is the
 * confidence interval of the average, the broken lines are the prediction interval, where the true effect of a
 * further study like these is expected. Numbers stand beside the marks, on the shown scale.
 * Rows shrink as there are more; for more than about sixty, `estimatesFigures` makes several figures.
 *
 * @param input  effects in the order to be shown, on one analysis scale
 * @returns the figure; its data hold full names and unrounded numbers
 * @throws {CallError} "no-effects", "not-finite", "interval-without-estimate"
 */
export const estimatesFigure = (input: EstimatesInput, options: EstimatesOptions = {}): Figure => {
  checkInput(input);
  const layout = estimatesLayout(input);
  const domain = options.domain ?? effectDomain(input);
  const { display, pooled, effects } = input;
  const percent = input.confidencePercent ?? estimatesInputDefaults.confidencePercent;
  const timelines = effects.flatMap(({ timeline }) =>
    timeline === undefined || timeline.length === 0 ? [] : [timeline],
  );
  const stripScale = timelines.length === 0 ? null : commonStripScale(timelines, stripWidth);
  const studies = groupedByStudy(effects).length;
  const counts = `${countText(effects.length, "effect", "effects")} from ${countText(studies, "study", "studies")}`;
  const pooledText =
    pooled === undefined
      ? ""
      : ` The average is ${valueText(display, { estimate: pooled.estimate, ...pooled.interval })}` +
        (pooled.predictionInterval === null
          ? "; there are too few studies for a prediction interval."
          : `; the true effect of a further study like these is expected between ${written(display, pooled.predictionInterval.low)} and ${written(display, pooled.predictionInterval.high)}${display.unit}.`);
  const cutCount = effects.filter(({ low, high }) => low < domain[0] || high > domain[1]).length;
  const caption = [
    `${counts}. Each tick is an estimate; its bar is the ${percent}% interval, darker towards the middle.`,
    pooled === undefined
      ? ""
      : `The shaded band is the ${percent}% confidence interval of the average${pooled.predictionInterval === null ? "" : "; the broken lines and the hatched bracket are the prediction interval"}.`,
    stripScale === null
      ? ""
      : stripScale.secondsAcross === null
        ? "Hold strips show the session, or one set where the whole would blur, each on its own time scale with its length beside it; height is effort."
        : `Hold strips show ${stripScale.part === "whole session" ? "the whole session" : "one set, as whole sessions would blur"}, all on one time scale; height is effort.`,
    cutCount === 0
      ? ""
      : `${countText(cutCount, "interval runs", "intervals run")} past the edge, marked \u2039 or \u203a; the numbers are whole.`,
    input.model ?? "",
    ...layout.notes.map((note, index) => `${noteMark(index)}: ${oneLine(note)}.`),
  ]
    .filter((sentence) => sentence !== "")
    .join(" ");

  const panels: Panel[] = [
    namesPanel(layout, pooled !== undefined),
    ...(stripScale === null ? [] : [stripPanel(layout, stripScale)]),
    plotPanel(input, layout, domain),
    numbersPanel(input, layout),
  ];
  const width =
    layout.studyWidth +
    layout.labelWidth +
    (stripScale === null ? 0 : stripWidth + 22) +
    plotWidth +
    numbersWidth;
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
    data: effects.map(({ study, label, estimate, low, high, note }) => ({
      study,
      label,
      estimate,
      low,
      high,
      shownEstimate: display.toShown(estimate),
      shownLow: display.toShown(low),
      shownHigh: display.toShown(high),
      note: note ?? null,
    })),
  };
};
