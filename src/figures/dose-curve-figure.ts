import type { DoseCurve, DosePoint } from "../dose/dose-response.js";
import { doseVerdictWords, kebabName } from "../tables/dose-table.js";
import { capital, confidenceWords, formatCount, formatNumber } from "../tables/number-format.js";
import { namedDose } from "../tables/shown-dose.js";
import { scaleDisplay, valueText } from "../tables/scale-display.js";
import { axisTicks, highest, lowest, roundValues } from "./axis-ticks.js";
import { doseStrip } from "./dose-strip.js";
import type { Figure } from "./figure.js";
import { panelDrawing, plainFrame, type Stroke } from "./layer.js";
import { themeConfig } from "./theme-config.js";
import { oneLine, wrapText } from "./wrap-text.js";

export type DoseCurveInput = Readonly<{
  /** File-name form; from family and axis where not given. */
  id?: string;
  title?: string;
  /** Outcome family, for the words. */
  family: string;
  answer: DoseCurve;
}>;

const left = 58;
const width = 600;
const height = 330;
const right = 26;
/** Shapes with less weight are not drawn on their own. */
const drawnWeight = 0.05;
/** Room between two lines of the hatching, in drawing units. */
const hatchStep = 9;

/** The ground between two values of the axis as slanted lines, cut to the panel. */
const hatch = (from: number, to: number, xOf: (dose: number) => number): readonly Stroke[] => {
  const [a, b] = [xOf(from), xOf(to)];
  const lines: Stroke[] = [];
  for (let start = a - height; start < b; start += hatchStep) {
    const x = Math.max(a, start);
    const x2 = Math.min(b, start + height);
    if (x2 > x) lines.push({ x, x2, y: height - (x - start), y2: height - (x2 - start) });
  }
  return lines;
};

/** Neighbouring points of a curve joined. */
const joined = (points: readonly Readonly<{ x: number; y: number }>[]): readonly Stroke[] =>
  points.slice(1).map((point, i) => ({
    x: points[i]!.x,
    y: points[i]!.y,
    x2: point.x,
    y2: point.y,
  }));

/** Arms of one study, each at its mean effect, joined in the order of their doses. */
const studySteps = (
  points: readonly DosePoint[],
): readonly Readonly<{ x: number; y: number }>[][] => {
  const studies = new Map<string, Map<number, number[]>>();
  for (const { study, dose, estimate } of points) {
    const doses = studies.get(study) ?? new Map<number, number[]>();
    doses.set(dose, [...(doses.get(dose) ?? []), estimate]);
    studies.set(study, doses);
  }
  return [...studies.values()]
    .filter((doses) => doses.size > 1)
    .map((doses) =>
      [...doses]
        .map(([x, estimates]) => ({
          x,
          y: estimates.reduce((total, value) => total + value, 0) / estimates.length,
        }))
        .sort((a, b) => a.x - b.x),
    );
};

const doseLabel = ({ answer: { axis } }: DoseCurveInput): string =>
  `${capital(axis.label)}${axis.unit === "" || axis.unit === "weeks" ? "" : `, ${axis.unit}`}`;

/**
 * The gain along a dose: the averaged curve with its bands, the shapes behind it, the effects, and where they lie.
 *
 * Arms of one study are joined by thin lines, so that the steps the curve is made of can be seen. Ground that no
 * comparison behind the curve reaches is hatched and the curve is broken there. Below, the arms at each dose.
 */
