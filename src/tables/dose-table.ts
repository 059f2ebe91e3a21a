/**
 * A dose-response answer in one or two plain sentences, and as tables: shapes with their weights, slopes, and what is
 * read off the curve. Longer than most, since all are read together.
 */
import type { DoseAxis } from "../dose/dose-axes.js";
import type { CurvePoint } from "../dose/averaged-curve.js";
import type { ComparedShape } from "../dose/compare-shapes.js";
import type { DoseCurve, DoseResponse, GainAt } from "../dose/dose-response.js";
import type { SlopeAnswer } from "../dose/within-between-slope.js";
import type { EffectScale } from "../effects/effect.js";
import type { Interval, Coefficient } from "../synthesis/synthesis-results.js";
import {
  capital,
  confidenceWords,
  counted,
  formatCount,
  formatDegreesOfFreedom,
  formatNumber,
  plainNumber,
  pValueCell,
  sharePercent,
} from "./number-format.js";
import { scaleDisplay, shownEstimate, shownInterval } from "./scale-display.js";
import { namedDose, shownDose } from "./shown-dose.js";
import { csvNumbers, csvTexts, type Column, type Table } from "./table.js";

/** Robust degrees of freedom below which an interval is not to be relied on (Tipton 2015). */
export const trustedFreedom = 4;

/** Doses from one to another: `3 to 10 s`; of two ways of training `long length against short length`. */
export const doseSpan = (axis: DoseAxis, { low, high }: Interval): string =>
  axis.kind === "levels"
    ? low === high
      ? shownDose(low, axis)
      : `${axis.levels![1]} against ${axis.levels![0]}`
    : `${low === high ? "" : `${shownDose(low, { ...axis, unit: axis.unit === "°" ? "°" : "" })} to `}${shownDose(high, axis)}`;

/** What the curve adds over its whole span, and over its first and its last step. */
const stretchesText = ({ axis, scale, confidence, readOffs }: DoseCurve): string => {
  const { whole, steps } = readOffs;
  const ends = steps.length > 1 ? [steps[0]!, steps.at(-1)!] : [];
  return [whole, ...ends]
    .map(
      ({ from, to, added }, place) =>
        `${doseSpan(axis, { low: from, high: to })}: ${doseShown(added, scale, place === 0 ? `${confidenceWords(confidence)} interval ` : "")}`,
    )
    .join("; ");
};

/** The verdict on a curve's span in words: `no difference that counts, from 3 to 30 s (8 studies)`. */
export const doseVerdictWords = ({ axis, verdict, readOffs, support }: DoseCurve): string => {
  const { from, to } = readOffs.whole;
  const span = `${axis.kind === "levels" ? "" : "from "}${doseSpan(axis, { low: from, high: to })}`;
  switch (verdict?.verdict) {
    case "no difference that counts":
      return `no difference that counts, ${span} (${counted(support.studiesWithin, "study", "studies")}${support.linked?.endsCompared === false ? "; none compared both ends, so they rest on the curve's shape" : ""})`;
    case "worth testing":
    case "a difference, smaller than counts":
      return `${verdict.verdict}: ${axis.kind === "levels" ? axis.levels![verdict.side === "more" ? 1 : 0] : `${verdict.side} ${axis.label}`}`;
    case "cannot be separated":
      return verdict.reason;
    default:
      return "cannot be told";
  }
};

/** The same as the heading of a figure: `Strength: no difference that counts by hold length, from 3 to 30 s`. */
export const doseTitle = ({ axis, verdict, readOffs }: DoseCurve, family: string): string => {
  const { from, to } = readOffs.whole;
  const levels = axis.levels;
  const span = levels === undefined ? `, from ${doseSpan(axis, { low: from, high: to })}` : "";
  const side =
    verdict?.side === undefined
      ? axis.label
      : (levels?.[verdict.side === "more" ? 1 : 0] ?? `${verdict.side} ${axis.label}`);
  const words = {
    "worth testing": `${side} is worth testing${span}`,
    "a difference, smaller than counts": `${side} gains more, but less than counts${span}`,
    "no difference that counts": `no difference that counts by ${axis.label}${span}`,
    "cannot be separated": `${axis.label} ${verdict?.reason.replace(/ \(.*\)$/, "") ?? ""}`,
  };
  return `${capital(family)}: ${words[verdict?.verdict as keyof typeof words] ?? `the effect of ${axis.label} cannot be told from this file`}`;
};

/** What the file says about a dose, all read off one curve: a verdict with its numbers, the best dose, or what is missing. */
export const doseSentences = (answer: DoseResponse): readonly string[] => {
  if (answer.kind === "refusal") return [`No answer: ${answer.reason}.`];
  const { axis, evidence, readOffs, slopes, standing } = answer;
  const { best, notDistinguishable, whole } = readOffs;
  const words = capital(doseVerdictWords(answer));
  const { degreesOfFreedom } = whole.added;
  const { within } = slopes;
  const sentences = [
    degreesOfFreedom < trustedFreedom
      ? `${words}; the curve rests on ${formatDegreesOfFreedom(degreesOfFreedom)} degrees of freedom, too few for an interval to rely on.`
      : `${words}. Read off the curve, ${stretchesText(answer)}${evidence === "within studies" ? "" : ", from studies that differ in much else besides, so this is no more than a hint"}.`,
    ...(answer.verdict?.verdict === "worth testing"
      ? ["Whether it is favoured is asked among all questions of the table of variables."]
      : []),
    ...(evidence === "within studies" || within.kind === "told"
      ? []
      : [`There is no curve from arms of the same study: ${within.reason}.`]),
    ...(standing === undefined || standing.withIt.length === 0
      ? []
      : [
          `In this file it is one contrast with ${standing.withIt.map(({ label }) => label).join(", ")}.`,
        ]),
  ];
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

/** An axis told in steps of another length, in the words of its own: "15 more seconds of hold". */
export const withStep = (axis: DoseAxis, step: number | undefined): DoseAxis =>
  step === undefined || axis.kind === "levels"
    ? axis
    : {
        ...axis,
        step,
        stepWords: axis.stepWords
          .replace(
            /^\S+/,
            step === 1 ? "one" : Number.isInteger(step) ? formatCount(step) : plainNumber(step),
          )
          .replace(
            /(?<=^\S+ (?:more )?)(set|session|point|second|hold|week|degree)s?\b/,
            step === 1 ? "$1" : "$1s",
          ),
      };

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
          weight: `${sharePercent(shape.weight)}`,
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
