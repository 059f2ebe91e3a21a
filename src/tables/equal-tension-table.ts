/** Tables of the question whether equal work does the same however it is given. */
import type { EqualTension, EqualTensionAnswer } from "../dose/equal-tension.js";
import type { EqualTensionPair } from "../dose/equal-tension-pairs.js";
import type { PooledPairs } from "../dose/pooled-pairs.js";
import type { EffectScale } from "../effects/effect.js";
import { confidenceWords, counted, formatNumber, plainNumber } from "./number-format.js";
import { scaleDisplay, shownEstimate, shownInterval } from "./scale-display.js";
import { shownDose } from "./shown-dose.js";
import { csvTexts, type Column, type Table } from "./table.js";

const left = (key: string, label: string): Column => ({ key, label, align: "left" });
const right = (key: string, label: string): Column => ({ key, label, align: "right" });

const questionWords = {
  "hold length": "longer against shorter holds",
  intensity: "higher against lower intensity",
} as const;

/** Both sides of a comparison as a difference. */
export const sidesInWords = {
  "hold length": "longer minus shorter holds",
  intensity: "higher minus lower intensity",
} as const;

const unitOf = (scale: EffectScale): string => scaleDisplay(scale).sign;

const averageText = (
  { estimate, standardError, interval }: PooledPairs,
  scale: EffectScale,
): string =>
  `${shownEstimate(estimate, scale, standardError)}${unitOf(scale)} (${shownInterval(interval, scale, standardError)})`;

/** What one comparison gives, as a sentence without a full stop; or why it gives nothing. */
export const equalTensionSentence = (
  { question, pairs, headline: { answer, of } }: EqualTensionAnswer,
  { confidence }: Pick<EqualTension, "confidence">,
  scale: EffectScale,
): string => {
  const what = sidesInWords[question];
  if (answer.kind === "refusal")
    return `${what} cannot be told, as ${answer.reason} (${counted(pairs.length, "pair")} found)`;
  const { estimate, standardError, interval } = answer;
  const unit = unitOf(scale);
  return `${what} ${shownEstimate(estimate, scale, standardError)}${unit} (${confidenceWords(confidence)} interval ${shownInterval(interval, scale, standardError)}${unit}; ${answer.pairs} of ${counted(pairs.length, "pair")}, ${counted(answer.studies, "study", "studies")}${of === "all pairs" ? "; they also differ otherwise" : ""})`;
};

/** The averages: one row for each question and outcome family, or the reason there is none. */
export const equalTensionTable = (result: EqualTension, scale: EffectScale): Table => {
  const few = result.answers.some(
    ({ headline: { answer } }) => answer.kind === "told" && answer.degreesOfFreedom < 4,
  );
  return {
    id: "equal-tension",
    title: `Equal ${result.quantity}, given otherwise`,
    columns: [
      left("question", "Compared"),
      left("family", "Outcome"),
      left("pairs", "Pairs averaged, of all"),
      right("average", "Difference (interval)"),
      right("further", "A further study"),
    ],
    rows: result.answers.map(({ question, family, pairs, studies, headline }) => {
      const { answer, of } = headline;
      const names = { question: questionWords[question], family };
      if (answer.kind === "refusal") {
        return {
          ...names,
          pairs: pairs.length === 0 ? "none" : `0 of ${pairs.length}`,
          average: `not told: ${answer.reason}`,
          further: "",
        };
      }
      return {
        ...names,
        pairs: `${answer.pairs} of ${pairs.length}; ${answer.studies} of ${studies} studies${of === "all pairs" ? "; they also differ otherwise" : ""}`,
        average: `${averageText(answer, scale)}${answer.degreesOfFreedom < 4 ? " †" : ""}`,
        further:
          answer.predictionInterval === null
            ? ""
            : `${shownInterval(answer.predictionInterval, scale, answer.standardError)}${unitOf(scale)}`,
      };
    }),
    notes: [
      `Pairs of arms of one study whose ${result.quantity} agrees within ${formatNumber(100 * result.tolerance, { digits: 0 })}%; holds differ by a factor of ${result.leastHoldRatio} or more, intensity by ${result.leastIntensityPoints} points of MVC or more. Positive: the longer holds, or the higher intensity, gained more.`,
      "Averaged are pairs alike in everything else that is coded, where two studies have such; pairs that follow from other pairs are not counted twice.",
      ...(few
        ? ["† fewer than four degrees of freedom: the interval is not to be relied on."]
        : []),
      ...result.assumptions.map((one) => `${one.charAt(0).toUpperCase()}${one.slice(1)}.`),
    ],
  };
};

const dose = (side: EqualTensionPair["more"], question: string): string => {
  const value = question === "intensity" ? side.intensityPercent : side.holdSeconds;
  if (value === undefined) return "";
  return question === "intensity"
    ? `${shownDose(value, { kind: "number", unit: "" })}%`
    : shownDose(value, { kind: "number", unit: "s" });
};

/** Every pair found, with its contrast. */
export const equalTensionPairsTable = (result: EqualTension, scale: EffectScale): Table => ({
  id: "equal-tension-pairs",
  title: `All pairs of equal ${result.quantity}`,
  columns: [
    left("study", "Study"),
    left("outcome", "Outcome"),
    right("more", "More"),
    right("less", "Less"),
    right("difference", "Difference (interval)"),
    left("remarks", "Remarks"),
  ],
  csvColumns: csvTexts(
    ...["question", "family", "study", "outcome", "moreArm", "lessArm", "more", "less"],
    ...["moreTotal", "lessTotal", "over", "estimate", "variance", "low", "high"],
    ...["averaged", "alsoDiffer"],
  ),
  rows: result.answers.flatMap(({ question, family, pairs }) =>
    pairs.map((pair) => ({
      question,
      family,
      study: pair.study,
      outcome: pair.outcome,
      moreArm: pair.more.arm,
      lessArm: pair.less.arm,
      more: dose(pair.more, question),
      less: dose(pair.less, question),
      moreTotal: plainNumber(pair.more.total),
      lessTotal: plainNumber(pair.less.total),
      over: pair.over,
      estimate: plainNumber(pair.estimate),
      variance: plainNumber(pair.variance),
      low: plainNumber(pair.interval.low),
      high: plainNumber(pair.interval.high),
      averaged: pair.pooled ? "yes" : "no",
      alsoDiffer: pair.alsoDiffer.join(", "),
      difference: `${shownEstimate(pair.estimate, scale, Math.sqrt(pair.variance))}${unitOf(scale)} (${shownInterval(pair.interval, scale, Math.sqrt(pair.variance))})`,
      remarks: [
        ...(pair.alsoDiffer.length === 0 ? [] : [`also differs in ${pair.alsoDiffer.join(", ")}`]),
        ...(pair.pooled ? [] : ["follows from other pairs"]),
      ].join("; "),
    })),
  ),
  notes: [],
});
