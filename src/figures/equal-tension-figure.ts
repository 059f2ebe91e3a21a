/** Pairs of arms at equal work beside their sessions; longer than most for the doses drawn beside each pair. */
import type { EqualTensionPair, EqualTensionQuestion } from "../dose/equal-tension-pairs.js";
import type { EqualTension, EqualTensionAnswer } from "../dose/equal-tension.js";
import type { EffectScale } from "../effects/effect.js";
import { CallError } from "../errors.js";
import { kebabName } from "../tables/dose-table.js";
import { confidencePercent, confidenceWords, formatNumber } from "../tables/number-format.js";
import { shownDose } from "../tables/shown-dose.js";
import { scaleDisplay, valueText } from "../tables/scale-display.js";
import { namesPanel, numbersPanel, studyBands } from "./estimates-columns.js";
import { type ShownEstimates, effectDomain } from "./estimates-input.js";
import { type EstimatesLayout, estimatesLayout, noteMark } from "./estimates-layout.js";
import { plotPanel, plotWidth } from "./estimates-plot.js";
import type { Figure } from "./figure.js";
import { type SessionSegment, commonStripScale, holdStrip, holdStripLayers } from "./hold-strip.js";
import { type Panel, panelDrawing, plainFrame } from "./layer.js";
import { shownDuration } from "../tables/shown-duration.js";
import { themeConfig } from "./theme-config.js";
import { oneLine, wrapText } from "./wrap-text.js";

/** Words for the two sides of a pair. */
export const sideWords: Readonly<
  Record<EqualTensionQuestion, Readonly<{ more: string; less: string }>>
> = {
  "hold length": { more: "longer", less: "shorter" },
  intensity: { more: "higher", less: "lower" },
};

const stripWidth = 112;
const moreRight = 50;
const lessRight = 100;
const stripLeft = 112;

type Sessions = readonly [more: readonly SessionSegment[], less: readonly SessionSegment[]];

/** What is the same and what differs in each pair: the two doses in numbers, the two sessions one above the other. */
export const equalTensionDoses = (
  question: EqualTensionQuestion,
  pairs: readonly EqualTensionPair[],
  layout: EstimatesLayout,
  timelines: Readonly<Record<string, readonly SessionSegment[]>>,
): Readonly<{ panel: Panel; width: number; strips: boolean; note: string }> => {
  const rows = layout.studies.flatMap(({ rows: own }) => own);
  const sessions = pairs.map(({ more, less }): Sessions | undefined => {
    const [a, b] = [timelines[more.effectId], timelines[less.effectId]];
    return a === undefined || b === undefined || a.length === 0 || b.length === 0
      ? undefined
      : [a, b];
  });
  const drawable = sessions.flatMap((both) => (both === undefined ? [] : both));
  const scale = drawable.length === 0 ? undefined : commonStripScale(drawable, stripWidth);
  // Strips on scales of their own could not be compared by eye, so then there are none.
  const strips = scale !== undefined && scale.secondsAcross !== null;
  const width = strips ? stripLeft + stripWidth + 26 : lessRight + 16;
  const draw = panelDrawing("doses", plainFrame(width, layout.height));
  const words = sideWords[question];
  const written = (side: EqualTensionPair["more"]): string => {
    const value = question === "hold length" ? side.holdSeconds : side.intensityPercent;
    if (value === undefined) return "";
    return question === "hold length"
      ? shownDose(value, { kind: "number", unit: "s" })
      : `${shownDose(value, { kind: "number", unit: "" })}%`;
  };
  const column = (pick: "more" | "less", x: number) =>
    rows.map(({ middle }, index) => ({ x, y: middle, text: written(pairs[index]![pick]) }));
  const drawn = !strips
    ? []
    : rows.flatMap(({ top }, index) => {
        const both = sessions[index];
        if (both === undefined) return [];
        return both.map((timeline, place) =>
          holdStrip(timeline, {
            left: stripLeft,
            top: top + layout.rowHeight * (place === 0 ? 0.06 : 0.54),
            width: stripWidth,
            height: layout.rowHeight * 0.4,
            part: scale.part,
            secondsAcross: scale.secondsAcross!,
          }),
        );
      });
  const what = scale?.part === "whole session" ? "Sessions" : "One set each";
  const { foot, fontSize } = layout;
  const capital = (text: string): string => text.charAt(0).toUpperCase() + text.slice(1);
  return {
    width,
    strips,
    note: strips
      ? `Strips show ${scale.part === "whole session" ? "whole sessions" : "one set"}, the ${words.more} above the ${words.less}, all on one time scale; height is intensity; blank where rests or intensity are not coded.`
      : "",
    panel: draw.panel([
      draw.boxes("study bands", "band", studyBands(layout, 0, width)),
      draw.words(
        "headings of numbers",
        "text-heading",
        [
          { x: moreRight, y: 10, text: capital(words.more) },
          { x: lessRight, y: 10, text: capital(words.less) },
        ],
        { align: "right" },
      ),
      draw.words("more", "text-body", column("more", moreRight), { align: "right", fontSize }),
      draw.words("less", "text-body", column("less", lessRight), { align: "right", fontSize }),
      ...(strips
        ? [
            draw.words("headings of strips", "text-heading", [
              { x: stripLeft, y: 10, text: `${what}, to scale:` },
              { x: stripLeft, y: 24, text: `${words.more} above ${words.less}` },
            ]),
            ...holdStripLayers(drawn, draw),
            draw.lines("strip axis", "grid", [
              { x: stripLeft, x2: stripLeft + stripWidth, y: foot, y2: foot },
              { x: stripLeft, x2: stripLeft, y: foot, y2: foot + 4 },
              { x: stripLeft + stripWidth, x2: stripLeft + stripWidth, y: foot, y2: foot + 4 },
            ]),
            draw.words("strip axis start", "text-small", [
              { x: stripLeft, y: foot + 12, text: "0" },
            ]),
            draw.words(
              "strip axis end",
              "text-small",
              [
                {
                  x: stripLeft + stripWidth,
                  y: foot + 12,
                  text: shownDuration(scale.secondsAcross),
                },
              ],
              { align: "right" },
            ),
          ]
        : []),
    ]),
  };
};

