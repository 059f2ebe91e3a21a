/**
 * A dose-response answer in one or two plain sentences, and as tables: shapes with their weights, slopes, and what is
 * read off the curve. Longer than most, since all are read together.
 */
import type { CurvePoint } from "../dose/averaged-curve.js";
import type { ComparedShape } from "../dose/compare-shapes.js";
import type { DoseCurve, DoseResponse, GainAt } from "../dose/dose-response.js";
import type { SlopeAnswer, WithinBetweenSlope } from "../dose/within-between-slope.js";
import type { EffectScale } from "../effects/effect.js";
import type { Interval, Coefficient } from "../synthesis/synthesis-results.js";
import {
  capital,
  confidenceWords,
  formatDegreesOfFreedom,
  formatNumber,
  plainNumber,
  pValueCell,
} from "./number-format.js";
import { scaleDisplay, shownEstimate, shownInterval } from "./scale-display.js";
import { namedDose, shownDose } from "./shown-dose.js";
import { csvNumbers, csvTexts, type Column, type Table } from "./table.js";

/** Robust degrees of freedom below which an interval is not to be relied on (Tipton 2015). */
export const trustedFreedom = 4;

const slopeSentences = (
  { robust }: SlopeAnswer & Readonly<{ kind: "told" }>,
  { axis, confidence }: WithinBetweenSlope,
  scale: EffectScale,
  where: string,
): readonly string[] => {
  const { interval, degreesOfFreedom } = robust;
  const clear = interval.low > 0 || interval.high < 0;
  const words = `With ${axis.stepWords} the gain differs by ${doseShown(scaledCoefficient(robust, axis.step), scale, `${confidenceWords(confidence)} interval `)}, ${where}`;
  return [
    clear ? `${words}.` : `${words}: the interval holds no change, so a direction is not shown.`,
    ...(degreesOfFreedom < trustedFreedom
      ? [
          `The interval rests on ${formatDegreesOfFreedom(degreesOfFreedom)} degrees of freedom and is not to be relied on.`,
        ]
      : []),
  ];
};

/** The slope that may be relied on most, in sentences: the number first, then what is missing for a better one. */
export const slopeAnswer = (slopes: WithinBetweenSlope, scale: EffectScale): readonly string[] => {
  const { within, between } = slopes;
  if (within.kind === "told")
    return slopeSentences(within, slopes, scale, "from arms of the same study");
  return [
    ...(between.kind === "told"
      ? slopeSentences(
          between,
          slopes,
          scale,
          "from studies that differ in much else besides, so this is no more than a hint",
        )
      : []),
    `There is no slope from arms of the same study: ${within.reason}.`,
  ];
};

/** What the file says about a dose: the slope that may be relied on most, the best dose, or what is missing. */
export const doseSentences = (answer: DoseResponse): readonly string[] => {
  const { slopes, axis, scale } = answer;
  if (answer.kind === "refusal") return [`No answer: ${answer.reason}.`];
  const sentences = [...slopeAnswer(slopes, scale)];
  const { best, notDistinguishable } = answer.readOffs;
  if (axis.kind === "number" && best.kind === "told") {
    const { low, high } = answer.range;
    const [first] = notDistinguishable;
    sentences.push(
      first !== undefined && first.low <= low && first.high >= high
        ? `No dose between ${shownDose(low, { ...axis, unit: "" })} and ${namedDose(high, axis)} can be told from the best one.`
        : `The curve is highest at ${namedDose(best.dose, axis)}${best.atEnd === "neither" ? "" : `, the ${best.atEnd} dose compared`}.`,
    );
  }
  return sentences;
};

/** The same as one paragraph. */
export const doseAnswer = (answer: DoseResponse): string => doseSentences(answer).join(" ");

const text = (key: string, label: string): Column => ({ key, label, align: "left" });
const number = (key: string, label: string): Column => ({ key, label, align: "right" });

