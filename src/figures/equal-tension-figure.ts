/** Pairs of arms at equal work beside their sessions; longer than most for the doses drawn beside each pair. */
import type { EqualTensionPair, EqualTensionQuestion } from "../dose/equal-tension-pairs.js";
import type { EqualTension, EqualTensionAnswer } from "../dose/equal-tension.js";
import type { EffectScale } from "../effects/effect.js";
import { CallError } from "../errors.js";
import type { Interval } from "../synthesis/synthesis-results.js";
import { kebabName } from "../tables/dose-table.js";
import { capital, confidenceWords, counted, formatNumber } from "../tables/number-format.js";
import { shownDose } from "../tables/shown-dose.js";
import { scaleDisplay, valueText } from "../tables/scale-display.js";
import { noteMark, sharedPieces } from "./estimates-layout.js";
import type { Figure } from "./figure.js";
import { roomOf, type Room } from "./frame.js";
import {
  type SessionSegment,
  commonStripScale,
  holdStrip,
  holdStripLayers,
  inSeconds,
} from "./hold-strip.js";
import { type Panel, panelDrawing } from "./layer.js";
import { drawnChart, rowChart, slideRows } from "./row-chart.js";
import { clipText, oneLine } from "./wrap-text.js";

/** Words for the two sides of a pair. */
export const sideWords: Readonly<
  Record<EqualTensionQuestion, Readonly<{ more: string; less: string }>>
> = {
  "hold length": { more: "longer", less: "shorter" },
  intensity: { more: "higher", less: "lower" },
};

const stripWidth = 116;
const kinds = ["a pair of arms", "average"] as const;
const apart = ["in the average", "listed only"] as const;

type Sessions = readonly [more: readonly SessionSegment[], less: readonly SessionSegment[]];