export type EqualTensionFigureInput = Readonly<{
  /** File-name form; from question and family where not given. */
  id?: string;
  answer: EqualTensionAnswer;
  /** Rules the pairs were found by. */
  rules: Pick<EqualTension, "quantity" | "tolerance" | "confidence">;
  scale: EffectScale;
  /** Sessions of arms by effect id, where they can be drawn to scale. */
  timelines?: Readonly<Record<string, readonly SessionSegment[]>>;
}>;

const counted = (count: number, one: string, many: string): string =>
  `${count} ${count === 1 ? one : many}`;

/** What keeps a pair from the average spoken of first, or blurs what it compares. */
const doubtOf = (
  pair: EqualTensionPair,
  of: EqualTensionAnswer["headline"]["of"],
): string | undefined => {
  const differs = pair.alsoDiffer.length > 0;
  const parts = [
    ...(differs ? [`also differs in ${pair.alsoDiffer.join(", ")}`] : []),
    ...(pair.pooled ? [] : ["follows from other pairs of its study"]),
  ];
  if (parts.length === 0) return undefined;
  const left = !pair.pooled || (differs && of === "pairs alike otherwise");
  return `${parts.join("; ")}${left ? "; not in the average" : ""}`;
};

/**
 * The same work given otherwise: each pair of arms with its two doses and sessions, and how much more the longer
 * holds (or higher intensities) brought than the shorter (or lower).
 *
 * On top the average of pairs alike in everything else, with its interval and prediction interval; pairs that are
 * listed without being averaged carry a letter that says why.
 *
 * @throws {CallError} "no-pairs" for an answer without a pair
 */
