import type { CapacityPoint, HoldAssessment } from "../endurance/can-be-held.js";
import { CallError } from "../errors.js";
import type { TimelinePart } from "../protocol/session-timeline.js";
import { holdAnswer } from "../tables/hold-table.js";
import { formatNumber } from "../tables/number-format.js";
import type { Figure } from "./figure.js";
import { panelDrawing, plainFrame, type Stroke } from "./layer.js";
import { shownDuration } from "../tables/shown-duration.js";
import { themeConfig } from "./theme-config.js";
import { timeTicks } from "./time-ticks.js";
import { oneLine, wrapText } from "./wrap-text.js";

export type RemainingCapacityInput = Readonly<{
  id?: string;
  /** The protocol in words. */
  label: string;
  timeline: readonly TimelinePart[];
  assessment: HoldAssessment;
}>;

export const remainingCapacityInputDefaults = { id: "remaining-capacity" } as const;

const left = 46;
const plotWidth = 620;
const top = 26;
const plotHeight = 230;
const bottom = top + plotHeight;
/** Most pieces the lines are drawn with; longer sessions keep every so-manieth point. */
const mostPoints = 1500;

type Failure = NonNullable<HoldAssessment["failsAt"]>;

/**
 * What is left along a session: the holds to scale, the capacity that remains by the model as a line
 * with its band, and where it falls below the load.
 *
 * Time runs along; effort and capacity run up on one scale, percent of MVC, so that a line below a
 * block is a hold that cannot be kept. The band reaches from those who tire early to those who tire
 * late.
 *
 * @param input  a session, and its assessment by `canBeHeld`
 * @throws {CallError} "empty-timeline"
 */
