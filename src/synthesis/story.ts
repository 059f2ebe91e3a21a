/** What was fitted, on what, under which assumptions, and the doubts the models of this room share. */
import type { Note } from "../errors.js";
import { studyCount } from "./check-effects.js";
import type { ModeratorDesign } from "./design-matrix.js";
import type { FittedMultilevel } from "./fitted-multilevel.js";
import type { HeterogeneityName } from "./heterogeneity/estimators.js";
import type { PredictionFreedom } from "./inference-choices.js";
import type { ResolvedMultilevelOptions } from "./multilevel-options.js";
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

/** Below this many studies a result is thin, and a range of a further study indicative only. */
const fewStudies = 5;
/** Below this many studies a range of a further study is unstable (IntHout et al. 2016, BMJ Open 6:e010247). */
const steadyStudies = 10;
/** A study with more of the weight than this carries the result. */
const dominantWeightPercent = 50;

/** The story of a pooled result. */
export const pooledStory = (
  facts: Readonly<{
    rows: readonly SynthesisEffect[];
    design: ModeratorDesign;
    options: Readonly<{
      model: "random-effects" | "common-effect";
      heterogeneity: HeterogeneityName;
      interval: keyof typeof intervalNames;
      predictionDegreesOfFreedom: PredictionFreedom;
      confidence: number;
    }>;
    notes: readonly Note[];
    weightsPercent: readonly number[];
    predicted?: boolean;
  }>,
): Story => {
  const { rows, design, options, predicted = false } = facts;
  const k = rows.length;
  const studies = studyCount(rows);
  const random = options.model === "random-effects";
  const kind = random ? "random-effects" : "common-effect";
  const fewer = options.predictionDegreesOfFreedom === "one-fewer" ? " − 1" : "";
  return {
    model: `${k === 1 ? "a single effect as it stands" : `${kind} ${task(design)}${atMean(design)}`} (${counted(rows)})`,
    heterogeneityEstimator:
      k === 1
        ? "none: one effect cannot tell"
        : random
          ? estimatorNames[options.heterogeneity]
          : "none: the common-effect model holds the variance between studies at zero",
    intervalMethod: intervalNames[k === 1 ? "normal" : options.interval],
    confidence: options.confidence,
    assumptions: [
      "sampling variances are known",
      "effects are independent of each other",
      ...when(
        random && k > 1,
        "true effects are normally distributed around the model, with one variance",
      ),
      ...when(!random, "all studies share one true effect"),
      ...when(
        predicted,
        `the range of a further study uses Student t with effects − coefficients${fewer} degrees of freedom and ignores the error in the between variance`,
      ),
      ...notRandomised(design),
    ],
    effectIds: rows.map((row) => row.effectId),
    notes: [
      ...design.notes,
      ...fewStudiesNote(studies),
      ...when(studies < k && studies > 0, {
        code: "several-effects-per-study" as const,
        message: `${k} effects come from ${studies} studies but are taken as independent; a multilevel model accounts for that`,
      }),
      ...(k > 2 ? dominantStudyNote(rows, facts.weightsPercent) : []),
      ...facts.notes,
      ...(predicted ? rangeNotes(k) : []),
    ],
  };
};

/** The story of a multilevel result. */
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
  const { fitted, options, predicted, weightsPercent } = facts;
  const { rows, design, levels, sampling } = fitted;
  const studies = studyCount(rows);
  const named = options.levels.map((level) => (level === "effect_id" ? "effect" : level));
  const atZero = levels.fitted.filter((_, k) => fitted.fit.variances[k] === 0);
  const fewer = options.predictionDegreesOfFreedom === "one-fewer";
  return {
    model: `${facts.subject ?? `multilevel ${task(design)}`} with random intercepts by ${named.join(", ")}${facts.subject === undefined ? atMean(design) : ""} (${counted(rows)})`,
    heterogeneityEstimator: estimatorNames[options.heterogeneity],
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
      ...when(
        predicted,
        `the range of a further study is for one further effect in it and ignores the error in the variances${fewer ? "; it has one degree of freedom fewer than the average, as asked for" : ""}`,
      ),
      ...when(
        options.robust !== "none",
        "robust errors assume studies are independent of each other, and hold if the dependence inside them is misjudged",
      ),
      ...notRandomised(design),
    ],
    effectIds: rows.map((row) => row.effectId),
    notes: [
      ...design.notes,
      ...levels.notes,
      ...fewStudiesNote(studies),
      ...(studies > 2 && weightsPercent !== undefined
        ? dominantStudyNote(rows, weightsPercent)
        : []),
      ...atZero.map(({ level }) => ({
        code: "variance-at-zero" as const,
        message: `the variance at level ${level} is estimated as zero: these effects show no more spread there than chance, which is not certainty that there is none`,
      })),
      ...facts.notes,
      ...(predicted ? rangeNotes(studies) : []),
    ],
  };
};

const when = <Value>(holds: boolean, value: Value): readonly Value[] => (holds ? [value] : []);

const task = ({ terms }: ModeratorDesign): string =>
  terms.length === 0 ? "average" : `regression on ${terms.map(({ name }) => name).join(", ")}`;

const atMean = ({ terms }: ModeratorDesign): string =>
  terms.length === 0
    ? ""
    : "; the estimate is the prediction at the mean of the effects' moderators";

const counted = (rows: readonly SynthesisEffect[]): string => {
  const studies = studyCount(rows);
  return `${rows.length} ${rows.length === 1 ? "effect" : "effects"}, ${studies} ${studies === 1 ? "study" : "studies"}`;
};

const notRandomised = ({ terms }: ModeratorDesign): readonly string[] =>
  when(
    terms.length > 0,
    "relations between studies are not relations within studies: moderators are not randomised",
  );

const fewStudiesNote = (studies: number): readonly Note[] =>
  when(studies < fewStudies, {
    code: "few-studies",
    message: `only ${studies === 1 ? "one study" : `${studies} studies`}: the spread between studies is hardly known, so read the interval as a rough one`,
  });

const dominantStudyNote = (
  rows: readonly SynthesisEffect[],
  weightsPercent: readonly number[],
): readonly Note[] => {
  const byStudy = new Map<string, number>();
  rows.forEach(({ study }, index) => {
    byStudy.set(study, (byStudy.get(study) ?? 0) + weightsPercent[index]!);
  });
  const found = [...byStudy].find(([, weight]) => weight > dominantWeightPercent);
  if (found === undefined || byStudy.size < 2) return [];
  const [study, weight] = found;
  return [
    {
      code: "one-study-dominates",
      message: `study ${study} carries ${weight.toFixed(0)}% of the weight`,
      study,
    },
  ];
};

const rangeNotes = (studies: number): readonly Note[] =>
  studies < fewStudies
    ? [
        {
          code: "prediction-indicative",
          message: `the range of a further study rests on ${studies} studies and is indicative only`,
        },
      ]
    : when(studies < steadyStudies, {
        code: "prediction-unstable",
        message: `the range of a further study rests on fewer than ten studies (${studies}) and is unstable`,
      });
