/**
 * What stands beside every headline: the average without borrowed spreads and at other ones, at other assumed
 * correlations, without the study that moves it most, whether small studies show more, and for few studies the same
 * with a stated prior.
 */
import * as z from "zod";
import type { LeftOut } from "../certainty/leave-each-out.js";
import type { SmallStudyRegression } from "../certainty/small-study-regression.js";
import type { EffectSet } from "../effects/effect.js";
import { effectSubset } from "../effects/effect-subset.js";
import type { Refusal } from "../errors.js";
import { effectInputs } from "../synthesis/effect-inputs.js";
import type { Interval } from "../synthesis/synthesis-results.js";
import { intervalSchema, refusalSchema } from "./answer.js";
import {
  averagePrior,
  averageWithPrior,
  studiesWithPrior,
  type AverageWithPrior,
} from "./average-with-prior.js";
import { averageOf, type Average, type AverageOptions } from "./average.js";
import { effectsOptionsOf, type EffectChoices } from "./effect-options.js";
import { effectsOf, type Evidence, type EvidenceEffectsOptions } from "./evidence.js";
import { borrowedCounts } from "./outcome-groups.js";
import type { PoolGroup } from "./pool-groups.js";
import { sizeRegression } from "./size-regression.js";
import { assumedSources, whereAssumed } from "./swept-choices.js";
import { movesMost } from "./without-study.js";
import { unsettled } from "./unsettled.js";

/** An average and its interval. */
type Answer = Readonly<{ estimate: number; standardError: number; interval: Interval }>;

/** The average with every assumed correlation set to one value. */
type AtCorrelation = Answer &
  Readonly<{ correlation: number; betweenDeviation: number; iSquaredPercent: number | null }>;

export type HeadlineLines = Readonly<{
  /** Absent where every spread is the rows' own. */
  borrowed?: Readonly<{
    /** How many of the effects have a borrowed spread; and in words, of how many. */
    borrowed: number;
    counts: string;
    without: (Answer & Readonly<{ kind: "told"; effects: number; studies: number }>) | Refusal;
    /** With the 10th and the 90th percentile of the coefficient of variation lent instead of the average. */
    percentiles: readonly (Answer & Readonly<{ percentile: 10 | 90 }>)[];
  }>;
  /** Absent where a quarter or fewer of the effects rest on assumed correlations. */
  correlations?: Readonly<{
    assumed: number;
    effects: number;
    answers: readonly AtCorrelation[];
    /** What of the spread between studies turns with them: "τ", "I²". */
    hangs: readonly string[];
  }>;
  /** Absent with two studies, as one alone is no average. */
  movesMost?: LeftOut;
  smallStudies: SmallStudyRegression | Refusal;
  /** Of two to six studies on a scale of percentages; null where its integral does not settle. */
  withPrior?: AverageWithPrior | null;
}>;

/** Their form in the data of an answer. */
export const headlineLinesSchema = z.looseObject({
  borrowed: z
    .looseObject({
      borrowed: z.number(),
      counts: z.string(),
      without: z.union([
        refusalSchema,
        z.looseObject({ estimate: z.number(), interval: intervalSchema }),
      ]),
      percentiles: z.array(
        z.looseObject({
          percentile: z.number(),
          estimate: z.number(),
          interval: intervalSchema,
        }),
      ),
    })
    .optional(),
  correlations: z
    .looseObject({
      assumed: z.number(),
      effects: z.number(),
      answers: z.array(
        z.looseObject({
          correlation: z.number(),
          estimate: z.number(),
          interval: intervalSchema,
          betweenDeviation: z.number(),
          iSquaredPercent: z.number().nullable(),
        }),
      ),
      hangs: z.array(z.string()),
    })
    .optional(),
  movesMost: z.looseObject({ name: z.string(), changesConclusion: z.boolean() }).optional(),
  smallStudies: z.union([refusalSchema, z.looseObject({ predictor: z.string() })]),
  withPrior: z
    .looseObject({
      prior: z.looseObject({ average: z.number(), study: z.number() }),
      answers: z.array(
        z.looseObject({ times: z.number(), estimate: z.number(), interval: intervalSchema }),
      ),
    })
    .nullable()
    .optional(),
});

const correlations = [0.5, 0.8, 0.95] as const;
/** A larger share of effects with assumed correlations is looked into. */
const assumedShare = 0.25;
/** The spread between studies hangs on the correlations where τ grows by this, or I² by so many points. */
const hangsFrom = { deviations: 1.5, points: 25 } as const;