export const remainingCapacityFigure = (input: RemainingCapacityInput): Figure => {
  const { timeline, assessment } = input;
  const seconds = timeline.at(-1)?.endSeconds ?? 0;
  if (seconds <= 0) {
    throw new CallError({
      code: "empty-timeline",
      where: "remainingCapacityFigure",
      needs: "a timeline with at least one hold",
      got: "none",
    });
  }
  const label = oneLine(input.label);
  const width = left + plotWidth + 118;
  const height = bottom + 34;
  const draw = panelDrawing("capacity", plainFrame(width, height));
  const along = (at: number): number => left + (at / seconds) * plotWidth;
  const up = (percent: number): number => bottom - (percent / 100) * plotHeight;

  const every = Math.ceil(assessment.capacity.length / mostPoints);
  const points = assessment.capacity.filter(
    (_, index) => index % every === 0 || index === assessment.capacity.length - 1,
  );
  const segments = (pick: (point: CapacityPoint) => number): readonly Stroke[] =>
    points.slice(1).map((point, index) => {
      const before = points[index] ?? point;
      return {
        x: along(before.seconds),
        x2: along(point.seconds),
        y: up(pick(before)),
        y2: up(pick(point)),
      };
    });
  const last = points.at(-1) ?? { seconds: 0, low: 100, central: 100, high: 100 };
  const holds = timeline.filter(({ kind }) => kind === "hold");
  const failures = [
    { name: "tires early", failure: assessment.failsAtLow },
    { name: "a typical person", failure: assessment.failsAt },
    { name: "tires late", failure: assessment.failsAtHigh },
  ].flatMap(({ name, failure }) => (failure === undefined ? [] : [{ name, failure }]));
  const loadAt = (failure: Failure): number =>
    holds.find(({ set, repetition }) => set === failure.set && repetition === failure.repetition)
      ?.intensityPercent ?? 0;
  const ticks = timeTicks(seconds);
  const levels = [0, 25, 50, 75, 100];
  // Labels at the end of the lines keep apart, whatever the lines do.
  const ends = [
    { text: "tires late", y: up(last.high), style: "quiet" },
    {
      text: `typical ${formatNumber(last.central, { digits: 0 })}%`,
      y: up(last.central),
      style: "strong",
    },
    { text: "tires early", y: up(last.low), style: "quiet" },
  ];
  const apart = 13;
  const middle = ends[1]?.y ?? 0;
  const placed = ends.map((end, index) => ({
    ...end,
    x: left + plotWidth + 8,
    y:
      index === 0
        ? Math.min(end.y, middle - apart)
        : index === 2
          ? Math.max(end.y, middle + apart)
          : end.y,
  }));

  const layers = [
    draw.boxes("ground", "band", [{ x: left, x2: left + plotWidth, y: top, y2: bottom }]),
    draw.lines(
      "levels",
      "grid",
      levels.map((level) => ({ x: left, x2: left + plotWidth, y: up(level), y2: up(level) })),
    ),
    draw.boxes(
      "holds",
      "hold-quiet",
      holds.map(({ startSeconds, endSeconds, intensityPercent }) => ({
        x: along(startSeconds),
        x2: along(endSeconds),
        y: up(Math.min(100, intensityPercent)),
        y2: bottom,
      })),
    ),
    draw.areas(
      "band",
      "pooled-band",
      points.map(({ seconds: at, low, high }) => ({ x: along(at), y: up(high), y2: up(low) })),
    ),
    draw.lines(
      "tires early",
      "prediction-hatch",
      segments(({ low }) => low),
    ),
    draw.lines(
      "tires late",
      "prediction-hatch",
      segments(({ high }) => high),
    ),
    draw.lines(
      "typical",
      "pooled-line",
      segments(({ central }) => central),
    ),
    draw.points(
      "runs out",
      "effect-point",
      failures.map(({ name, failure }) => ({
        x: along(failure.seconds),
        y: up(loadAt(failure)),
        full: `${name}: runs out at ${shownDuration(Math.round(failure.seconds))}`,
      })),
    ),
    draw.lines(
      "time marks",
      "grid",
      ticks.map(({ seconds: at }) => ({ x: along(at), x2: along(at), y: bottom, y2: bottom + 4 })),
    ),
    draw.words(
      "time",
      "text-small",
      ticks.map(({ seconds: at, label: text }) => ({ x: along(at), y: bottom + 13, text })),
      { align: "center" },
    ),
    draw.words(
      "levels in words",
      "text-small",
      levels.map((level) => ({ x: left - 6, y: up(level), text: `${level}%` })),
      { align: "right" },
    ),
    draw.words("axis", "text-small", [{ x: left, y: top - 14, text: "percent of fresh maximum" }]),
    draw.words(
      "outer names",
      "text-quiet",
      placed.filter(({ style }) => style === "quiet"),
    ),
    draw.words(
      "typical name",
      "text-pooled-strong",
      placed.filter(({ style }) => style === "strong"),
    ),
  ];
  const title = `What is left along ${label}`;
  const answer = holdAnswer(assessment);
  const description = `${label}, ${shownDuration(seconds)} long, by the ${assessment.region} curve. At the end ${formatNumber(last.central, { digits: 0 })} percent of the fresh maximum is left, ${formatNumber(last.low, { digits: 0 })} to ${formatNumber(last.high, { digits: 0 })} over the band. ${answer}`;
  return {
    id: input.id ?? remainingCapacityInputDefaults.id,
    title,
    caption: `Blocks are the holds to scale; the line is the capacity that remains by the three-compartment model, the band reaches from those who tire early to those who tire late (published spread of group means, not of single people), and a point marks where a hold can no longer be kept. The model describes healthy adults on average and has no term for training, age, sex or muscle length.`,
    description,
    specification: {
      $schema: "https://vega.github.io/schema/vega-lite/v6.json",
      description,
      title: {
        text: [...wrapText(title, { width, fontSize: 16, lines: 3 })],
        subtitle: [...wrapText(answer, { width, fontSize: 11.5, lines: 3 })],
      },
      hconcat: [draw.panel(layers)],
      config: themeConfig("light"),
    },
    data: assessment.capacity.map(({ seconds: at, low, central, high }) => ({
      seconds: at,
      lowPercent: low,
      centralPercent: central,
      highPercent: high,
    })),
  };
};
