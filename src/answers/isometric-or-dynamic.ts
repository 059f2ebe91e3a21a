/**
 * Isometric or dynamic: groups of one trial that held beside groups that moved, by the way in which they were tested.
 * Longer than most for the form of its data and the sentences of an average and of a refusal.
 */
import * as z from "zod";
import { trustedFreedom } from "../dose/identifiability.js";
import type { Effect } from "../effects/effect.js";
import { effectSubset } from "../effects/effect-subset.js";
import { refusal, type Refusal } from "../errors.js";
import { listed } from "../protocol/listed.js";
import { grouped } from "../records/grouped.js";
import { testModeMatters } from "../records/test-mode.js";
import { effectInputs } from "../synthesis/effect-inputs.js";
import type { HeadlineResult, PooledResult } from "../synthesis/synthesis-results.js";
import { capital, counted } from "../tables/number-format.js";
import { folded } from "../tables/table.js";
import { intervalSchema, refusalSchema } from "./answer.js";
import { averageOf, averageShape, type Average } from "./average.js";
import { movement } from "./compared-variables.js";
import { effectShape, effectsOptionsOf } from "./effect-options.js";
import { effectsFigures } from "./effects-figures.js";
import { effectsOf, type Evidence } from "./evidence.js";
import { headlineLinesTable, sentencesUnder } from "./headline-lines-shown.js";
import { headlineLines } from "./headline-lines.js";
import { headlineGroups, type HeadlineGroup } from "./headline-selection.js";
import { movingKinds, movingKindOf } from "./moving-arms.js";
import { notWeighted } from "./not-weighted.js";
import { option, resolvedOptions, someOf } from "./option.js";
import {
  doubtsOf,
  outcomeOption,
  rowsOfGroup,
  together,
  type AnswerPart,
} from "./outcome-groups.js";
import { rangeOf, withInterval } from "./pool-words.js";
import { question, type Options } from "./question.js";
import { chosenTrials } from "./single-trials.js";
import { trialComparisons, type ComparedGroup, type TrialComparison } from "./trial-comparisons.js";
import { trialsOf, withTrials } from "./trials-beside.js";

const { contrast: _one, armPairs: _every, armKinds: _held, ...ownShape } = effectShape;

const shape = {
  outcome: outcomeOption,
  against: option(someOf(movingKinds).default(["dynamic"]), {
    help: "arms averaged against isometric ones: dynamic (lifting, lowering) or other exercise (from jumps to imagined contractions); single trials show both",
    value: "<kinds>",
  }),
  ...ownShape,
};
type Asked = Options<typeof shape>;

/** Every arm that held against every arm of its study that moved. */
const everyPair = {
  contrast: "between-arms",
  armPairs: "every-pair",
  armKinds: ["isometric"],
} as const;

/** Fewer studies describe themselves and no rule. */
const fewStudies = 5;

const keyOf = (held: number, moved: number | undefined): string => `${held} ${moved}`;

/** Which of the two gained more, as far as the interval tells. */
const callOf = ({ interval: { low, high } }: HeadlineResult | PooledResult) =>
  low > 0 ? "isometric" : high < 0 ? "dynamic" : "cannot be told";
const callWords = {
  isometric: "In this test isometric training gained more.",
  dynamic: "In this test moving gained more.",
  "cannot be told": "Which of the two gains more in this test cannot be told from this file.",
} as const;

/** Whether the trials gave both groups equal work, as far as they say. */
const workWords = (comparisons: readonly TrialComparison[]): string => {
  const trials = [...grouped(comparisons, ({ cohort }) => cohort).values()].map((own) => ({
    study: own[0]!.study,
    alsoDiffer: [...new Set(own.flatMap(({ alsoDiffer }) => alsoDiffer))],
    unknown: own.flatMap(({ unknown }) => unknown),
  }));
  const unequal = trials.filter(({ alsoDiffer }) => alsoDiffer.length > 0);
  const equal = trials.filter(
    ({ alsoDiffer, unknown }) => alsoDiffer.length === 0 && unknown.length === 0,
  ).length;
  const unsaid = trials.length - unequal.length - equal;
  return `Equal work (contractions, time under tension, sessions, weeks): told in ${equal} of ${counted(trials.length, "trial")}${
    unequal.length === 0
      ? ""
      : `, unequal in ${listed(unequal.map(({ study, alsoDiffer }) => `${study} (${alsoDiffer.join(", ")})`))}`
  }${unsaid === 0 ? "" : `, not said in full in ${unsaid}`}.`;
};