export const equalTensionFigure = (input: EqualTensionFigureInput): Figure => {
  const { answer, rules, scale } = input;
  const { question, family, headline } = answer;
  if (answer.pairs.length === 0) {
    throw new CallError({
      code: "no-pairs",
      where: "equalTensionFigure",
      needs: "at least one pair of arms",
      got: "none",
    });
  }
  // Rows of one study stand together, in the order in which studies first appear.
  const studies = [...new Set(answer.pairs.map(({ study }) => study))];
  const pairs = studies.flatMap((name) => answer.pairs.filter(({ study }) => study === name));
  const words = sideWords[question];
  const base = scaleDisplay(scale);
  const display = {
    ...base,
    label: base.shownAsPercent ? "Difference, %" : base.label.replace(/^Change/, "Difference"),
  };
  const average = headline.answer;
  const percent = confidenceWords(rules.confidence);
  const title = `Equal ${rules.quantity}, ${question === "hold length" ? "different holds" : "different intensity"}: ${family}`;
  // The place first, because a long label loses its end; the outcome only where there are several.
  const outcomes = new Set(
    pairs.map(({ outcome, place }) => outcome.replace(place === "" ? "" : ` (${place})`, "")),
  );
  const labelOf = ({ outcome, place }: EqualTensionPair): string => {
    if (place === "") return outcome;
    return outcomes.size === 1 ? place : `${place}, ${outcome.replace(` (${place})`, "")}`;
  };
  const estimates: ShownEstimates = {
    title,
    effects: pairs.map((pair) => ({
      study: pair.study,
      label: labelOf(pair),
      estimate: pair.estimate,
      low: pair.interval.low,
      high: pair.interval.high,
      note: doubtOf(pair, headline.of),
    })),
    ...(average.kind === "told"
      ? {
          pooled: {
            estimate: average.estimate,
            interval: average.interval,
            predictionInterval: average.predictionInterval,
          },
        }
      : {}),
    scale,
    display,
    confidencePercent: confidencePercent(rules.confidence),
    directions: { low: `${words.less} better`, high: `${words.more} better` },
  };
  const layout = estimatesLayout(estimates);
  const doses = equalTensionDoses(question, pairs, layout, input.timelines ?? {});
  const counts = `${counted(pairs.length, "pair", "pairs")} of arms from ${counted(studies.length, "study", "studies")}, each with the same ${rules.quantity} within ${formatNumber(100 * rules.tolerance, { digits: 0 })}%${outcomes.size === 1 ? `; ${[...outcomes].join("")}` : ""}`;
  const averageText =
    average.kind === "told"
      ? `The average over ${counted(average.pairs, "pair", "pairs")} (${headline.of}, ${counted(average.studies, "study", "studies")}) of the ${words.more} against the ${words.less} is ${valueText(display, { estimate: average.estimate, ...average.interval })}.` +
        (average.predictionInterval === null
          ? ""
          : ` A further study like these is expected between ${display.write(average.predictionInterval.low)} and ${display.write(average.predictionInterval.high)}${display.sign}.`)
      : `No average: ${average.reason}.`;
  const description = oneLine(`${title}. ${counts}. ${averageText}`);
  const width =
    layout.studyWidth + layout.labelWidth + doses.width + plotWidth + layout.numbers.width;
  return {
    id: input.id ?? `equal-tension-${kebabName(`${question} ${family}`)}`,
    title,
    caption: [
      `${counts}. Each tick is how much more the arm with the ${words.more} ${question === "hold length" ? "holds" : "intensity"} gained than the other arm of its study, its bar the ${percent} interval.`,
      doses.note,
      average.kind === "told"
        ? `Shaded: the ${percent} interval of the average${average.predictionInterval === null ? "" : "; hatched bracket and broken lines: the range of a further study"}.`
        : "",
      ...layout.notes.map((note, index) => `${noteMark(index)}: ${oneLine(note)}.`),
      ...answer.notes
        .filter(({ code }) => code === "robust-few-degrees-of-freedom")
        .map(({ message }) => `${message.charAt(0).toUpperCase()}${message.slice(1)}.`),
    ]
      .filter((sentence) => sentence !== "")
      .join(" "),
    description,
    specification: {
      $schema: "https://vega.github.io/schema/vega-lite/v6.json",
      description,
      title: {
        text: [...wrapText(title, { width: width * 0.98, fontSize: 16, lines: 3 })],
        subtitle: [...wrapText(`${counts}. ${averageText}`, { width, fontSize: 11.5, lines: 4 })],
      },
      hconcat: [
        namesPanel(layout, average.kind === "told", "Outcome"),
        doses.panel,
        plotPanel(estimates, layout, effectDomain(estimates)),
        numbersPanel(estimates, layout),
      ],
      spacing: 0,
      config: themeConfig("light"),
    },
    data: pairs.map((pair) => ({
      study: pair.study,
      outcome: pair.outcome,
      moreArm: pair.more.arm,
      lessArm: pair.less.arm,
      moreHoldSeconds: pair.more.holdSeconds ?? null,
      lessHoldSeconds: pair.less.holdSeconds ?? null,
      moreIntensityPercent: pair.more.intensityPercent ?? null,
      lessIntensityPercent: pair.less.intensityPercent ?? null,
      moreTotal: pair.more.total,
      lessTotal: pair.less.total,
      totalOver: pair.over,
      estimate: pair.estimate,
      low: pair.interval.low,
      high: pair.interval.high,
      shownEstimate: display.toShown(pair.estimate),
      averaged: pair.pooled ? "yes" : "no",
      alsoDiffer: pair.alsoDiffer.join(", "),
    })),
  };
};
