/**
 * The one policy for an average, whatever door asks for it: robust errors with a small-sample correction lead,
 * dependent effects are modelled as such, one study has no average, and what was asked for otherwise is said.
 */
import { CallError, refusal, type Refusal } from "../errors.js";
import { fitMultilevel } from "../synthesis/fit-multilevel.js";
import { headlineAnswer } from "../synthesis/headline-answer.js";
import {
  heterogeneityEstimators,
  type HeterogeneityName,
} from "../synthesis/heterogeneity/estimators.js";
import {
  multilevelIntervals,
  predictionFreedoms,
  robustCorrections,
} from "../synthesis/inference-choices.js";
import {
  multilevelLevels,
  type MultilevelLevel,
  type WorkingModelOptions,
} from "../synthesis/multilevel-options.js";
import type { PermutationTestOptions } from "../synthesis/permutation-test.js";
import { poolEffects, pooledModels } from "../synthesis/pool-effects.js";
import type { KnownCovariance, SynthesisEffect } from "../synthesis/synthesis-input.js";
import type { HeadlineResult, PooledResult } from "../synthesis/synthesis-results.js";
import { confidenceOption } from "./effect-options.js";
import { aNumber, defaultOf, onOff, oneOf, option, someOf, unread } from "./option.js";
import type { Options } from "./question.js";
import * as z from "zod";
import { confidenceWords } from "../tables/number-format.js";
import { unsettled } from "./unsettled.js";

const estimatorNames = Object.keys(heterogeneityEstimators) as [
  HeterogeneityName,
  ...HeterogeneityName[],
];

/** Intervals of a model with levels, then those of independent rows alone. */
const intervals = [
  ...multilevelIntervals,
  ...(["hartung-knapp", "hartung-knapp-unguarded"] as const),
] as const;

/** `weeks, measure, weeks by measure` as terms of a model. */
const moderatorTerms = z.preprocess(
  (value) =>
    typeof value === "string"
      ? value
          .split(",")
          .map((term) => term.trim())
          .filter((term) => term !== "")
          .map((term) => {
            const parts = term.split(/\s+by\s+/);
            return parts.length === 1 ? term : parts;
          })
      : value,
  z.array(z.union([z.string(), z.array(z.string()).readonly()])).readonly(),
);

/** `muscle_length=long` as the level that others are compared with. */
const references = z.preprocess(
  (value) =>
    typeof value === "string"
      ? Object.fromEntries(
          value.split(",").map((part) => {
            const [column = "", level] = part.split("=").map((word) => word.trim());
            return level === undefined || level === ""
              ? unread(
                  "column=level, e.g. muscle_length=long",
                  part,
                  undefined,
                  "unreadable-condition",
                )
              : [column, level];
          }),
        )
      : value,
  z.record(z.string(), z.string()),
);

/** Options of an average. Those left out follow the policy; those given are named in the headline. */
export const averageShape = {
  moderators: option(moderatorTerms.default([]), {
    help: "explain differences by these columns, e.g. weeks,measure or weeks by measure",
    value: "<columns>",
  }),
  references: option(references.default({}), {
    help: "level that the others of a column are compared with, e.g. muscle_length=long; the first in text order unless told",
    value: "<levels>",
    seldom: true,
  }),
  levels: option(
    z
      .preprocess(
        (value) => (value === "none" ? [] : value),
        z.union([z.array(z.never()).max(0).readonly(), someOf(multilevelLevels)]),
      )
      .optional(),
    {
      help: `random intercepts, among ${multilevelLevels.join(", ")}, or none for independent rows (a file in the codebook's columns: all three; ready effects: study and effect_id where a study is named more than once, else none)`,
      value: "<levels>",
      seldom: true,
    },
  ),
  heterogeneity: option(oneOf(estimatorNames).optional(), {
    help: "how the variance between studies is estimated (restricted maximum likelihood unless told)",
    value: "<estimator>",
    seldom: true,
  }),
  interval: option(oneOf(intervals).optional(), {
    help: "how the interval of the average is made, in place of cluster-robust errors",
    value: "<method>",
    seldom: true,
  }),
  model: option(oneOf(pooledModels).optional(), {
    help: "one true effect, or a distribution of effects (the latter unless told)",
    value: "<model>",
    seldom: true,
  }),
  robust: option(oneOf(robustCorrections).optional(), {
    help: "correction of the cluster-robust errors (bias-reduced with Satterthwaite degrees of freedom unless told)",
    value: "<correction>",
    seldom: true,
  }),
  rangeDegreesOfFreedom: option(oneOf(predictionFreedoms).optional(), {
    help: "degrees of freedom of the range of a further study: those of the interval, or one fewer",
    value: "<choice>",
    seldom: true,
  }),
  profile: option(onOff(), {
    help: "also give profile-likelihood intervals of the variance parts",
    seldom: true,
  }),
  permutations: option(
    aNumber({ least: 0, whole: true, needs: "0, or 99 and more arrangements" }).default(0),
    {
      help: "arrangements for a permutation p of each moderator; 0 for none",
      value: "<number>",
      seldom: true,
    },
  ),
  seed: option(aNumber({ whole: true, needs: "a whole number" }).default(1), {
    help: "seed of what is drawn at random",
    value: "<number>",
    seldom: true,
  }),
};