/** `hold-seconds` of `holdSeconds` or of `hold seconds`, as file names and anchors are written. */
export const kebabName = (name: string): string =>
  name
    .replace(/(?<=[a-z0-9])[A-Z]+/g, (letters) => `-${letters}`)
    .toLowerCase()
    .replaceAll(/[^\p{L}\p{N}]+/gu, "-")
    .replaceAll(/^-|-$/g, "");

/**
 * An estimate on a scale as it is read, with its interval: `4.1% (1.2 to 7.1)`.
 *
 * @param before stands before the limits, e.g. "95% interval "
 */
export const doseShown = (
  {
    estimate,
    standardError,
    interval,
  }: Pick<CurvePoint | Coefficient, "estimate" | "standardError" | "interval">,
  scale: EffectScale,
  before = "",
): string => {
  const unit = scaleDisplay(scale).sign;
  return `${shownEstimate(estimate, scale, standardError)}${unit} (${before}${shownInterval(interval, scale, standardError)}${before === "" ? "" : unit})`;
};

/** A slope for a step of several units. */
export const scaledCoefficient = (coefficient: Coefficient, factor: number): Coefficient => ({
  ...coefficient,
  estimate: coefficient.estimate * factor,
  standardError: coefficient.standardError * factor,
  interval: {
    low: coefficient.interval.low * factor,
    high: coefficient.interval.high * factor,
  },
});

/** Slopes inside and between studies, by the axis's step, with refusals as sentences. */
export const doseSlopesTable = (answer: DoseResponse): Table => {
  const { axis, slopes, scale } = answer;
  const row = (
    comparison: string,
    slope: SlopeAnswer,
    factor = axis.step,
  ): Readonly<Record<string, string>> =>
    slope.kind === "told"
      ? {
          comparison,
          adds: doseShown(scaledCoefficient(slope.robust, factor), scale),
          freedom: formatDegreesOfFreedom(slope.robust.degreesOfFreedom),
          p: pValueCell(slope.robust.p),
        }
      : { comparison, adds: `not told: ${slope.reason}`, freedom: "", p: "" };
  return {
    id: `dose-slopes-${kebabName(axis.name)}`,
    title: `What ${axis.stepWords} adds, by a straight line`,
    columns: [
      text("comparison", "Comparison"),
      text("adds", "Adds (interval)"),
      number("freedom", "Degrees of freedom"),
      number("p", "p"),
    ],
    rows: [
      row("arms of one study (within)", slopes.within),
      row("studies' means (between)", slopes.between),
      row("between minus within", slopes.difference),
      ...(answer.kind === "told" && answer.twoStage.kind === "told"
        ? [
            row(`within, two-stage (${answer.twoStage.studies} studies)`, {
              kind: "told",
              robust: answer.twoStage.slope,
              model: answer.twoStage.slope,
            }),
          ]
        : []),
    ],
    notes: [
      `${axis.label}: ${axis.definition}`,
      "studies that train at another dose differ in other ways too; only comparisons within studies are free of that",
      ...slopes.notes.map(({ message }) => message),
    ],
  };
};

