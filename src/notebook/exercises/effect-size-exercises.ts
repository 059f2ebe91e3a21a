import { percentFromLogRatio } from "../../effects/percent-from-log-ratio.js";
import { logRatioOfMeansPaired } from "../../effects/log-ratio-of-means.js";
import { standardisedMeanChangeByBaselineDeviation } from "../../effects/standardised-mean-change.js";
import type { PairedSummary } from "../../effects/arm-summary.js";
import type { OutcomeRow } from "../../records/outcome-row.js";
import type { Exercise } from "../exercise.js";
import { shippedRecords } from "../shipped-data.js";

const stiffness = (): readonly OutcomeRow[] =>
  shippedRecords("published-outcomes.csv").rows.filter(
    ({ study, outcome }) => study === "Arampatzis 2007" && outcome === "tendon stiffness",
  );

/** What the paper prints of one arm's stiffness, with a correlation that it does not print. */
const printed = (armStart: string, correlation: number): PairedSummary => {
  const row = stiffness().find(({ arm }) => arm.startsWith(armStart));
  return {
    before: { mean: row?.preMean ?? 0, deviation: row?.preSpread ?? 0 },
    after: { mean: row?.postMean ?? 0, deviation: row?.postSpread ?? 0 },
    correlation,
    participants: row?.nEnd ?? 0,
  };
};

const low = (correlation = 0.5): PairedSummary => printed("low strain", correlation);
const logRatio = (pair: PairedSummary): number => Math.log(pair.after.mean / pair.before.mean);
const standardError = (pair: PairedSummary): number =>
  Math.sqrt(logRatioOfMeansPaired(pair, { order: "first-order" }).variance);
const changeDeviation = ({ before, after, correlation }: PairedSummary): number =>
  Math.sqrt(
    before.deviation ** 2 +
      after.deviation ** 2 -
      2 * correlation * before.deviation * after.deviation,
  );
const byBaseline = (pair: PairedSummary): number =>
  standardisedMeanChangeByBaselineDeviation({
    meanChange: pair.after.mean - pair.before.mean,
    changeDeviation: changeDeviation(pair),
    baselineDeviation: pair.before.deviation,
    participants: pair.participants,
  }).estimate;
const raw = (pair: PairedSummary): number => pair.after.mean - pair.before.mean;

/** Notebook 2: effect sizes by hand and by function. */
export const effectSizeExercises: readonly Exercise[] = [
  {
    id: "2.1",
    decimals: 1,
    answer: () => percentFromLogRatio(logRatio(low())),
    slips: [
      {
        answer: () => 100 * logRatio(low()),
        because:
          "That is a hundred times the logarithm. It is near the percentage for small changes only; undo the logarithm.",
      },
      {
        answer: () => percentFromLogRatio(logRatio(printed("high strain", 0.5))),
        because: "That is the other leg: look at which arm the exercise names.",
      },
      {
        answer: () => (100 * raw(low())) / low().after.mean,
        because:
          "The change was divided by the mean after training; a change is measured from where it began.",
      },
    ],
    hint: "The percentage follows from the two means alone: what is the ratio of after to before?",
  },
  {
    id: "2.2",
    decimals: 3,
    answer: () => standardError(low()),
    slips: [
      {
        answer: () => standardError(low()) ** 2,
        because:
          "That is the sampling variance; the standard error is on the scale of the estimate itself.",
      },
      {
        answer: () => standardError(low(0)),
        because: "The covariance is missing: the same people were measured twice.",
      },
      {
        answer: () => standardError(low(0.8)),
        because: "That was the correlation of the example above; the exercise names another.",
      },
      {
        answer: () => standardError(low()) * Math.sqrt(low().participants),
        because:
          "That does not shrink with the number of people: where does n stand in the formula?",
      },
    ],
    hint: "a₁ + a₂ − 2c, with aᵢ = s²/(n·m²) and c = r·s₁·s₂/(n·m₁·m₂); then the square root.",
  },
  {
    id: "2.3",
    decimals: 3,
    answer: () => byBaseline(low()),
    slips: [
      {
        answer: () => raw(low()) / low().before.deviation,
        because:
          "The correction for small samples is missing; with eleven people it takes off some eight per cent.",
      },
      {
        answer: () => raw(low()) / changeDeviation(low()),
        because:
          "That divides by how differently people changed. Asked for is how different people were before training.",
      },
      {
        answer: () => raw(low()) / low().after.deviation,
        because: "That divides by the deviation after training; the baseline's is asked for.",
      },
    ],
    hint: "Change of the mean over the standard deviation before training, times the small-sample factor for n − 1.",
  },
];
