/**
 * One column of the joint-angle figure: head, plot and foot.
 *
 * Longer than most: the three share one place and its measures.
 */
import type { JointAngleCurve } from "../dose/joint-angle-curve.js";
import { degreesText } from "../tables/joint-angle-table.js";
import { formatNumber, openLimits } from "../tables/number-format.js";
import { valueText, type ScaleDisplay } from "../tables/scale-display.js";
import { roundValues } from "./axis-ticks.js";
import type { GainAxis } from "./gain-axis.js";
import { joinedPoints, joinedSeries } from "./joined-points.js";
import { panelDrawing, plainFrame, type Panel } from "./layer.js";
import { oneLine, wrapText } from "./wrap-text.js";

/** What the three parts of one length's column need. */
export type AnglePlace = Readonly<{
  curve: JointAngleCurve;
  axis: GainAxis;
  display: ScaleDisplay;
  /** Panel's width in drawing units, with the room for the average at its right. */
  width: number;
  /** Furthest distance of all columns, degrees. */
  furthest: number;
}>;

/** Names of the lengths as headings. */
export const lengthHeadings: Readonly<Record<JointAngleCurve["muscleLength"], string>> = {
  short: "Trained at short muscle length",
  middle: "Trained at middle muscle length",
  long: "Trained at long muscle length",
  "not coded": "Muscle length not coded",
};

const averageRoom = 66;
const lineHeight = 15;

/** The half width in a sentence, or why there is none. */
export const widthText = ({ halfWidth }: JointAngleCurve): string =>
  halfWidth.kind === "told"
    ? `Half of the gain is left ${degreesText(halfWidth.degrees)} from the trained angle (${openLimits(halfWidth.interval, degreesText)}).`
    : `No width: ${halfWidth.reason}.`;

/** Lines above a column: which length, how much evidence, and the answer in numbers. */
const headLines = ({ curve, display, width }: AnglePlace) => {
  const { level, average } = curve;
  const counts = `${curve.effects} effects, ${curve.studies} ${curve.studies === 1 ? "study" : "studies"}, ${curve.people} people`;
  const texts = [
    counts,
    widthText(curve),
    ...(level.kind === "told" && curve.halfWidth.kind === "told"
      ? [
          `At the trained angle: ${valueText(display, { estimate: level.estimate, ...level.interval })}.`,
        ]
      : []),
    ...(average.kind === "told"
      ? [
          `Average over all angles tested: ${valueText(display, { estimate: average.estimate, ...average.interval })}.`,
        ]
      : []),
  ];
  return texts.flatMap((text) => wrapText(text, { width: width - 16, fontSize: 10.4, lines: 6 }));
};

/** Height of the tallest head among some columns. */
export const headHeight = (places: readonly AnglePlace[]): number =>
  Math.max(...places.map((place) => headLines(place).length)) * lineHeight + 30;

/** The words above one column. */
export const angleHead = (place: AnglePlace, height: number): Panel => {
  const name = place.curve.muscleLength;
  const draw = panelDrawing(`head ${name}`, plainFrame(place.width, height));
  return draw.panel([
    draw.words("length", "text-strong", [{ x: 0, y: 8, text: lengthHeadings[name] }]),
    draw.words(
      "answer",
      "text-quiet",
      headLines(place).map((text, line) => ({ x: 0, y: 25 + line * lineHeight, text })),
      { fontSize: 10.4 },
    ),
  ]);
};

