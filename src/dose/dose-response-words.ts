/** The sentences a dose-response result carries. */
import { contrastLabel, scaleLabel } from "../effects/scale-label.js";
import type { Note } from "../errors.js";
import type { Story } from "../synthesis/synthesis-results.js";
import type { CurveUse } from "./curve-design.js";
import type { DoseData } from "./dose-data.js";
import { withinRefusal } from "./identifiability.js";
import type { MixedModel } from "./mixed-model.js";
import type { SlopeAnswer } from "./within-between-slope.js";

/** Where the evidence comes from, in a plain sentence without a full stop. */
export const doseEvidence = ({ axis, support }: DoseData, use: CurveUse): string => {
  if (use === "within studies") {
    return `${support.studiesWithin} of ${support.studies} studies compare arms that differ in ${axis.label}; the curve is made of those comparisons, so it is free of everything in which studies differ`;
  }
  if (use === "within and between together") {
    return `comparisons inside ${support.studiesWithin} studies and differences between ${support.studies} studies are taken together; the second kind is open to everything else in which studies differ`;
  }
  const missing = withinRefusal(support, axis)?.missing;
  return `the curve rests on differences between ${support.studies} studies only, which differ in much else besides${missing === undefined ? "" : ` (${missing})`}`;
};

/** The story of the curve: model, estimator, assumptions. */
export const doseStory = (
  data: DoseData,
  use: CurveUse,
  options: Readonly<{ confidence: number; form: string; seed: number; draws: number }>,
  model: MixedModel,
  notes: readonly Note[],
): Story => ({
  model: `${options.form} dose-response model of ${contrastLabel(data.contrast)} (${scaleLabel(data.scale)}) on ${data.axis.label} (${data.axis.definition}), random intercepts for ${model.levels.join(", ") || "nothing"}, known sampling covariances`,
  heterogeneityEstimator:
    "maximum likelihood to compare shapes, restricted maximum likelihood for the curves shown",
  intervalMethod: `bias-reduced cluster-robust errors by study with Satterthwaite degrees of freedom, the choice of shape included; simultaneous band and read-offs from ${options.draws} drawn curves (seed ${options.seed})`,
  confidence: options.confidence,
  assumptions: [
    use === "within studies"
      ? "the curve has the same form in every study, at a level of the study's own; studies' mean doses have a straight line of their own"
      : "studies that train at different doses would have gained the same at the same dose",
    "shapes are weighted by the information criterion for small samples, with the number of effects as its sample size",
    "the curve's level is the gain of the average study of the file, which holds learning and time as well as training where the effects are changes within an arm",
    "nothing is said about doses outside the range that was compared",
  ],
  effectIds: data.effects.map(({ effectId }) => effectId),
  notes,
});

/** A note where the slope between studies is not the slope inside them. */
export const contextNotes = (difference: SlopeAnswer, { axis }: DoseData): readonly Note[] =>
  difference.identified && difference.robust.p < 0.05
    ? [
        {
          code: "between-differs-from-within",
          message: `studies that train at a higher ${axis.label} differ in more than that: the slope between studies is not the slope inside them, and only the one inside is the dose's own`,
        },
      ]
    : [];