export type AverageOptions = Options<typeof averageShape> & Readonly<{ confidence: number }>;

/** Effects to average, with what is known of their dependence. */
export type AverageInput = Readonly<{
  effects: readonly SynthesisEffect[];
  covariances: readonly KnownCovariance[];
  /** Whether they come from a table of ready effects, where arms may not be named. */
  ready: boolean;
}>;

/** An average with the inference that leads, or why there is none. */
export type Average =
  | Readonly<{
      kind: "average";
      result: HeadlineResult | PooledResult;
      /** What was asked for in place of the policy, in words; empty where nothing was. */
      askedFor: readonly string[];
    }>
  | Refusal;

export const isMultilevel = (result: HeadlineResult | PooledResult): result is HeadlineResult =>
  "varianceByLevel" in result;

/** Whether the estimator, interval or model asked for belongs to independent rows alone. */
const onlyIndependent = ({ heterogeneity, interval, model }: AverageOptions): boolean =>
  (heterogeneity !== undefined &&
    heterogeneity !== "restricted-maximum-likelihood" &&
    heterogeneity !== "maximum-likelihood") ||
  interval === "hartung-knapp" ||
  interval === "hartung-knapp-unguarded" ||
  model === "common-effect";

/** Why there is no answer about effects where a file has none on a scale and contrast. */
export const noEffects = refusal("no-effects", "no row reaches this scale and contrast");

/** Whether the inference asked for needs studies as a level. */
const needsLevels = ({ interval, robust }: AverageOptions): boolean =>
  interval === "cluster-robust" || (robust !== undefined && robust !== "none");

/** Random intercepts of the model; none where rows are taken as independent. */
const levelsFor = (
  { effects, ready }: AverageInput,
  options: AverageOptions,
): readonly MultilevelLevel[] => {
  if (options.levels !== undefined) {
    const asked: readonly MultilevelLevel[] = options.levels;
    // The order of nesting is fixed, so the order they were typed in does not matter.
    return multilevelLevels.filter((level) => asked.includes(level));
  }
  if (onlyIndependent(options)) return [];
  if (!ready) return multilevelLevels;
  return new Set(effects.map(({ study }) => study)).size < effects.length
    ? ["study", "effect_id"]
    : [];
};

/** The model asked for, as a question that puts its own moderator into it takes it. */
export const workingModel = (input: AverageInput, options: AverageOptions): WorkingModelOptions => {
  const levels = levelsFor(input, options);
  const { confidence, heterogeneity, interval, robust, rangeDegreesOfFreedom } = options;
  return {
    confidence,
    levels: levels.length === 0 ? ["study"] : levels,
    knownCovariances: input.covariances,
    ...(heterogeneity === "maximum-likelihood" ? { heterogeneity } : {}),
    ...(interval === "normal" || interval === "student-t" ? { interval } : {}),
    ...(robust === undefined ? {} : { robust }),
    ...(rangeDegreesOfFreedom === undefined
      ? {}
      : { predictionDegreesOfFreedom: rangeDegreesOfFreedom }),
  };
};

