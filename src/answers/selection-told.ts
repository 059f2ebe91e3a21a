/** What an average would be if studies without a clear gain were printed less often, as it is told of a headline. */
import * as z from "zod";
import {
  selectionModel,
  type SelectionFit,
  type SelectionModel,
} from "../certainty/selection-model.js";
import { refusal, type Refusal } from "../errors.js";
import { scales } from "../effects/scales.js";
import { grouped } from "../records/grouped.js";
import { inputSubset, studyAverage } from "../synthesis/effect-inputs.js";
import { confidenceWords, formatNumber, plainNumber, pValueText } from "../tables/number-format.js";
import { scaleDisplay, shownInterval } from "../tables/scale-display.js";
import { csvNumbers, csvTexts, type Table } from "../tables/table.js";
import { intervalSchema, refusalSchema } from "./answer.js";
import { ownScale, shownOf, type PreparedGroup } from "./pool-words.js";

/** The model on one average a study, by its sampling variance alone. */
export const selectionOf = (
  { group: { headline } }: PreparedGroup,
  confidence: number,
): SelectionModel | Refusal => {
  const { set } = headline;
  if (set !== undefined && scales[set.scale].ofSpread)
    return refusal(
      "wrong-scale",
      "spreads have no direction in which a gain would be printed more often",
    );
  const studies = [...grouped(headline.effects, ({ study }) => study).keys()];
  return selectionModel(
    studies.map((study) => ({
      study,
      ...studyAverage(
        inputSubset(headline, (one) => one.study === study),
        {},
      ),
    })),
    { confidence },
  );
};

const errorOf = ({ interval: { low, high } }: SelectionFit): number => (high - low) / 4;

const weightWords = (weight: number): string =>
  ({ 0.5: "half", 0.25: "a quarter", 0.1: "a tenth" })[weight] ?? `${formatNumber(weight)} times`;

/** In a sentence: the estimate of how often, or what it would be if; or why neither is shown. */
export const selectionSentence = (
  told: SelectionModel | Refusal,
  { group }: PreparedGroup,
): string => {
  const { set } = group.headline;
  if (told.kind === "refusal") return `What stayed unprinted: not shown, as ${told.reason}.`;
  const { studies, clear, estimated, range, unselected } = told;
  const written = (fit: SelectionFit): string => {
    const standardError = errorOf(fit);
    return shownOf({ estimate: fit.estimate, standardError }, set);
  };
  const held = range
    .map((fit) => `${weightWords(fit.weight)} as often, ${written(fit)}`)
    .join("; ");
  if (estimated === null)
    return `What stayed unprinted cannot be estimated (${clear} of ${studies} studies show a clear gain; four are needed on each side). If those without one were printed ${held}, where one average a study gives ${written(unselected)}.`;
  return estimated.atBound
    ? `How often studies without a clear gain are printed cannot be told from these ${studies}; if ${held}, where one average a study gives ${written(unselected)}.`
    : `Studies without a clear gain (${studies - clear} of ${studies}) would be printed ${formatNumber(estimated.weight)} times as often as those with one (${pValueText(estimated.p)} against as often); with that the average is ${written(estimated)}, where one average a study gives ${written(unselected)}.`;
};

/** Every fit of every average that has one. */
export const selectionTable = (
  answers: readonly Readonly<{ prepared: PreparedGroup; selection: SelectionModel | Refusal }>[],
  confidence: number,
): readonly Table[] => {
  const rows = answers.flatMap(({ prepared: { group }, selection }) => {
    if (selection.kind === "refusal") return [];
    const scale = group.headline.set?.scale ?? ownScale;
    const { unselected, estimated, range } = selection;
    const fits = [
      { name: "as often", fit: unselected },
      ...(estimated === null
        ? []
        : [{ name: `${formatNumber(estimated.weight)} times, estimated`, fit: estimated }]),
      ...range.map((fit) => ({ name: `${weightWords(fit.weight)}, held`, fit })),
    ];
    return fits.map(({ name, fit }, place) => ({
      group: place === 0 ? group.label : "",
      printed: name,
      shown: shownOf({ estimate: fit.estimate, standardError: errorOf(fit) }, group.headline.set),
      interval: shownInterval(fit.interval, scale, errorOf(fit)),
      spread: scaleDisplay(scale).write(Math.sqrt(fit.betweenVariance)),
      weight: plainNumber(fit.weight),
      estimate: plainNumber(fit.estimate),
      intervalLow: plainNumber(fit.interval.low),
      intervalHigh: plainNumber(fit.interval.high),
      betweenVariance: plainNumber(fit.betweenVariance),
    }));
  });
  if (rows.length === 0) return [];
  return [
    {
      id: "unprinted-studies",
      title: "What the average would be if studies without a clear gain were printed less often",
      columns: [
        { key: "group", label: "Outcome", align: "left" },
        { key: "printed", label: "Printed, beside those with one", align: "left" },
        { key: "shown", label: "Average", align: "right" },
        { key: "interval", label: `${confidenceWords(confidence)} interval`, align: "right" },
        { key: "spread", label: "Spread between studies", align: "right" },
      ],
      csvColumns: [
        ...csvTexts("group", "printed"),
        ...csvNumbers("weight", "estimate", "intervalLow", "intervalHigh", "betweenVariance"),
      ],
      rows,
      notes: [
        "A clear gain: one-sided p below 0.025. One average a study, its effects taken together; intervals of the profile likelihood.",
        "Where every study is printed, p falls below 0.05 in 2 to 3% of invented files of 10 studies, and in 5% of those of 20.",
        "Ignore the estimated weight where studies differ for reasons of their own (doses, people, tests), which look the same to the model, and with fewer than some twenty studies. Held weights are no estimates: they say how far the average would fall if that much stayed unprinted.",
      ],
    },
  ];
};

const fitSchema = z.looseObject({
  estimate: z.number(),
  interval: intervalSchema,
  betweenVariance: z.number(),
  weight: z.number(),
});

/** Its form in the data of an answer. */
export const selectionSchema = z.union([
  refusalSchema,
  z.looseObject({
    studies: z.number(),
    clear: z.number(),
    unselected: fitSchema,
    estimated: fitSchema.nullable(),
    range: z.array(fitSchema),
  }),
]);
