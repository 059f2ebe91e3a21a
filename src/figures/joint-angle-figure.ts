import type { JointAngle } from "../dose/joint-angle.js";
import type { JointAngleCurve } from "../dose/joint-angle-curve.js";
import type { EffectScale } from "../effects/effect.js";
import { CallError } from "../errors.js";
import { kebabName } from "../tables/dose-table.js";
import { confidenceWords, formatNumber } from "../tables/number-format.js";
import { scaleDisplay } from "../tables/scale-display.js";
import type { Figure } from "./figure.js";
import { gainAxis } from "./gain-axis.js";
import {
  angleFoot,
  angleHead,
  anglePlot,
  headHeight,
  lengthHeadings,
  widthText,
  type AnglePlace,
} from "./joint-angle-panel.js";
import { panelDrawing, plainFrame, type Panel } from "./layer.js";
import { themeConfig } from "./theme-config.js";
import { oneLine, wrapText } from "./wrap-text.js";

export type JointAngleFigureInput = Readonly<{
  /** File-name form; from the family where not given. */
  id?: string;
  answer: JointAngle;
  family: string;
  scale: EffectScale;
}>;

const plotHeight = 260;
const between = 18;
const columnWidths = [430, 330, 262, 230];

/** A length whose arms were tested at two distances or more has something to see. */
const worthSeeing = ({ distances }: JointAngleCurve): boolean => (distances?.distinct ?? 0) > 1;

/** Whether an answer has a length that the figure could show. */
export const hasAngles = ({ lengths }: JointAngle): boolean => lengths.some(worthSeeing);

const empty = (name: string, width: number, height: number): Panel =>
  panelDrawing(name, plainFrame(width, height)).panel([
    panelDrawing(name, plainFrame(width, height)).words("nothing", "text-small", []),
  ]);

/**
 * How far a gain carries over to angles that were not trained: one column for each training length, all on one axis of
 * gains.
 *
 * In each the effects against their distance from the trained angle, those of one arm joined; the fitted carry-over with
 * its band; where half of the gain is left, with its interval; and at the right what averaging the angles would
 * have said. A length whose width cannot be told shows its effects and the reason.
 *
 * @throws {CallError} "no-angles" where no length was tested at two distances
 */
export const jointAngleFigure = (input: JointAngleFigureInput): Figure => {
  const { answer, family, scale } = input;
  const shown = answer.lengths.filter(worthSeeing);
  if (shown.length === 0) {
    throw new CallError({
      code: "no-angles",
      where: "jointAngleFigure",
      needs: "a training length tested at two distances or more",
      got: "none",
    });
  }
  const display = scaleDisplay(scale);
  const axis = gainAxis(
    shown.flatMap((curve) => [
      ...curve.points.map(({ estimate }) => estimate),
      ...curve.curve.map(({ estimate }) => estimate),
      ...(curve.level.kind === "told" && curve.halfWidth.kind === "told"
        ? [curve.level.interval.low, curve.level.interval.high]
        : []),
      ...(curve.average.kind === "told"
        ? [curve.average.interval.low, curve.average.interval.high]
        : []),
    ]),
    plotHeight,
    display,
  );
  const furthest = Math.max(...shown.map(({ distances }) => distances!.high));
  const width = columnWidths[shown.length - 1]!;
  const places = shown.map((curve): AnglePlace => ({ curve, axis, display, width, furthest }));
  const head = headHeight(places);
  const total = axis.width + shown.length * width + (shown.length - 1) * between;
  const title = `How far does the gain carry over from the trained angle? ${family.charAt(0).toUpperCase()}${family.slice(1)}`;
  const { longAgainstShort: compared } = answer;
  const percent = confidenceWords(answer.confidence);
  const subtitle =
    compared.kind === "told"
      ? `After training at long muscle length the gain reaches ${formatNumber(compared.widthRatio.estimate, { digits: 1 })} times as far as after short length (${formatNumber(compared.widthRatio.interval.low, { digits: 1 })} to ${formatNumber(compared.widthRatio.interval.high, { digits: 1 })}).`
      : `Long and short length cannot be compared: ${compared.reason}.`;
  const left = answer.lengths.filter((curve) => !worthSeeing(curve));
  const description = oneLine(
    `${title}. ${shown.map((curve) => `${lengthHeadings[curve.muscleLength]}: ${widthText(curve)}`).join(" ")} ${subtitle}`,
  );
  const row = (first: Panel, panels: readonly Panel[]) => ({
    spacing: between,
    bounds: "flush" as const,
    hconcat: [first, ...panels],
  });
  // The gap before the first column is taken from the axis, so that columns stand where their axes do.
  const inset = axis.width - between;
  return {
    id: input.id ?? `joint-angle-${kebabName(family)}`,
    title,
    caption: [
      `Points are effects by the distance between the test angle and the nearest training angle; thin lines join the angles of one arm. Thick line: fitted carry-over, exp(−ln 2 · (distance / width)²), with its ${percent} interval.`,
      "Bar on the curve: the distance at which half of the gain at the trained angle is left, with its interval. At the right the average over all angles tested, which hides how the gain depends on the angle.",
      ...left.map(
        ({ muscleLength, effects }) =>
          `${lengthHeadings[muscleLength]}: ${effects} effects, all at one distance, are not drawn.`,
      ),
      `${answer.assumptions.map((one) => `${one.charAt(0).toUpperCase()}${one.slice(1)}`).join(". ")}.`,
      ...shown.flatMap(({ notes }) =>
        notes
          .filter(({ code }) => code === "robust-few-degrees-of-freedom")
          .map(({ message }) => `${message.charAt(0).toUpperCase()}${message.slice(1)}.`),
      ),
    ].join(" "),
    description,
    specification: {
      $schema: "https://vega.github.io/schema/vega-lite/v6.json",
      description,
      title: {
        text: [...wrapText(title, { width: total * 0.98, fontSize: 16, lines: 3 })],
        subtitle: [...wrapText(subtitle, { width: total, fontSize: 11.5, lines: 3 })],
      },
      spacing: 0,
      vconcat: [
        row(
          empty("above the gains", inset, head),
          places.map((place) => angleHead(place, head)),
        ),
        row({ ...axis.panel, width: inset }, places.map(anglePlot)),
        row(empty("below the gains", inset, 44), places.map(angleFoot)),
      ],
      config: themeConfig("light"),
    },
    data: shown.flatMap((curve) => [
      ...curve.points.map((point) => ({
        kind: "effect",
        muscleLength: curve.muscleLength,
        study: point.study,
        arm: point.arm,
        distance: point.distance,
        estimate: point.estimate,
        low: null,
        high: null,
        shown: display.toShown(point.estimate),
      })),
      ...curve.curve.map((place) => ({
        kind: "curve",
        muscleLength: curve.muscleLength,
        study: "",
        arm: "",
        distance: place.distance,
        estimate: place.estimate,
        low: place.interval.low,
        high: place.interval.high,
        shown: display.toShown(place.estimate),
      })),
    ]),
  };
};
