import type { CapacityPoint, HoldAssessment } from "../endurance/can-be-held.js";
import { CallError } from "../errors.js";
import type { TimelinePart } from "../protocol/session-timeline.js";
import { holdAnswer } from "../tables/hold-table.js";
import { capital, formatNumber } from "../tables/number-format.js";
import { shownDuration } from "../tables/shown-duration.js";
import type { Figure } from "./figure.js";
import { roomOf, type Room } from "./frame.js";
import { axisRoom, panelDrawing, type Point } from "./layer.js";
import { drawnChart } from "./row-chart.js";
import { timeTicks } from "./time-ticks.js";
import { oneLine } from "./wrap-text.js";

export type RemainingCapacityInput = Readonly<{
  id?: string;
  /** The protocol in words. */
  label: string;
  timeline: readonly TimelinePart[];
  assessment: HoldAssessment;
}>;

export const remainingCapacityInputDefaults = { id: "remaining-capacity" } as const;

/** Where the percents stand at the left, and the names of the lines at the right. */
const [labels, names] = [36, 84];
const heights = { column: 170, page: 230, slide: 128 } as const;
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
export const remainingCapacityFigure = (
  input: RemainingCapacityInput,
  room: Room = roomOf(),
): Figure => {
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
  const width = room.width - labels - names;
  const height = heights[room.size];
  const unit = seconds > 120 ? 60 : 1;
  const across = seconds / unit;
  const draw = panelDrawing("capacity", {
    width,
    height,
    x: [0, across],
    y: [100, 0],
    xAxis: {
      title: unit === 60 ? "minutes" : "seconds",
      values: timeTicks(seconds, Math.max(3, Math.round(width / 70))).map(
        (tick) => tick.seconds / unit,
      ),
      labelFlush: 12,
      grid: false,
    },
    yAxis: {
      title: null,
      values: [0, 25, 50, 75, 100],
      labelExpr: "datum.label + '%'",
      tickSize: 0,
    },
  });

  const every = Math.ceil(assessment.capacity.length / mostPoints);
  const points = assessment.capacity.filter(
    (_, index) => index % every === 0 || index === assessment.capacity.length - 1,
  );
  const path = (pick: (point: CapacityPoint) => number): readonly Point[] =>
    points.map((point) => ({ x: point.seconds / unit, y: pick(point) }));
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
  // Labels at the end of the lines keep apart, whatever the lines do.
  const apart = (14 / height) * 100;
  const middle = Math.min(100 - apart, Math.max(apart, last.central));
  const end = (1 + 8 / width) * across;

  const layers = [
    draw.boxes("ground", "band", [{ x: 0, x2: across, y: 100, y2: 0 }]),
    draw.boxes(
      "holds",
      "hold-quiet",
      holds.map(({ startSeconds, endSeconds, intensityPercent }) => ({
        x: startSeconds / unit,
        x2: endSeconds / unit,
        y: Math.min(100, intensityPercent),
        y2: 0,
      })),
    ),
    draw.areas(
      "band",
      "capacity-band",
      points.map(({ seconds: at, low, high }) => ({ x: at / unit, y: high, y2: low })),
    ),
    draw.paths(
      "tires early",
      "capacity-edge",
      path(({ low }) => low),
    ),
    draw.paths(
      "tires late",
      "capacity-edge",
      path(({ high }) => high),
    ),
    draw.paths(
      "typical",
      "capacity-line",
      path(({ central }) => central),
    ),
    draw.points(
      "runs out",
      "runs-out",
      failures.map(({ name, failure }) => ({
        x: failure.seconds / unit,
        y: loadAt(failure),
        full: `${name}: runs out at ${shownDuration(Math.round(failure.seconds))}`,
      })),
    ),
    draw.words("outer names", "text-quiet", [
      { x: end, y: Math.max(last.high, middle + apart), text: "tires late" },
      { x: end, y: Math.min(last.low, middle - apart), text: "tires early" },
    ]),
    draw.words("typical name", "text-pooled-strong", [
      { x: end, y: middle, text: `typical ${formatNumber(last.central, { digits: 0 })}%` },
    ]),
  ];
  const answer = holdAnswer(assessment);
  // The grade with what is said first is the heading; for whom else it runs out comes next, on a slide too.
  const [title = "", ...others] = answer.replace(/\.$/u, "").split("; ");
  const subtitle = [
    ...(others.length === 0 ? [] : [capital(others.join("; "))]),
    `What is left along ${label}`,
  ];
  const description = `What is left along ${label}, ${shownDuration(seconds)} long, by the ${assessment.region} curve. At the end ${formatNumber(last.central, { digits: 0 })} percent of the fresh maximum is left, ${formatNumber(last.low, { digits: 0 })} to ${formatNumber(last.high, { digits: 0 })} over the band. ${answer}`;
  return {
    id: input.id ?? remainingCapacityInputDefaults.id,
    title,
    brief: `Percent of the fresh maximum. Blocks: holds. Line: what is left.${failures.length === 0 ? "" : " Red: a hold can no longer be kept."}`,
    caption: `${room.size === "slide" ? "" : "Percent of the fresh maximum: blocks are the holds, the line is what is left. "}By the three-compartment model; the band reaches from those who tire early to those who tire late (published spread of group means, not of single people), and a point marks where a hold can no longer be kept. The model describes healthy adults on average and has no term for training, age, sex or muscle length.`,
    ...drawnChart(
      {
        view: {
          hconcat: [
            axisRoom("axis", labels, height),
            draw.panel(layers),
            axisRoom("ends", names, height),
          ],
          spacing: 0,
          bounds: "flush",
        },
        width: room.width,
        height: height + (room.size === "slide" ? 34 : 46),
      },
      { text: [title], subtitle: [`${subtitle.join(". ")}.`], description },
    ),
    data: assessment.capacity.map(({ seconds: at, low, central, high }) => ({
      seconds: at,
      lowPercent: low,
      centralPercent: central,
      highPercent: high,
    })),
  };
};