/** The two sessions of each pair one above the other, all on one clock; nothing where they share none. */
const sessionsBeside = (
  pairs: readonly EqualTensionPair[],
  timelines: Readonly<Record<string, readonly SessionSegment[]>>,
  firstRow: number,
) => {
  const sessions = pairs.map(({ more, less }): Sessions | undefined => {
    const [a, b] = [timelines[more.effectId], timelines[less.effectId]];
    return a === undefined || b === undefined || a.length === 0 || b.length === 0
      ? undefined
      : [a, b];
  });
  const drawable = sessions.flatMap((both) => (both === undefined ? [] : both));
  const scale = drawable.length === 0 ? undefined : commonStripScale(drawable, stripWidth);
  // Strips on scales of their own could not be compared by eye, so then there are none.
  if (scale === undefined || scale.secondsAcross === null) return undefined;
  const { part, secondsAcross } = scale;
  const panel = (tops: readonly number[], step: number, height: number): Panel => {
    const draw = panelDrawing("sessions", {
      width: stripWidth + 18,
      height,
      x: [0, ((stripWidth + 18) / stripWidth) * secondsAcross],
      y: [0, height],
      xAxis: { title: "seconds", tickCount: 2, grid: false },
    });
    const seconds = secondsAcross / stripWidth;
    return draw.panel(
      holdStripLayers(
        sessions.flatMap((both, pair) =>
          (both ?? []).map((timeline, place) =>
            inSeconds(
              holdStrip(timeline, {
                left: 0,
                top: tops[pair + firstRow]! + step * (place === 0 ? 0.08 : 0.54),
                width: stripWidth,
                height: step * 0.38,
                part,
                secondsAcross,
              }),
              seconds,
            ),
          ),
        ),
        draw,
      ),
    );
  };
  return { part, beside: { width: stripWidth + 18, panel } };
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
 * On top the average of pairs alike in everything else; pairs that are listed without being averaged are hollow, and a
 * letter says why.
 *
 * @throws {CallError} "no-pairs" for an answer without a pair
 */
export const equalTensionFigure = (
  input: EqualTensionFigureInput,
  room: Room = roomOf(),
): Figure => {
  const { answer, rules, scale } = input;
  const { question, family, headline } = answer;
  if (answer.pairs.length === 0)
    throw new CallError({
      code: "no-pairs",
      where: "the figure of equal work",
      needs: "at least one pair of arms",
      got: "none",
    });
  // Rows of one study stand together, in the order in which studies first appear.
  const studies = [...new Set(answer.pairs.map(({ study }) => study))];
  const pairs = studies.flatMap((name) => answer.pairs.filter(({ study }) => study === name));
  const words = sideWords[question];
  const display = scaleDisplay(scale);
  const average = headline.answer;
  const percent = confidenceWords(rules.confidence);
  // The outcome only where there are several.
  const outcomes = new Set(
    pairs.map(({ outcome, place }) => outcome.replace(place === "" ? "" : ` (${place})`, "")),
  );
  const doses = ({ more, less }: EqualTensionPair): string =>
    question === "hold length"
      ? `${shownDose(more.holdSeconds!, { kind: "number", unit: "s" })} for ${shownDose(less.holdSeconds!, { kind: "number", unit: "s" })}`
      : `${shownDose(more.intensityPercent!, { kind: "number", unit: "" })}% for ${shownDose(less.intensityPercent!, { kind: "number", unit: "" })}%`;
  const tested = ({ outcome, place }: EqualTensionPair): string =>
    place === ""
      ? outcome
      : outcomes.size === 1
        ? place
        : `${place}, ${outcome.replace(` (${place})`, "")}`;
  const shared = sharedPieces(pairs.map(tested));
  const shortOf = (pair: EqualTensionPair): string =>
    `${clipText(oneLine(pair.study), 40)}: ${doses(pair)}`;
  const wholeOf = (pair: EqualTensionPair): string => {
    const own = tested(pair).split(", ");
    return [shortOf(pair), ...own.filter((piece) => !shared.includes(piece))].join(", ");
  };
  // A slide says what was tested where that tells rows apart.
  const apartBy = (label: typeof shortOf): number => new Set(pairs.map(label)).size;
  const labelOf =
    room.size === "slide" && apartBy(wholeOf) === apartBy(shortOf) ? shortOf : wholeOf;
  const notes = [...new Set(pairs.flatMap((pair) => doubtOf(pair, headline.of) ?? []))];
  const letter = (pair: EqualTensionPair): string => {
    const doubt = doubtOf(pair, headline.of);
    return doubt === undefined || room.size === "slide" ? "" : ` ${noteMark(notes.indexOf(doubt))}`;
  };
  const told = average.kind === "told";
  const isApart = (pair: EqualTensionPair): boolean =>
    told && doubtOf(pair, headline.of)?.includes("not in the average") === true;
  const width = ({ interval }: EqualTensionPair): number => interval.high - interval.low;
  const kept = new Set(
    [...pairs]
      .sort((a, b) => Number(isApart(a)) - Number(isApart(b)) || width(a) - width(b))
      .slice(0, room.size === "slide" ? slideRows - (told ? 1 : 0) : Infinity),
  );
  const drawn = pairs.filter((pair) => kept.has(pair));
  const number = (estimate: number, interval: Interval): string =>
    valueText(display, { estimate, ...interval });
  const row = (estimate: number, { low, high }: Interval) => ({
    low: display.toShown(low),
    estimate: display.toShown(estimate),
    high: display.toShown(high),
  });
  const sessions = sessionsBeside(drawn, input.timelines ?? {}, told ? 1 : 0);
  const chart = rowChart(
    {
      rows: [
        ...(told
          ? [
              {
                label: "Average over such studies",
                ...row(average.estimate, average.interval),
                kind: kinds[1],
                word: number(average.estimate, average.interval),
                strong: true,
              },
            ]
          : []),
        ...drawn.map((pair) => ({
          label: labelOf(pair),
          ...row(pair.estimate, pair.interval),
          kind: kinds[0],
          apart: isApart(pair),
          word: `${number(pair.estimate, pair.interval)}${letter(pair)}`,
        })),
      ],
      kinds,
      pooled: kinds[1],
      axisTitle: `${words.more} minus ${words.less}, ${display.shownAsPercent ? "%" : display.unit}`,
      ...(drawn.some(isApart) ? { apart } : {}),
      ...(sessions === undefined ? {} : { beside: sessions.beside }),
    },
    room,
  );
  const what = question === "hold length" ? "holds" : "intensity";
  const against = `${words.more} minus ${words.less} ${what}`;
  const title = `${capital(family)} at equal ${rules.quantity}: ${told ? `${against}, ${number(average.estimate, average.interval)}` : `no average of ${against}`}.`;
  const counts = `${counted(pairs.length, "pair")} of arms from ${counted(studies.length, "study", "studies")}, each with the same ${rules.quantity} within ${formatNumber(100 * rules.tolerance, { digits: 0 })}%${outcomes.size === 1 ? `; ${[...outcomes].join("")}` : ""}${shared.length === 0 ? "" : `; all ${shared.join(", ")}`}.`;
  const averageText = told
    ? `The average is of ${counted(average.pairs, "pair")} (${headline.of}, ${counted(average.studies, "study", "studies")}).` +
      (average.predictionInterval === null
        ? ""
        : ` A further study like these is expected between ${display.write(average.predictionInterval.low)} and ${display.write(average.predictionInterval.high)}${display.sign}.`)
    : `No average: ${average.reason}.`;
  const left = pairs.length - drawn.length;
  const brief = left === 0 ? "" : `${counted(left, "more pair")} not shown.`;
  const said = `${counts} ${averageText} ${brief}`.trim();
  const description = oneLine(`${title} ${counts} ${averageText}`);
  return {
    id: input.id ?? `equal-tension-${kebabName(`${question} ${family}`)}`,
    title,
    brief:
      `${brief} Bars: ${percent} intervals, the middle cut out.${drawn.some(isApart) ? " Hollow: not in the average." : ""} ${counts}`.trim(),
    caption: [
      `A row a pair: how much more the arm with the ${words.more} ${what} gained than the other arm of its study, with its ${percent} interval, the middle cut out.`,
      drawn.some(isApart) ? "Hollow: listed, and not in the average." : "",
      sessions !== undefined && chart.besideDrawn
        ? `Sessions: ${sessions.part === "whole session" ? "whole sessions" : "one set"}, the ${words.more} above the ${words.less}; height is intensity; blank where rests or intensity are not coded.`
        : "",
      ...notes.map((note, index) => `${noteMark(index)}: ${oneLine(note)}.`),
      ...answer.notes
        .filter(({ code }) => code === "robust-few-degrees-of-freedom")
        .map(({ message }) => `${capital(message)}.`),
    ]
      .filter((sentence) => sentence !== "")
      .join(" "),
    ...drawnChart(chart, { text: [title], subtitle: [said], description }),
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