export const doseCurveFigure = (input: DoseCurveInput): Figure => {
  const { answer, family } = input;
  const { axis, curve, points, range, support } = answer;
  const display = scaleDisplay(answer.scale);
  const margin = 0.03 * (support.highest - support.lowest);
  const [low, high] = [support.lowest - margin, support.highest + margin];
  const inside = curve.filter(({ supported }) => supported);
  const before = curve.filter(({ dose }) => dose <= range.low);
  const after = curve.filter(({ dose }) => dose >= range.high);
  const estimates = points.map(({ estimate }) => estimate);
  const values = [
    0,
    ...estimates,
    ...inside.flatMap(({ interval }) => [interval.low, interval.high]),
    ...curve.map(({ estimate }) => estimate),
  ];
  const reach = highest(values) - lowest(values);
  const bottom = lowest(values) - 0.04 * reach;
  const top = highest(values) + 0.04 * reach;
  const cut = (value: number): number => Math.min(top, Math.max(bottom, value));
  const xOf = (dose: number): number => ((dose - low) / (high - low)) * width;
  const yOf = (value: number): number => ((top - value) / (top - bottom)) * height;
  const plot = panelDrawing("dose", { width, height, x: [low, high], y: [top, bottom] });
  const side = panelDrawing("gain axis", plainFrame(left, height));
  const shapes = answer.shapeCurves.filter(({ weight }) => weight >= drawnWeight);
  const ticks = axisTicks([bottom, top], display, { length: height, labels: "beside" });
  const doseTicks =
    axis.kind === "levels"
      ? [0, 1]
      : roundValues(low, high, 8).filter(
          (value) =>
            value >= Math.min(0, support.lowest) && (axis.unit !== "" || Number.isInteger(value)),
        );
  const tickDigits = Math.max(
    0,
    ...doseTicks.map((value) => (String(value).split(".")[1] ?? "").length),
  );
  const best = answer.readOffs.best;
  const title =
    input.title ?? `${capital(family)} against ${axis.label}: ${doseVerdictWords(answer)}`;
  const evidence = capital(answer.evidenceWords);
  const fromWithin = answer.evidence === "within studies";
  const counts = `${formatCount(answer.effects)} effects from ${formatCount(answer.studies)} studies`;
  const top3 = [...answer.shapes]
    .flatMap((shape) => (shape.kind === "told" ? [shape] : []))
    .sort((a, b) => b.weight - a.weight)
    .slice(0, 3)
    .map((shape) => `${shape.label} ${formatNumber(100 * shape.weight, { digits: 0 })}%`)
    .join(", ");
  const end = (place: "first" | "last") => {
    const point = place === "first" ? inside[0]! : inside.at(-1)!;
    return `at ${namedDose(point.dose, axis)} the curve says ${valueText(display, { estimate: point.estimate, ...point.interval })}`;
  };
  const description = oneLine(
    `${title}. ${counts}; ${answer.evidenceWords}. From low to high: ${end("first")}, ${end("last")}. Weights of the shapes: ${top3}.` +
      (best.kind === "told" ? "" : ` ${best.reason}.`),
  );
  const fromDrawing = ({ x, x2, y, y2 }: Stroke): Stroke => ({
    x: low + (x / width) * (high - low),
    x2: low + (x2 / width) * (high - low),
    y: top - (y / height) * (top - bottom),
    y2: top - (y2 / height) * (top - bottom),
  });
  const hatched = [
    ...(range.low > support.lowest ? hatch(low, range.low, xOf) : []),
    ...(range.high < support.highest ? hatch(range.high, high, xOf) : []),
  ].map(fromDrawing);
  const confidence = confidenceWords(answer.confidence);
  return {
    id: input.id ?? `dose-${kebabName(family)}-${kebabName(axis.name)}`,
    title,
    caption:
      `${counts}. ${fromWithin ? "Thick" : "Broken"} line: average of the shapes by their weights (${top3}); dark ground: its ${confidence} interval at each dose with the choice of shape in it; light ground: the band that holds the whole curve with the same confidence; thin coloured lines: single shapes with a weight of 5% or more. ` +
      `Points are effects; thin grey lines join the arms of one study, and they are the comparisons that tell about ${axis.label}. The strip below counts the arms at each dose: dark where their study compares doses, pale where it has one dose only. ` +
      `${evidence}.` +
      (hatched.length > 0 ? " Hatched: no comparison behind the curve reaches there." : ""),
    description,
    specification: {
      $schema: "https://vega.github.io/schema/vega-lite/v6.json",
      description,
      title: {
        text: [...wrapText(title, { width: left + width, fontSize: 16, lines: 2 })],
        subtitle: [
          ...wrapText(`${counts}. ${evidence}.`, {
            width: left + width,
            fontSize: 11.5,
            lines: 3,
          }),
        ],
      },
      spacing: 0,
      vconcat: [
        {
          spacing: 0,
          hconcat: [
            side.panel([
              side.words(
                "gains",
                "text-small",
                ticks.map(({ position, label }) => ({
                  x: left - 8,
                  y: yOf(position),
                  text: label,
                })),
                { align: "right" },
              ),
              side.words(
                "gain heading",
                "text-heading",
                [{ x: 8, y: height / 2, text: display.label }],
                { align: "center", angle: 270, limit: height },
              ),
            ]),
            plot.panel([
              plot.lines("hatching", "grid", hatched),
              plot.lines(
                "grid",
                "grid",
                ticks.map(({ position }) => ({ x: low, x2: high, y: position, y2: position })),
              ),
              plot.lines("no change", "zero", [{ x: low, x2: high, y: 0, y2: 0 }]),
              plot.areas(
                "whole band",
                "pooled-band",
                inside.map(({ dose, simultaneous }) => ({
                  x: dose,
                  y: cut(simultaneous.low),
                  y2: cut(simultaneous.high),
                })),
              ),
              plot.areas(
                "interval",
                "pooled-band",
                inside.map(({ dose, interval }) => ({
                  x: dose,
                  y: cut(interval.low),
                  y2: cut(interval.high),
                })),
              ),
              plot.lines("steps inside studies", "rest", studySteps(points).flatMap(joined)),
              plot.points(
                "effects",
                "effect-point",
                points.map(({ study, arm, dose, estimate, isMidpoint }) => ({
                  x: dose,
                  y: estimate,
                  full: oneLine(
                    `${study}, ${arm}: ${namedDose(dose, axis)}${isMidpoint ? " (midpoint of a range)" : ""}, ${display.write(estimate)}${display.sign}`,
                  ),
                })),
              ),
              plot.lines(
                "single shapes",
                "prediction-hatch",
                shapes.flatMap(({ heights }) =>
                  joined(inside.map(({ dose }, place) => ({ x: dose, y: cut(heights[place]!) }))),
                ),
              ),
              plot.lines(
                "curve",
                "pooled-line",
                joined(inside.map(({ dose, estimate }) => ({ x: dose, y: estimate }))),
              ),
              plot.lines(
                "curve beyond the comparisons",
                "pooled-edge",
                [before, after].flatMap((part) =>
                  joined(part.map(({ dose, estimate }) => ({ x: dose, y: estimate }))),
                ),
              ),
            ]),
          ],
        },
        doseStrip({
          answer,
          left,
          width,
          right,
          xOf,
          heading: doseLabel(input),
          ticks: doseTicks.map((value) => ({
            dose: value,
            text: axis.levels?.[value] ?? formatNumber(value, { digits: tickDigits }),
          })),
        }),
      ],
      config: themeConfig("light"),
    },
    data: [
      ...curve.map((point) => ({
        kind: point.supported ? "curve" : "curve beyond the comparisons",
        study: "",
        arm: "",
        dose: point.dose,
        estimate: point.estimate,
        low: point.interval.low,
        high: point.interval.high,
        wholeLow: point.simultaneous.low,
        wholeHigh: point.simultaneous.high,
        shown: display.toShown(point.estimate),
      })),
      ...points.map((point) => ({
        kind: "effect",
        study: point.study,
        arm: point.arm,
        dose: point.dose,
        estimate: point.estimate,
        low: null,
        high: null,
        wholeLow: null,
        wholeHigh: null,
        shown: display.toShown(point.estimate),
      })),
    ],
  };
};