/** The same effects of a file, made with other assumptions. */
const setWith = (
  set: EffectSet,
  evidence: Evidence,
  options: EvidenceEffectsOptions,
): EffectSet => {
  const own = new Set(
    set.effects.map(({ row, comparatorRow }) => `${row.line} ${comparatorRow?.line}`),
  );
  return effectSubset(effectsOf(evidence, options), ({ row, comparatorRow }) =>
    own.has(`${row.line} ${comparatorRow?.line}`),
  );
};

const averageOfSet = (set: EffectSet, options: AverageOptions): Average =>
  averageOf({ ...effectInputs(set), ready: false }, options);

const borrowedLine = (
  { headline: { set } }: PoolGroup,
  options: EffectChoices & AverageOptions,
  evidence: Evidence,
): HeadlineLines["borrowed"] => {
  const counts = borrowedCounts(set?.effects ?? []);
  if (set === undefined || counts === undefined) return undefined;
  const own = effectSubset(set, ({ borrowed }) => borrowed === undefined);
  const without = averageOfSet(own, options);
  const answerOf = ({ estimate, standardError, interval }: Answer): Answer => ({
    estimate,
    standardError,
    interval,
  });
  return {
    borrowed: set.effects.length - own.effects.length,
    counts,
    without:
      without.kind === "refusal"
        ? without
        : {
            kind: "told",
            ...answerOf(without.result),
            effects: without.result.effects,
            studies: without.result.studies,
          },
    percentiles:
      options.borrowedSpread !== "average"
        ? []
        : ([10, 90] as const).flatMap((percentile) => {
            const average = averageOfSet(
              setWith(set, evidence, {
                ...effectsOptionsOf(options),
                borrowedSpread: `${percentile}th percentile`,
              }),
              options,
            );
            return average.kind === "refusal" ? [] : [{ percentile, ...answerOf(average.result) }];
          }),
  };
};

const correlationsLine = (
  { headline: { set } }: PoolGroup,
  options: EffectChoices & AverageOptions,
  evidence: Evidence,
): HeadlineLines["correlations"] => {
  if (set === undefined) return undefined;
  const assumed = set.effects.filter(({ correlationSource }) =>
    assumedSources.includes(correlationSource),
  ).length;
  if (assumed <= assumedShare * set.effects.length) return undefined;
  const answers = correlations.flatMap((correlation): readonly AtCorrelation[] => {
    const average = averageOfSet(
      setWith(set, evidence, effectsOptionsOf({ ...options, ...whereAssumed(correlation) })),
      options,
    );
    if (average.kind === "refusal") return [];
    const { estimate, standardError, interval, heterogeneity } = average.result;
    return [
      {
        correlation,
        estimate,
        standardError,
        interval,
        betweenDeviation: Math.sqrt(heterogeneity.betweenVariance ?? 0),
        iSquaredPercent: heterogeneity.iSquaredPercent ?? null,
      },
    ];
  });
  if (answers.length === 0) return undefined;
  const taus = answers.map(({ betweenDeviation }) => betweenDeviation);
  const shares = answers.flatMap(({ iSquaredPercent }) => iSquaredPercent ?? []);
  return {
    assumed,
    effects: set.effects.length,
    answers,
    hangs: [
      ...(Math.max(...taus) > hangsFrom.deviations * Math.min(...taus) ? ["τ"] : []),
      ...(Math.max(...shares) - Math.min(...shares) > hangsFrom.points ? ["I²"] : []),
    ],
  };
};

/** A line that stands beside an answer must not cost the answer. */
const settled = (line: () => AverageWithPrior): AverageWithPrior | null => {
  try {
    return line();
  } catch (error) {
    unsettled(error);
    return null;
  }
};

/**
 * What stands beside the average of a group; undefined where there is none, or where moderators explain it.
 *
 * @param options as the average was asked for
 */
export const headlineLines = (
  group: PoolGroup,
  average: Average,
  options: EffectChoices & AverageOptions,
  evidence: Evidence,
): HeadlineLines | undefined => {
  if (average.kind === "refusal" || options.moderators.length > 0) return undefined;
  const { headline, kind } = group;
  const { result } = average;
  const { fewest, most } = studiesWithPrior;
  const prior =
    headline.set === undefined || result.studies < fewest || result.studies > most
      ? undefined
      : averagePrior(kind?.family ?? "", headline.set.scale);
  const borrowed = borrowedLine(group, options, evidence);
  const atOther = correlationsLine(group, options, evidence);
  const without = movesMost(headline, result, options);
  return {
    ...(borrowed === undefined ? {} : { borrowed }),
    ...(atOther === undefined ? {} : { correlations: atOther }),
    ...(without === undefined ? {} : { movesMost: without }),
    smallStudies: sizeRegression(headline, { confidence: options.confidence }),
    ...(prior === undefined
      ? {}
      : { withPrior: settled(() => averageWithPrior(headline, prior, options.confidence)) }),
  };
};
