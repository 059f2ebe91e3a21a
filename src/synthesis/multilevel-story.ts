/** What was fitted by fitMultilevel, on what, under which assumptions. */
import type { Note } from "../errors.js";
import { studyCount } from "./check-effects.js";
import type { FittedMultilevel } from "./fitted-multilevel.js";
import type { MultilevelLevel, ResolvedMultilevelOptions } from "./multilevel-options.js";
import { dominantStudyNote, fewStudiesNote, predictionNotes } from "./story-notes.js";
import type { Story } from "./synthesis-results.js";

const levelNames = { study: "study", arm: "arm", effect_id: "effect" } as const satisfies Record<
  MultilevelLevel,
  string
>;

/**
 * The story of a multilevel result.
 * @source none: sentences
 */
export const multilevelStory = (
  facts: Readonly<{
    fitted: FittedMultilevel;
    options: ResolvedMultilevelOptions;
    notes: readonly Note[];
    predicted: boolean;
    /** What the weights of one average are; none where there are several. */
    weightsPercent?: readonly number[];
    /** What the model was fitted for, where it is neither an average nor a regression. */
    subject?: string;
  }>,
): Story => {
  const { fitted, options } = facts;
  const { rows, design, levels, sampling } = fitted;
  const studies = studyCount(rows);
  const named = options.levels.map((level) => levelNames[level]).join(", ");
  const moderated = design.terms.length > 0;
  const subject =
    facts.subject ??
    `multilevel ${moderated ? `regression on ${design.terms.map((term) => term.name).join(", ")}` : "average"}`;
  const atZero = levels.fitted.filter((_, k) => fitted.fit.variances[k] === 0);
  return {
    model: `${subject} with random intercepts by ${named}${moderated && facts.subject === undefined ? "; the estimate is the prediction at the mean of the effects' moderators" : ""} (${rows.length} effects, ${studies} ${studies === 1 ? "study" : "studies"})`,
    heterogeneityEstimator:
      options.heterogeneity === "restricted-maximum-likelihood"
        ? "restricted maximum likelihood"
        : "maximum likelihood",
    intervalMethod:
      options.interval === "normal"
        ? "normal, model standard errors"
        : "Student t with effects − coefficients degrees of freedom, model standard errors (a multilevel model has no single Hartung–Knapp scale)",
    confidence: options.confidence,
    assumptions: [
      sampling.known.length > 0
        ? `sampling variances are known, and so are the covariances inside ${sampling.known.length} sets of effects; other sampling errors are independent`
        : "sampling variances are known and sampling errors independent of each other",
      "random intercepts are normally distributed with one variance at each level",
      "ids are taken as they stand: effects with the same id at a level share its intercept",
      ...(facts.predicted
        ? [
            `the range of a further study is for one further effect in it and ignores the error in the variances${options.predictionDegreesOfFreedom === "one-fewer" ? "; it has one degree of freedom fewer than the average, as asked for" : ""}`,
          ]
        : []),
      ...(options.robust === "none"
        ? []
        : [
            "robust errors assume studies are independent of each other, and hold if the dependence inside them is misjudged",
          ]),
      ...(moderated
        ? [
            "relations between studies are not relations within studies: moderators are not randomised",
          ]
        : []),
    ],
    effectIds: rows.map((row) => row.effectId),
    notes: [
      ...design.notes,
      ...levels.notes,
      ...fewStudiesNote(studies),
      ...(studies > 2 && facts.weightsPercent !== undefined
        ? dominantStudyNote(rows, facts.weightsPercent)
        : []),
      ...atZero.map((level) => ({
        code: "variance-at-zero",
        message: `the variance at level ${level.level} is estimated as zero: these effects show no more spread there than chance, which is not certainty that there is none`,
      })),
      ...facts.notes,
      ...(facts.predicted ? predictionNotes(studies) : []),
    ],
  };
};