/** Effects whose way of testing is not said although it decides whom the test flatters. */
const isUntold = ({ row }: Pick<Effect, "row">): boolean =>
  testModeMatters(row) && row.testMode === undefined;

/** What a script finds of an average, or why there is none. */
type ToldNumbers = Partial<
  Pick<
    HeadlineResult,
    "estimate" | "standardError" | "interval" | "predictionInterval" | "degreesOfFreedom" | "p"
  >
> &
  Readonly<{ call?: keyof typeof callWords; refusal?: Refusal }>;

const toldNumbers = (average: Average): ToldNumbers => {
  if (average.kind === "refusal") return { refusal: average };
  const { estimate, standardError, interval, predictionInterval, degreesOfFreedom, p } =
    average.result;
  return {
    call: callOf(average.result),
    ...{ estimate, standardError, interval, predictionInterval, degreesOfFreedom, p },
  };
};

type Prepared = Readonly<{
  groups: readonly ComparedGroup[];
  comparisons: readonly TrialComparison[];
  effects: readonly HeadlineGroup[];
  untold: readonly Effect[];
  unweighted: (group: ComparedGroup) => string;
  evidence: Evidence;
}>;

/**
 * Isometric minus dynamic in every kind of outcome and way of testing, averaged over studies, with each trial beside it.
 *
 * An effect is the change of an arm that held minus that of an arm of its study that moved, in the same test; positive
 * where holding gained more. Tests of different modes are never averaged together.
 */
