/** What was fitted by poolEffects, on what, under which assumptions. */
import type { Note } from "../errors.js";
import { studyCount } from "./check-effects.js";
import type { ModeratorDesign } from "./design-matrix.js";
import type { HeterogeneityName } from "./heterogeneity/estimators.js";
import type { ResolvedPoolOptions } from "./pool-effects.js";
import { dominantStudyNote, fewStudiesNote, predictionNotes } from "./story-notes.js";
import type { SynthesisEffect } from "./synthesis-input.js";
import type { Story } from "./synthesis-results.js";

const estimatorNames = {
  "restricted-maximum-likelihood": "restricted maximum likelihood",
  "maximum-likelihood": "maximum likelihood",
  "dersimonian-laird": "DerSimonian–Laird (moments)",
  "paule-mandel": "Paule–Mandel (generalised Q equal to its degrees of freedom)",
  "hedges-olkin": "Hedges–Olkin (unweighted moments)",
  "sidik-jonkman": "Sidik–Jonkman (two steps)",
  "hunter-schmidt": "Hunter–Schmidt",
} as const satisfies Readonly<Record<HeterogeneityName, string>>;

const intervalNames = {
  "hartung-knapp":
    "Hartung–Knapp: residual scale, floored at one, Student t with effects − coefficients degrees of freedom",
  "hartung-knapp-unguarded":
    "Hartung–Knapp without a floor: residual scale, Student t with effects − coefficients degrees of freedom",
  normal: "normal, model standard error",
  "student-t": "Student t with effects − coefficients degrees of freedom, model standard error",
} as const;

/**
 * The story of a pooled result.
 * @source none: sentences
 */
export const pooledStory = (
  facts: Readonly<{
    rows: readonly SynthesisEffect[];
    design: ModeratorDesign;
    options: ResolvedPoolOptions;
    notes: readonly Note[];
    weightsPercent: readonly number[];
    predicted?: boolean;
  }>,
): Story => {
  const { rows, design, options } = facts;
  const k = rows.length;
  const studies = studyCount(rows);
  const random = options.model === "random-effects";
  const moderated = design.terms.length > 0;
  const kind = random ? "random-effects" : "common-effect";
  const subject = moderated
    ? `${kind} regression on ${design.terms.map((term) => term.name).join(", ")}; the estimate is the prediction at the mean of the effects' moderators`
    : k === 1
      ? "a single effect as it stands"
      : `${kind} average`;
  return {
    model: `${subject} (${k} ${k === 1 ? "effect" : "effects"}, ${studies} ${studies === 1 ? "study" : "studies"})`,
    heterogeneityEstimator:
      k === 1
        ? "none: one effect cannot tell"
        : random
          ? estimatorNames[options.heterogeneity]
          : "none: the common-effect model holds the variance between studies at zero",
    intervalMethod: k === 1 ? intervalNames.normal : intervalNames[options.interval],
    confidence: options.confidence,
    assumptions: [
      "sampling variances are known",
      "effects are independent of each other",
      ...(random && k > 1
        ? ["true effects are normally distributed around the model, with one variance"]
        : []),
      ...(random ? [] : ["all studies share one true effect"]),
      ...(facts.predicted === true
        ? [
            `the range of a further study uses Student t with ${options.predictionDegreesOfFreedom === "one-fewer" ? "effects − coefficients − 1" : "effects − coefficients"} degrees of freedom and ignores the error in the between variance`,
          ]
        : []),
      ...(moderated
        ? [
            "relations between studies are not relations within studies: moderators are not randomised",
          ]
        : []),
    ],
    effectIds: rows.map((row) => row.effectId),
    notes: [
      ...design.notes,
      ...fewStudiesNote(studies),
      ...(studies < k && studies > 0
        ? [
            {
              code: "several-effects-per-study",
              message: `${k} effects come from ${studies} studies but are taken as independent; a multilevel model accounts for that`,
            },
          ]
        : []),
      ...(k > 2 ? dominantStudyNote(rows, facts.weightsPercent) : []),
      ...facts.notes,
      ...(facts.predicted === true ? predictionNotes(k) : []),
    ],
  };
};
