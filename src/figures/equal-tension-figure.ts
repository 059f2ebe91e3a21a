import type { EqualTension, EqualTensionAnswer } from "../dose/equal-tension.js";
import type { EqualTensionPair } from "../dose/equal-tension-pairs.js";
import type { EffectScale } from "../effects/effect.js";
import { CallError } from "../errors.js";
import { formatNumber } from "../tables/number-format.js";
import { equalTensionDoses, sideWords } from "./equal-tension-doses.js";
import { effectDomain } from "./estimates-axis.js";
import type { EstimatesInput } from "./estimates-input.js";
import { estimatesLayout, noteMark } from "./estimates-layout.js";
import { namesPanel } from "./estimates-names.js";
import { numbersPanel } from "./estimates-numbers.js";
import { plotPanel, plotWidth } from "./estimates-plot.js";
import type { Figure } from "./figure.js";
import type { SessionSegment } from "./hold-strip.js";
import { displayForScale } from "./scale-display.js";
import { themeConfig } from "./theme-config.js";
import { valueText, written } from "./value-text.js";
import { oneLine, wrapText } from "./wrap-text.js";

export type EqualTensionFigureInput = Readonly<{
  answer: EqualTensionAnswer;
  /** Rules the pairs were found by. */
  rules: Pick<EqualTension, "quantity" | "tolerance" | "confidence">;
  scale: EffectScale;
  /** Sessions of arms by effect id, where they can be drawn to scale. */
  timelines?: ReadonlyMap<string, readonly SessionSegment[]>;
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
 * holds (or harder efforts) brought than the shorter (or easier).
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
  const base = displayForScale(scale);
  const display = {
    ...base,
    label: base.unit === "%" ? "Difference, %" : base.label.replace(/^Change/, "Difference"),
  };
  const average = headline.answer;
  const percent = formatNumber(100 * rules.confidence, { digits: 0 });
  const title = `Equal ${rules.quantity}, ${question === "hold length" ? "different holds" : "different effort"}: ${family}`;
  // The place first, because a long label loses its end; the outcome only where there are several.
  const outcomes = new Set(
    pairs.map(({ outcome, place }) => outcome.replace(place === "" ? "" : ` (${place})`, "")),
  );
  const labelOf = ({ outcome, place }: EqualTensionPair): string => {
    if (place === "") return outcome;
    return outcomes.size === 1 ? place : `${place}, ${outcome.replace(` (${place})`, "")}`;
  };
  const estimates: EstimatesInput = {
    title,
    effects: pairs.map((pair) => ({
      study: pair.study,
      label: labelOf(pair),
      estimate: pair.estimate,
      low: pair.interval.low,
      high: pair.interval.high,
      note: doubtOf(pair, headline.of),
    })),
    ...(average.identified
      ? {
          pooled: {
            estimate: average.estimate,
            interval: average.interval,
            predictionInterval: average.predictionInterval,
          },
        }
      : {}),
    display,
    confidencePercent: Number(percent),
    directions: { low: `${words.less} better`, high: `${words.more} better` },
  };
  const layout = estimatesLayout(estimates);
  const doses = equalTensionDoses(question, pairs, layout, input.timelines ?? new Map());
  const counts = `${counted(pairs.length, "pair", "pairs")} of arms from ${counted(studies.length, "study", "studies")}, each with the same ${rules.quantity} within ${formatNumber(100 * rules.tolerance, { digits: 0 })}%${outcomes.size === 1 ? `; ${[...outcomes].join("")}` : ""}`;
  const averageText = average.identified
    ? `The average over ${counted(average.pairs, "pair", "pairs")} (${headline.of}, ${counted(average.studies, "study", "studies")}) of the ${words.more} against the ${words.less} is ${valueText(display, { estimate: average.estimate, ...average.interval })}.` +
      (average.predictionInterval === null
        ? ""
        : ` A further study like these is expected between ${written(display, average.predictionInterval.low)} and ${written(display, average.predictionInterval.high)}${display.unit}.`)
    : `No average: ${average.missing}.`;
  const description = oneLine(`${title}. ${counts}. ${averageText}`);
  const width =
    layout.studyWidth + layout.labelWidth + doses.width + plotWidth + layout.numbers.width;
  return {
    id: `equal-tension-${question.replace(" ", "-")}-${family.replaceAll(" ", "-")}`,
    title,
    caption: [
      `${counts}. Each tick is how much more the arm with the ${words.more} ${question === "hold length" ? "holds" : "effort"} gained than the other arm of its study, its bar the ${percent}% interval.`,
      doses.note,
      average.identified
        ? `Shaded: the ${percent}% interval of the average${average.predictionInterval === null ? "" : "; hatched bracket and broken lines: where a further study like these is expected"}.`
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
        namesPanel(layout, average.identified, "Outcome"),
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
