import { answered } from "../../answers/ask.js";
import { effects } from "../../answers/effects.js";
import type { OutcomeRow } from "../../records/outcome-row.js";
import type { Exercise } from "../exercise.js";
import { percent, shippedFile } from "../shipped-data.js";

const file = () => shippedFile("published-outcomes.csv");
const where = "study=Arampatzis 2007, outcome=tendon stiffness";

/** What the paper prints of one arm's stiffness. */
const printed = (arm: string): OutcomeRow | undefined =>
  file().records.rows.find(
    (row) =>
      row.study === "Arampatzis 2007" &&
      row.outcome === "tendon stiffness" &&
      row.arm.startsWith(arm),
  );
const low = () => printed("low strain");
const logRatio = (row: OutcomeRow | undefined): number =>
  Math.log((row?.postMean ?? 0) / (row?.preMean ?? 1));
const raw = (): number => (low()?.postMean ?? 0) - (low()?.preMean ?? 0);

/** The low-strain arm's effect with a correlation that the paper does not print. */
const effect = (correlation: number, scale: string) =>
  answered(effects, file(), {
    where,
    correlation,
    scale,
    logRatioOrder: "first-order",
  }).data.effects.find(({ arm }) => arm.startsWith("low strain"));
const standardError = (correlation = 0.5): number =>
  Math.sqrt(effect(correlation, "log-ratio-of-means")?.variance ?? 0);
const changeDeviation = (): number => {
  const [before, after] = [low()?.preSpread ?? 0, low()?.postSpread ?? 0];
  return Math.sqrt(before ** 2 + after ** 2 - 2 * 0.5 * before * after);
};

/** Notebook 2: effect sizes by hand and by function. */
export const effectSizeExercises: readonly Exercise[] = [
  {
    id: "2.1",
    decimals: 1,
    answer: () => percent(logRatio(low())),
    slips: [
      {
        answer: () => 100 * logRatio(low()),
        because:
          "That is a hundred times the logarithm. It is near the percentage for small changes only; undo the logarithm.",
      },
      {
        answer: () => percent(logRatio(printed("high strain"))),
        because: "That is the other leg: look at which arm the exercise names.",
      },
      {
        answer: () => (100 * raw()) / (low()?.postMean ?? 1),
        because:
          "The change was divided by the mean after training; a change is measured from where it began.",
      },
    ],
    hint: "The percentage follows from the two means alone: what is the ratio of after to before?",
    reason:
      "The ratio of the means less one. Logarithms are there for averaging, percentages for people.",
  },
  {
    id: "2.2",
    decimals: 3,
    answer: () => standardError(),
    slips: [
      {
        answer: () => standardError() ** 2,
        because:
          "That is the sampling variance; the standard error is on the scale of the estimate itself.",
      },
      {
        answer: () => standardError(0),
        because: "The covariance is missing: the same people were measured twice.",
      },
      {
        answer: () => standardError(0.8),
        because: "That was the correlation of the example above; the exercise names another.",
      },
      {
        answer: () => standardError() * Math.sqrt(low()?.nEnd ?? 0),
        because:
          "That does not shrink with the number of people: where does n stand in the formula?",
      },
    ],
    hint: "a₁ + a₂ − 2c, with aᵢ = s²/(n·m²) and c = r·s₁·s₂/(n·m₁·m₂); then the square root.",
    reason:
      "The two means share their people, so twice the covariance comes off. A smaller correlation takes off less, and the error grows.",
  },
  {
    id: "2.3",
    decimals: 3,
    answer: () => effect(0.5, "standardised-mean-change-baseline-deviation")?.estimate ?? 0,
    slips: [
      {
        answer: () => raw() / (low()?.preSpread ?? 1),
        because:
          "The correction for small samples is missing; with eleven people it takes off some eight per cent.",
      },
      {
        answer: () => raw() / changeDeviation(),
        because:
          "That divides by how differently people changed. Asked for is how different people were before training.",
      },
      {
        answer: () => raw() / (low()?.postSpread ?? 1),
        because: "That divides by the deviation after training; the baseline's is asked for.",
      },
    ],
    hint: "Change of the mean over the standard deviation before training, times the small-sample factor for n − 1.",
    reason:
      "The change over the deviation before training, times the small-sample factor: with few people the plain ratio comes out too large.",
  },
];