/** The effects of one length against their distance, the fitted carry-over, and where half is left. */
export const anglePlot = ({ curve, axis, display, width, furthest }: AnglePlace): Panel => {
  const { bottom, top, height, cut, ticks } = axis;
  const plot = width - averageRoom;
  const low = -0.03 * furthest;
  const edge = 1.03 * furthest;
  const perUnit = (edge - low) / plot;
  const high = low + width * perUnit;
  const draw = panelDrawing(`carry-over ${curve.muscleLength}`, {
    width,
    height,
    x: [low, high],
    y: [top, bottom],
  });
  const { halfWidth, level, average } = curve;
  const perHeight = (top - bottom) / height;
  const half =
    halfWidth.kind === "told" && level.kind === "told"
      ? {
          degrees: halfWidth.degrees,
          gain: level.estimate / 2,
          low: halfWidth.interval.low ?? 0,
          high: Math.min(halfWidth.interval.high ?? edge, edge),
          beyond: (halfWidth.interval.high ?? Infinity) > edge,
        }
      : undefined;
  const middle = edge + (high - edge) * 0.42;
  return draw.panel([
    draw.lines(
      "grid",
      "grid",
      ticks.map(({ position }) => ({ x: low, x2: edge, y: position, y2: position })),
    ),
    draw.lines("no change", "zero", [{ x: low, x2: edge, y: 0, y2: 0 }]),
    draw.areas(
      "band",
      "pooled-band",
      curve.curve.map(({ distance, interval }) => ({
        x: distance,
        y: cut(interval.low),
        y2: cut(interval.high),
      })),
    ),
    draw.lines(
      "angles of one arm",
      "rest",
      joinedSeries(
        curve.points.map(({ series, distance, estimate }) => ({
          series,
          x: distance,
          y: estimate,
        })),
      ),
    ),
    draw.points(
      "effects",
      "effect-point",
      curve.points.map(({ study, arm, distance, estimate }) => ({
        x: distance,
        y: estimate,
        full: oneLine(
          `${study}, ${arm}: ${degreesText(distance)} away, ${display.write(estimate)}${display.sign}`,
        ),
      })),
    ),
    draw.lines(
      "curve",
      "pooled-line",
      joinedPoints(curve.curve.map(({ distance, estimate }) => ({ x: distance, y: estimate }))),
    ),
    ...(half === undefined
      ? []
      : [
          draw.lines("half is left", "pooled-edge", [
            { x: half.degrees, x2: half.degrees, y: bottom, y2: half.gain },
          ]),
          draw.boxes("interval of the width", "pooled-bar", [
            {
              x: half.low,
              x2: half.high,
              y: half.gain - 2.6 * perHeight,
              y2: half.gain + 2.6 * perHeight,
            },
          ]),
          draw.boxes("width", "pooled-tick", [
            {
              x: half.degrees - 1.3 * perUnit,
              x2: half.degrees + 1.3 * perUnit,
              y: half.gain - 7 * perHeight,
              y2: half.gain + 7 * perHeight,
            },
          ]),
          draw.words(
            "width runs on",
            "text-pooled-strong",
            half.beyond ? [{ x: edge, y: half.gain + 9 * perHeight, text: "›" }] : [],
            { align: "right" },
          ),
        ]),
    ...(average.kind === "told"
      ? [
          draw.boxes("average interval", "effect-outer", [
            {
              x: middle - 3 * perUnit,
              x2: middle + 3 * perUnit,
              y: cut(average.interval.low),
              y2: cut(average.interval.high),
            },
          ]),
          draw.boxes("average", "effect-tick", [
            {
              x: middle - 8 * perUnit,
              x2: middle + 8 * perUnit,
              y: average.estimate - 1.3 * perHeight,
              y2: average.estimate + 1.3 * perHeight,
            },
          ]),
          draw.words(
            "average value",
            "text-body",
            [
              {
                x: middle + 11 * perUnit,
                y: average.estimate,
                text: `${formatNumber(display.toShown(average.estimate), { digits: display.sign === "%" ? 0 : 1 })}${display.sign}`,
              },
            ],
            { fontSize: 9.5 },
          ),
        ]
      : []),
  ]);
};

/** The axis of distances below one column. */
export const angleFoot = ({ curve, width, furthest }: AnglePlace): Panel => {
  const height = 44;
  const draw = panelDrawing(`distances ${curve.muscleLength}`, plainFrame(width, height));
  const plot = width - averageRoom;
  const xOf = (distance: number): number =>
    ((distance + 0.03 * furthest) / (1.06 * furthest)) * plot;
  const ticks = roundValues(0, furthest, plot / 60);
  return draw.panel([
    draw.lines("axis", "zero", [{ x: 0, x2: plot, y: 0, y2: 0 }]),
    draw.lines(
      "marks",
      "grid",
      ticks.map((distance) => ({ x: xOf(distance), x2: xOf(distance), y: 0, y2: 5 })),
    ),
    draw.words(
      "distances",
      "text-small",
      ticks.map((distance) => ({
        x: xOf(distance),
        y: 14,
        text: `${formatNumber(distance, { digits: 0 })}°`,
      })),
      { align: "center" },
    ),
    draw.words("heading", "text-heading", [{ x: 0, y: 34, text: "From the trained angle" }]),
    draw.words(
      "average heading",
      "text-small",
      curve.average.kind === "told"
        ? [
            { x: plot + averageRoom * 0.42, y: 10, text: "average" },
            { x: plot + averageRoom * 0.42, y: 21, text: "of angles" },
          ]
        : [],
      { align: "center" },
    ),
  ]);
};
