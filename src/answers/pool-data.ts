/** An average as plain data, under the names that scripts lean on. */
import * as z from "zod";
import type {
  Coefficient,
  HeadlineResult,
  Inference,
  PooledResult,
} from "../synthesis/synthesis-results.js";
import { toldOrRefused } from "../errors.js";
import { intervalSchema, refusalSchema } from "./answer.js";
import { isMultilevel } from "./average.js";
import { headlineLinesSchema } from "./headline-lines.js";
import type { PoolGroup } from "./pool-groups.js";
import type { PreparedGroup } from "./pool-words.js";
import type { RulingDoubt } from "./ruling-doubt.js";

/** What an average gives; nothing but counts and the refusal where there is none. */
export const groupShape = {
  kind: z.enum(["told", "refusal"]),
  group: z.string(),
  id: z.string(),
  effects: z.number(),
  studies: z.number(),
  estimate: z.number().optional(),
  standardError: z.number().optional(),
  interval: intervalSchema.optional(),
  predictionInterval: intervalSchema.nullable().optional(),
  degreesOfFreedom: z.number().nullable().optional(),
  p: z.number().optional(),
  betweenVariance: z.number().optional(),
  q: z.number().optional(),
  iSquaredPercent: z.number().optional(),
  coefficients: z
    .array(
      z.looseObject({
        term: z.string(),
        estimate: z.number(),
        standardError: z.number(),
        interval: intervalSchema,
      }),
    )
    .optional(),
  varianceByLevel: z.looseObject({}).optional(),
  robust: z
    .array(z.looseObject({ term: z.string() }))
    .nullable()
    .optional(),
  modelBased: z.looseObject({}).optional(),
  wider: z.array(z.looseObject({ selection: z.string() })).optional(),
  inDoubt: z
    .looseObject({
      line: z.number(),
      study: z.string(),
      doubt: z.string(),
      weightPercent: z.number(),
      without: z.looseObject({}),
    })
    .nullable()
    .optional(),
  beside: headlineLinesSchema.nullable().optional(),
  warnings: z.array(z.string()).optional(),
  refusal: refusalSchema.nullable().optional(),
};

/** The names that scripts lean on. */
export const groupData = ({ group, headline, wider, permuted, inDoubt, lines }: PreparedGroup) => {
  const average = headline();
  const all = wider();
  if (average.kind === "refusal")
    return {
      ...{ group: group.label, id: group.id, ...countsOf(group) },
      ...toldOrRefused<never>(average),
    };
  const { result } = average;
  return {
    group: group.label,
    id: group.id,
    ...(group.kind === undefined
      ? {}
      : {
          family: group.kind.family,
          scale: group.headline.set?.scale ?? null,
          unit: group.headline.set?.unit ?? null,
          testMode: group.kind.testMode,
          armsWithoutNearTest: group.kind.armsWithoutNearTest,
        }),
    ...resultData(result),
    askedFor: average.askedFor,
    beside: lines() ?? null,
    inDoubt: doubtData(inDoubt()),
    wider:
      all === undefined
        ? []
        : [
            {
              selection: "all angles and weeks",
              ...(all.kind === "refusal" ? toldOrRefused<never>(all) : resultData(all.result)),
            },
          ],
    ...(permuted().length === 0 ? {} : { permutationTests: permuted() }),
  };
};

/** The row that rules an average although its spread is in doubt, with the average without it; null where none does. */
const doubtData = (doubt: RulingDoubt | undefined) => {
  if (doubt === undefined) return null;
  const { without, ...row } = doubt;
  return {
    ...row,
    without:
      without.kind === "refusal" ? toldOrRefused<never>(without) : resultData(without.result),
  };
};

const countsOf = ({ headline: { effects } }: PoolGroup) => ({
  effects: effects.length,
  studies: new Set(effects.map(({ study }) => study)).size,
});

/** Of an average, the average itself, so that a script finds one list in both cases. */
const coefficientsOf = (
  { coefficients, standardError, interval, degreesOfFreedom, p }: Inference,
  estimate: number,
): readonly Coefficient[] =>
  coefficients.length > 0
    ? coefficients
    : [{ term: "intercept", estimate, standardError, interval, degreesOfFreedom, p }];

/** `betweenVariance` is the sum of the variance parts when there are several levels. */
const resultData = (result: HeadlineResult | PooledResult) => ({
  kind: "told" as const,
  estimate: result.estimate,
  standardError: result.standardError,
  interval: result.interval,
  predictionInterval: result.predictionInterval,
  betweenVariance: result.heterogeneity.betweenVariance,
  q: result.heterogeneity.q,
  iSquaredPercent: result.heterogeneity.iSquaredPercent,
  effects: result.effects,
  studies: result.studies,
  degreesOfFreedom: result.degreesOfFreedom,
  warnings: result.story.notes.map(({ message }) => message),
  p: result.p,
  heterogeneity: result.heterogeneity,
  coefficients: coefficientsOf(result, result.estimate),
  ...(isMultilevel(result)
    ? {
        varianceByLevel: result.varianceByLevel,
        varianceIntervals: result.varianceIntervals,
        iSquaredPercentByLevel: result.iSquaredPercentByLevel,
        robust: result.robust?.coefficients ?? null,
        robustInference: robustInference(result),
        logLikelihood: result.logLikelihood,
        modelBased: {
          estimate: result.estimate,
          ...result.modelBased,
          coefficients: coefficientsOf(result.modelBased, result.estimate),
        },
      }
    : { hartungKnapp: result.hartungKnapp }),
  omnibus: result.omnibus,
  termTests: result.termTests,
  explainedPercent: result.explainedPercent,
  story: result.story,
});

/** How the list under `robust` was made, and what else it gives. */
const robustInference = ({ robust }: HeadlineResult) => {
  if (robust === null) return null;
  const { coefficients: _listed, ...inference } = robust;
  return inference;
};