export const isometricOrDynamic = question({
  id: "isometric-or-dynamic",
  options: shape,
  choices: ["outcome"],
  data: {
    against: z.array(z.string()),
    groups: z.array(
      z.looseObject({
        id: z.string(),
        outcome: z.string(),
        family: z.string(),
        testMode: z.string(),
        effects: z.number(),
        studies: z.number(),
        estimate: z.number().optional(),
        interval: intervalSchema.optional(),
        predictionInterval: intervalSchema.nullable().optional(),
        call: z.enum(["isometric", "dynamic", "cannot be told"]).optional(),
        refusal: refusalSchema.optional(),
        comparisons: z.array(
          z.looseObject({
            study: z.string(),
            difference: z.number().nullable(),
            interval: intervalSchema.nullable(),
            alsoDiffer: z.array(z.string()),
            unknown: z.array(z.string()),
          }),
        ),
      }),
    ),
  },
  prepare: (evidence, options: Asked, tell): Prepared => {
    tell("arms that held beside arms that moved");
    const choices = { ...options, ...everyPair };
    const found = trialComparisons(evidence, choices, [movement]);
    const pairs = new Set(
      found.comparisons.map(({ lower, higher }) => keyOf(higher.line, lower.line)),
    );
    const set = effectsOf(evidence, effectsOptionsOf(choices));
    const own = effectSubset(
      set,
      ({ row, comparatorRow }) =>
        comparatorRow !== undefined &&
        pairs.has(keyOf(row.line, comparatorRow.line)) &&
        options.against.some((kind) => kind === movingKindOf(comparatorRow)),
    );
    const lines = new Set(found.comparisons.flatMap(({ higher }) => higher.line));
    const unweighted = notWeighted(evidence, set);
    return {
      ...found,
      evidence,
      effects: headlineGroups(effectSubset(own, (effect) => !isUntold(effect))),
      untold: own.effects.filter(isUntold),
      unweighted: (group) =>
        unweighted({
          of: (rows) => rowsOfGroup(group)(rows).filter(({ line }) => lines.has(line)),
        }),
    };
  },
  answer: ({ effects, untold, unweighted, evidence, ...found }, options) => {
    const { confidence, outcome, against, scale } = options;
    const kindOf = new Map(
      evidence.records.rows.map((row) => [row.line, movingKindOf(row)] as const),
    );
    const averaging = {
      ...options,
      ...everyPair,
      ...resolvedOptions(averageShape, {}),
    };
    const minus = `isometric minus ${against.join(" or ")}`;
    const told = chosenTrials(found, outcome).flatMap((group) => {
      const trials = {
        ...trialsOf(found, group, confidence),
        group: { id: `${group.id}-isometric-or-dynamic`, label: group.label },
        instead: "",
      };
      if (trials.comparisons.length === 0) return [];
      const set = effects.find(({ id }) => id === group.id)?.headline;
      const average =
        set === undefined
          ? trials.comparisons.some(({ lower }) => against.includes(kindOf.get(lower.line)!))
            ? refusal("no-effects", "no trial has the numbers for a weight in both groups")
            : refusal(
                "no-pairs",
                `no trial of this file set it against ${against.join(" or ")} training`,
              )
          : averageOf({ ...effectInputs(set), ready: false }, averaging);
      return [{ group, trials, set, average }];
    });
    const parts = told.map(({ group, trials, set, average }): AnswerPart => {
      const name = capital(group.label);
      const rows = [unweighted(group)].filter((told) => told !== "");
      if (set === undefined || average.kind === "refusal") {
        const { code, reason } = average as Refusal;
        return withTrials(
          {
            headline: "",
            sentences: [workWords(trials.comparisons), ...rows],
            refusal: refusal(code, reason),
            untold: [{ family: group.family, topics: ["isometric-or-dynamic"] }],
          },
          { ...trials, instead: `no average of ${minus}, as ${reason}` },
          false,
        );
      }
      const { result } = average;
      const { predictionInterval, standardError, studies } = result;
      const lines = headlineLines(
        {
          ...{ id: group.id, label: group.label },
          headline: { ...effectInputs(set), ready: false, set },
        },
        average,
        averaging,
        evidence,
      );
      const keys = new Set(
        set.effects.map(({ row, comparatorRow }) => keyOf(row.line, comparatorRow?.line)),
      );
      const averaged = trials.comparisons.filter(({ lower, higher }) =>
        keys.has(keyOf(higher.line, lower.line)),
      );
      const counts = `${counted(result.effects, "effect")} in ${counted(studies, "study", "studies")}`;
      return withTrials(
        {
          headline: `${name}, ${minus}: ${withInterval(result, set, confidence, counts)} on average. ${callWords[callOf(result)]}${
            callOf(result) !== "cannot be told" && result.degreesOfFreedom < trustedFreedom
              ? " That rests on too few studies to rely on."
              : ""
          }`,
          sentences: [
            predictionInterval === null
              ? "Too few studies to say what a further one would find."
              : `Range of a further study: ${rangeOf(predictionInterval, set, standardError)}.`,
            ...(studies < fewStudies
              ? [
                  `With ${counted(studies, "study", "studies")} this describes those studies; it is no general rule.`,
                ]
              : []),
            ...sentencesUnder(lines, average, set),
            workWords(averaged),
            ...rows,
          ],
          tables:
            lines === undefined
              ? []
              : [
                  folded(
                    headlineLinesTable(`beside-${group.id}-isometric-or-dynamic`, "between-arms", [
                      { label: group.label, lines, set },
                    ]),
                  ),
                ],
          figures: effectsFigures({
            id: `${group.id}-isometric-or-dynamic`,
            label: `${group.label}, ${minus}`,
            set,
            result,
            confidence,
          }),
          notes: [...doubtsOf(set.effects), ...result.story.notes],
          untold:
            callOf(result) === "cannot be told"
              ? [{ family: group.family, topics: ["isometric-or-dynamic"] }]
              : [],
        },
        trials,
        true,
      );
    });
    const nothing = refusal(
      "no-pairs",
      "no study of this file tested arms that held and arms that moved alike",
    );
    const joined = together(parts, "", nothing);
    return {
      ...joined,
      sentences: [
        ...joined.sentences,
        ...(parts.length === 0
          ? []
          : [
              "Positive: the isometric group gained more. Ways of testing are never averaged together: each flatters the training that practised it.",
            ]),
        ...(untold.length === 0
          ? []
          : [
              `Not averaged, as the way of testing is not said: ${listed([...new Set(untold.map(({ study }) => study))])}.`,
            ]),
      ],
      data: {
        scale,
        contrast: "between-arms",
        confidence,
        rowsUsed: [
          ...new Set(
            told.flatMap(({ trials }) =>
              trials.comparisons.flatMap(({ lower, higher }) => [lower.line, higher.line]),
            ),
          ),
        ].sort((a, b) => a - b),
        against: [...against],
        groups: told.map(
          ({ group: { label, ...group }, trials: { comparisons }, set, average }) => ({
            ...group,
            outcome: label,
            effects: set?.effects.length ?? 0,
            studies: new Set(set?.effects.map(({ cohort }) => cohort)).size,
            ...toldNumbers(average),
            comparisons,
          }),
        ),
      },
    };
  },
});
