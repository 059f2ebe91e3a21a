/**
 * What stands beside every headline: the average at other assumed correlations, without the study that moves it most,
 * whether small studies show more, and for few studies the same with a stated prior.
 */
import * as z from "zod";
import type { LeftOut } from "../certainty/leave-each-out.js";
import type { SmallStudyRegression } from "../certainty/small-study-regression.js";
import type { CorrelationSource, EffectSet } from "../effects/effect.js";
import { effectSubset } from "../effects/effect-subset.js";
import { effectsFromRows } from "../effects/effects-from-rows.js";
import type { Refusal } from "../errors.js";
import { effectInputs } from "../synthesis/effect-inputs.js";
import type { HeadlineResult, Interval, PooledResult } from "../synthesis/synthesis-results.js";
import { counted, formatNumber, pValueText } from "../tables/number-format.js";
import type { Table } from "../tables/table.js";
import { intervalSchema, refusalSchema } from "./answer.js";
import {
  averagePrior,
  averageWithPrior,
  studiesWithPrior,
  type AverageWithPrior,
} from "./average-with-prior.js";
import { averageOf, type Average, type AverageOptions } from "./average.js";
import { effectsOptionsOf, type EffectChoices } from "./effect-options.js";
import type { PoolGroup } from "./pool-groups.js";
import { rangeOf, shownOf, type Shown } from "./pool-words.js";
import { sizeRegression } from "./size-regression.js";
import { movesMost } from "./without-study.js";

/** The average with every assumed correlation set to one value. */
type AtCorrelation = Readonly<{
  correlation: number;
  estimate: number;
  standardError: number;
  interval: Interval;
  betweenDeviation: number;
  iSquaredPercent: number | null;
}>;

export type HeadlineLines = Readonly<{
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
  /** Of two to six studies on a scale of percentages. */
  withPrior?: AverageWithPrior;
}>;

/** Their form in the data of an answer. */
export const headlineLinesSchema = z.looseObject({
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
    .optional(),
});

const assumedSources: readonly CorrelationSource[] = [
  "borrowed from like studies in the file",
  "documented default",
];
const correlations = [0.5, 0.8, 0.95] as const;
/** A larger share of effects with assumed correlations is looked into. */
const assumedShare = 0.25;
/** The spread between studies hangs on the correlations where τ grows by this, or I² by so many points. */
const hangsFrom = { deviations: 1.5, points: 25 } as const;
/** More studies than this borrow none. */
const neverBorrows = 1e9;

/** The same effects with every assumed correlation set to one value; those that are printed stay. */
const setAt = (set: EffectSet, options: EffectChoices, correlation: number): EffectSet => {
  const rows = new Map(
    set.effects.flatMap(({ row, comparatorRow }) =>
      (comparatorRow === undefined ? [row] : [row, comparatorRow]).map((one) => [one.line, one]),
    ),
  );
  const own = new Set(
    set.effects.map(({ row, comparatorRow }) => `${row.line} ${comparatorRow?.line}`),
  );
  const made = effectsFromRows(
    [...rows.values()].sort((a, b) => a.line - b.line),
    {
      ...effectsOptionsOf(options),
      defaultPrePostCorrelation: correlation,
      defaultPrePostCorrelationOfSymptoms: correlation,
      studiesNeededToBorrow: neverBorrows,
    },
  );
  const kept = effectSubset(made, ({ row, comparatorRow }) =>
    own.has(`${row.line} ${comparatorRow?.line}`),
  );
  return options.outcomeCorrelations === "none" ? { ...kept, blocks: [] } : kept;
};