/** The model of an average as the synthesis takes it: of independent rows, or with levels. */
export const modelOf = (
  input: AverageInput,
  options: AverageOptions,
): PermutationTestOptions["model"] => {
  const { moderators, references, heterogeneity, interval, model, robust } = options;
  const { confidence, rangeDegreesOfFreedom } = options;
  const isIndependent = levelsFor(input, options).length === 0;
  if (isIndependent ? needsLevels(options) : onlyIndependent(options))
    throw new CallError({
      code: "unknown-choice",
      where: isIndependent ? "rows taken as independent" : "a model with levels",
      needs: isIndependent
        ? "an interval of independent rows, without robust errors by study"
        : "heterogeneity restricted-maximum-likelihood or maximum-likelihood, interval cluster-robust, student-t or normal, and model random-effects",
      got: [heterogeneity, interval, model, robust].filter((one) => one !== undefined).join(", "),
      try: isIndependent
        ? "--levels study, or --levels study,effect_id where a study has several rows"
        : "--levels none takes the rows as independent",
    });
  return isIndependent
    ? {
        kind: "pooled",
        options: {
          confidence,
          moderators,
          references,
          ...(rangeDegreesOfFreedom === undefined
            ? {}
            : { predictionDegreesOfFreedom: rangeDegreesOfFreedom }),
          ...(model === undefined ? {} : { model }),
          ...(heterogeneity === undefined ? {} : { heterogeneity }),
          ...(interval === undefined || interval === "cluster-robust" ? {} : { interval }),
        },
      }
    : {
        kind: "multilevel",
        options: {
          ...workingModel(input, options),
          moderators,
          references,
          profileIntervals: options.profile,
        },
      };
};

const dashed = (words: string): string => words.replaceAll("-", " ");

const askedWords = (
  options: AverageOptions,
  levels: readonly MultilevelLevel[],
  dependent: boolean,
): readonly string[] => [
  ...(options.levels === undefined
    ? dependent && levels.length === 0
      ? ["rows taken as independent, which they are not"]
      : []
    : [levels.length === 0 ? "rows taken as independent" : `levels ${levels.join(", ")}`]),
  ...(["heterogeneity", "interval", "model", "robust"] as const).flatMap((name) => {
    const asked = options[name];
    return asked === undefined ? [] : [`${name} ${dashed(asked)}`];
  }),
  ...(options.rangeDegreesOfFreedom === undefined
    ? []
    : [`range with ${dashed(options.rangeDegreesOfFreedom)} degrees of freedom`]),
  ...(options.confidence === defaultOf(confidenceOption)
    ? []
    : [`confidence ${confidenceWords(options.confidence)}`]),
];

/**
 * The average of some effects of one scale, contrast and kind, by the policy of this project.
 *
 * Cluster-robust errors by study with bias reduction and Satterthwaite degrees of freedom lead wherever a study
 * gives several effects; a table of ready effects that names each study once is averaged with a residual scale
 * and Student t, which is the same idea for independent rows. Effects of a single study are never averaged,
 * since its arms differ by design and not by chance.
 *
 * @param input   effects and covariances
 * @param options what is asked for in place of the policy, and the confidence
 * @source as in fitMultilevel, headlineAnswer and poolEffects
 */
export const averageOf = (input: AverageInput, options: AverageOptions): Average => {
  const { effects } = input;
  const studies = new Set(effects.map(({ study }) => study));
  const [only] = studies;
  if (only === undefined) return noEffects;
  if (studies.size === 1)
    return refusal(
      "one-study",
      effects.length === 1
        ? `there is one effect of one study, ${only}; it stands by itself and is no average`
        : `all ${effects.length} effects are of one study, ${only}; they are shown one by one, as there is nothing to average over studies`,
    );
  const levels = levelsFor(input, options);
  const askedFor = askedWords(options, levels, studies.size < effects.length);
  try {
    const model = modelOf(input, options);
    if (model.kind === "pooled")
      return { kind: "average", askedFor, result: poolEffects(effects, model.options) };
    const result = headlineAnswer(fitMultilevel(effects, model.options));
    return {
      kind: "average",
      result,
      askedFor:
        options.robust === undefined || result.robust?.average !== undefined
          ? askedFor
          : askedFor.map((words) =>
              words.startsWith("robust ")
                ? `${words}, which is refused as the estimate rests in part on one study, so the interval is the model's own`
                : words,
            ),
    };
  } catch (error) {
    return unsettled(error);
  }
};