/** Shapes compared, the likeliest first; those not tried last, with the reason. */
export const doseShapesTable = (answer: DoseCurve): Table => {
  const fitted = answer.shapes.flatMap((shape) => (shape.kind === "told" ? [shape] : []));
  const refused = answer.shapes.flatMap((shape) => (shape.kind === "told" ? [] : [shape]));
  const lowest = Math.min(...fitted.map(({ criterion }) => criterion));
  const parameterText = (shape: ComparedShape): string =>
    shape.kind === "told" && shape.parameter !== undefined
      ? `${shape.parameter.label}: ${shape.parameter.text.replace(`${shape.parameter.label} `, "")}${shape.parameter.atBound ? " (end of the search)" : ""}`
      : "";
  return {
    id: `dose-shapes-${kebabName(answer.axis.name)}`,
    title: "Shapes compared",
    columns: [
      text("shape", "Shape"),
      number("weight", "Weight"),
      number("difference", "Criterion above the best"),
      text("parameter", "Its parameter, or why it was not tried"),
    ],
    csvColumns: [
      ...csvTexts("shape"),
      ...csvNumbers("weightExact", "criterion", "logLikelihood", "parameters"),
      ...csvTexts("parameter"),
    ],
    rows: [
      ...[...fitted]
        .sort((a, b) => b.weight - a.weight)
        .map((shape) => ({
          shape: shape.label,
          weight: `${formatNumber(100 * shape.weight, { digits: 0 })}%`,
          difference: formatNumber(shape.criterion - lowest, { digits: 1 }),
          parameter: parameterText(shape),
          weightExact: plainNumber(shape.weight),
          criterion: plainNumber(shape.criterion),
          logLikelihood: plainNumber(shape.logLikelihood),
          parameters: String(shape.parameters),
        })),
      ...refused.map((shape) => ({
        shape: shape.label,
        weight: "",
        difference: "",
        parameter: shape.reason,
        weightExact: "",
        criterion: "",
        logLikelihood: "",
        parameters: "",
      })),
    ],
    notes: [
      "weights come from the small-sample information criterion of maximum likelihood fits to the same effects; they compare these shapes with each other and say nothing about shapes not tried",
    ],
  };
};

/** What is read off the curve, each with its interval; `at` are doses asked for. */
export const doseReadOffsTable = (answer: DoseCurve, at: readonly GainAt[] = []): Table => {
  const { axis, readOffs, scale, range, curve } = answer;
  const { best, ninetyPercent, notDistinguishable, steps } = readOffs;
  const rangeText = ({ low, high }: Interval): string =>
    low === high
      ? shownDose(low, axis)
      : `${shownDose(low, { ...axis, unit: "" })} to ${shownDose(high, axis)}`;
  const inside = curve.filter(({ supported }) => supported);
  const middle = (range.low + range.high) / 2;
  const nearest = inside.reduce((best, point) =>
    Math.abs(point.dose - middle) < Math.abs(best.dose - middle) ? point : best,
  );
  const places = [inside[0]!, nearest, inside.at(-1)!];
  const rows: Readonly<Record<string, string>>[] = [
    { quantity: "doses compared", value: rangeText(range) },
    ...(axis.kind === "levels" ? [places[0]!, places[2]!] : places).map((point) => ({
      quantity: `gain at ${shownDose(point.dose, axis)}`,
      value: doseShown(point, scale),
    })),
    ...at.map((gain) => ({
      quantity: `gain at ${shownDose(gain.dose, axis)} (asked for)`,
      value: gain.kind === "told" ? doseShown(gain.point, scale) : `not told: ${gain.reason}`,
    })),
    ...steps.map(({ from, added }) => ({
      quantity: `${axis.stepWords}, from ${shownDose(from, axis)}`,
      value: doseShown(added, scale),
    })),
    {
      quantity: "best dose inside the range",
      value:
        best.kind === "told"
          ? `${shownDose(best.dose, axis)} (${rangeText(best.interval)})${best.atEnd === "neither" ? "" : `, the ${best.atEnd} dose compared`}`
          : best.reason,
    },
  ];
  if (axis.kind === "number") {
    rows.push({
      quantity: "dose of 90% of the best gain",
      value:
        ninetyPercent.kind === "told"
          ? `${shownDose(ninetyPercent.dose, axis)} (${rangeText(ninetyPercent.interval)})`
          : ninetyPercent.reason,
    });
    rows.push({
      quantity: "not distinguishable from the best",
      value: notDistinguishable.map(rangeText).join("; "),
    });
  }
  return {
    id: `dose-read-offs-${kebabName(axis.name)}`,
    title: "Read off the curve",
    columns: [text("quantity", "Quantity"), text("value", "Value (interval)")],
    rows: rows.map(({ quantity, value }) => ({ quantity: capital(quantity!), value: value! })),
    notes: ["a best dose at the end of the range may lie beyond it; nothing outside was compared"],
  };
};