const correlationsLine = (
  { headline: { set } }: PoolGroup,
  options: EffectChoices & AverageOptions,
): HeadlineLines["correlations"] => {
  if (set === undefined) return undefined;
  const assumed = set.effects.filter(({ correlationSource }) =>
    assumedSources.includes(correlationSource),
  ).length;
  if (assumed <= assumedShare * set.effects.length) return undefined;
  const answers = correlations.flatMap((correlation): readonly AtCorrelation[] => {
    const average = averageOf(
      { ...effectInputs(setAt(set, options, correlation)), ready: false },
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

/**
 * What stands beside the average of a group; undefined where there is none, or where moderators explain it.
 *
 * @param options as the average was asked for
 */
export const headlineLines = (
  group: PoolGroup,
  average: Average,
  options: EffectChoices & AverageOptions,
): HeadlineLines | undefined => {
  if (average.kind === "refusal" || options.moderators.length > 0) return undefined;
  const { headline, kind } = group;
  const { result } = average;
  const { fewest, most } = studiesWithPrior;
  const prior =
    headline.set === undefined || result.studies < fewest || result.studies > most
      ? undefined
      : averagePrior(kind?.family ?? "", headline.set.scale);
  const atOther = correlationsLine(group, options);
  const without = movesMost(headline, result, options);
  return {
    ...(atOther === undefined ? {} : { correlations: atOther }),
    ...(without === undefined ? {} : { movesMost: without }),
    smallStudies: sizeRegression(headline, { confidence: options.confidence }),
    ...(prior === undefined
      ? {}
      : { withPrior: averageWithPrior(headline, prior, options.confidence) }),
  };
};

const anded = (words: readonly string[]): string =>
  words.length < 2 ? words.join("") : `${words.slice(0, -1).join(", ")} and ${words.at(-1)!}`;

/** A number with its range as a line gives it: "23.0% (20.1 to 26.0%)". */
const shownRange = (
  { estimate, interval }: Readonly<{ estimate: number; interval: Interval }>,
  standardError: number,
  set: Shown,
): string =>
  `${shownOf({ estimate, standardError }, set)} (${rangeOf(interval, set, standardError)})`;

const correlationsWords = (
  { assumed, effects, answers, hangs }: NonNullable<HeadlineLines["correlations"]>,
  set: Shown,
): string =>
  `${assumed} of ${counted(effects, "effect")} rest on an assumed pre–post correlation. At ${anded(answers.map(({ correlation }) => String(correlation)))} the average is ${anded(answers.map((one) => shownRange(one, one.standardError, set)))}.${
    hangs.length === 0
      ? ""
      : ` The spread between studies depends on it: ${anded(
          hangs.map((what) =>
            what === "τ"
              ? `τ ${anded(answers.map(({ betweenDeviation }) => formatNumber(betweenDeviation, { digits: 3 })))}`
              : `I² ${anded(answers.map(({ iSquaredPercent }) => `${formatNumber(iSquaredPercent ?? 0, { digits: 0 })}%`))}`,
          ),
        )}.`
  }`;

const movesMostWords = ({ name, answer, changesConclusion }: LeftOut, set: Shown): string =>
  answer === null
    ? `Without ${name} there is no average.`
    : `Moves most without ${name}: ${shownRange(answer, answer.standardError, set)}.${changesConclusion ? " Then its conclusion is another." : ""}`;

const tooFew = "too-few-for-asymmetry";

const smallStudiesWords = (answer: HeadlineLines["smallStudies"], studies: number): string => {
  if ("kind" in answer)
    return answer.code === tooFew
      ? `Not tested: ${counted(studies, "study", "studies")}, fewer than ten.`
      : `Not tested: ${answer.reason}.`;
  const { slope } = answer;
  const seen = slope.interval.low > 0 || slope.interval.high < 0;
  return `${seen ? `Small studies show ${slope.estimate > 0 ? "larger" : "smaller"} effects than large ones` : "Small and large studies cannot be told apart"} (${pValueText(slope.p)}, ${counted(studies, "study", "studies")}).`;
};

const percent = (deviation: number): string =>
  `${formatNumber(100 * Math.expm1(deviation), { digits: 0 })}%`;

/** The second line of an average of few studies, with its prior by name; undefined where there is none. */
export const priorSentence = (
  lines: HeadlineLines | undefined,
  { standardError }: HeadlineResult | PooledResult,
  set: Shown,
): string | undefined => {
  const { withPrior } = lines ?? {};
  const [stated, halved, doubled] = withPrior?.answers ?? [];
  if (withPrior === undefined || stated === undefined) return undefined;
  const { average, study } = withPrior.prior;
  const shown = (one: typeof stated): string => shownRange(one, standardError, set);
  return `With a stated prior (the average around no change ± ${percent(average)}, studies differing by ${percent(study)}): ${shown(stated)}; the prior halved ${shown(halved!)}, doubled ${shown(doubled!)}.`;
};

/** The lines of several headlines, one table. */
export const headlineLinesTable = (
  id: string,
  all: readonly Readonly<{ label: string; lines: HeadlineLines; set: Shown; studies: number }>[],
): Table => ({
  id,
  title: "Beside each average: assumed correlations, single studies, small studies",
  columns: [
    { key: "group", label: "Group", align: "left" },
    { key: "what", label: "What if", align: "left" },
    { key: "told", label: "The average", align: "left" },
  ],
  rows: all.flatMap(({ label, lines, set, studies }) => {
    const rows = [
      ...(lines.correlations === undefined
        ? []
        : [{ what: "other correlations", told: correlationsWords(lines.correlations, set) }]),
      ...(lines.movesMost === undefined
        ? []
        : [{ what: "one study fewer", told: movesMostWords(lines.movesMost, set) }]),
      { what: "small studies", told: smallStudiesWords(lines.smallStudies, studies) },
    ];
    return rows.map((row, place) => ({ group: place === 0 ? label : "", ...row }));
  }),
  notes: [
    ...(all.some(({ lines: { smallStudies: told } }) => "kind" in told && told.code === tooFew)
      ? [
          "Under ten studies nothing tells whether small studies show larger effects; an average may be too high if small trials without an effect stayed unprinted.",
        ]
      : []),
    ...(all.some(({ lines }) => lines.withPrior !== undefined)
      ? [
          "A stated prior is a starting assumption, made before any data: the average normal around no change with the deviation given, the spread between studies half-normal with the scale given, of arms and readings half of that. If halving or doubling it changes the answer, the data are too few to overrule it.",
        ]
      : []),
  ],
});
