/** What can be chosen otherwise for an answer about a file, and the effects that each choice leaves. */
import type { CorrelationSource, Effect, EffectSet } from "../effects/effect.js";
import { effectSubset } from "../effects/effect-subset.js";
import { overallJudgement } from "../certainty/risk-of-bias.js";
import type { SweptChoice, Way } from "../certainty/sweep.js";
import type { AverageOptions } from "./average.js";
import { effectsOptionsOf, type EffectChoices } from "./effect-options.js";
import { effectsOf, type Evidence } from "./evidence.js";
import { headlineGroups, type HeadlineGroup } from "./headline-selection.js";
import { doubtsByLine } from "./row-doubts.js";

/** Said wherever ways are counted. */
export const notChances =
  "Counts of ways are not chances: the ways are not equally good, and all of them stand on the same studies.";

/** What turns with a level of a choice; nothing for the one that is shown. */
type Level = Readonly<{
  level: string;
  assumed?: Partial<EffectChoices>;
  estimator?: Partial<AverageOptions>;
  /** All angles and weeks in place of the headline. */
  wide?: true;
  keep?: (effect: Effect) => boolean;
}>;
export type ChoiceOfLevels = Readonly<{ name: string; levels: readonly Level[] }>;

/** More studies than this borrow none, so that the correlation given stands wherever one is assumed. */
const neverBorrows = 1e9;
/** Correlations that no source states or implies. */
export const assumedSources: readonly CorrelationSource[] = [
  "borrowed from like studies in the file",
  "documented default",
];

/** One correlation before to after wherever none is stated or implied. */
export const whereAssumed = (correlation: number) => ({
  defaultCorrelation: correlation,
  defaultCorrelationOfSymptoms: correlation,
  studiesNeededToBorrow: neverBorrows,
});

const prePost = (level: number): Level => ({
  level: `${level} where assumed`,
  assumed: whereAssumed(level),
});

const withinStudies = (level: number): Level => ({
  level: `${level} for all`,
  assumed: {
    outcomesCorrelation: level,
    anglesCorrelation: level,
    sitesCorrelation: level,
    timesCorrelation: level,
    limbsCorrelation: level,
    periodsCorrelation: level,
  },
});

const rowsOf = ({ row, comparatorRow }: Effect) =>
  comparatorRow === undefined ? [row] : [row, comparatorRow];

const doubtedIn =
  ({ records }: Evidence) =>
  (effect: Effect): boolean =>
    rowsOf(effect).some(({ line }) => doubtsByLine(records).has(line));

/** Ways of estimating an average: those of effects of which several share a study, and of those that stand alone. */
export const estimators = (alone: boolean): readonly Level[] => [
  { level: "restricted maximum likelihood, robust errors" },
  {
    level: "maximum likelihood, robust errors",
    estimator: { heterogeneity: "maximum-likelihood" },
  },
  alone
    ? {
        level: "Paule and Mandel's, effects independent",
        estimator: { levels: [], heterogeneity: "paule-mandel", interval: "hartung-knapp" },
      }
    : {
        level: "restricted maximum likelihood, the model's own errors",
        estimator: { interval: "student-t" },
      },
];

/**
 * The choices behind the answer about one kind of outcome, of which the file leaves more than one level.
 *
 * @param averaged whether the answer is an average, whose estimator can be chosen
 */
export const sweptChoices = (
  evidence: Evidence,
  { headline, all }: HeadlineGroup,
  options: EffectChoices & Partial<AverageOptions>,
  averaged: boolean,
): readonly ChoiceOfLevels[] => {
  const { effects } = all;
  const some = (is: (effect: Effect) => boolean): boolean => effects.some(is);
  const borrows = ({ borrowed }: Effect): boolean => borrowed !== undefined;
  const isDoubted = doubtedIn(evidence);
  const riskOf = (effect: Effect) => overallJudgement(rowsOf(effect));
  const risks = new Set(headline.effects.map(riskOf));
  const asked = [options.heterogeneity, options.interval, options.robust, options.levels];
  const choices: readonly (ChoiceOfLevels & Readonly<{ when: boolean }>)[] = [
    {
      name: "correlation before to after",
      when:
        options.correlation === undefined &&
        some(({ correlationSource }) => assumedSources.includes(correlationSource)),
      levels: [{ level: "as read, lent or usual" }, ...[0.5, 0.8, 0.95].map(prePost)],
    },
    {
      name: "correlation within studies",
      when:
        options.outcomeCorrelations !== "none" && all.blocks.some((one) => one.indices.length > 1),
      levels: [{ level: "usual, by what is shared" }, ...[0.2, 0.9].map(withinStudies)],
    },
    {
      name: "what belongs in it",
      when: effects.length > headline.effects.length,
      levels: [
        { level: "trained angle, end of training" },
        { level: "all angles and weeks", wide: true },
      ],
    },
    {
      name: "borrowed spreads",
      when: some(borrows) && !effects.every(borrows),
      levels: [{ level: "in" }, { level: "out", keep: (effect) => !borrows(effect) }],
    },
    {
      name: "rows in doubt",
      when: some(isDoubted) && !effects.every(isDoubted),
      levels: [{ level: "in" }, { level: "out", keep: (effect) => !isDoubted(effect) }],
    },
    {
      name: "risk of bias",
      when: risks.size > 1 && risks.has("high"),
      levels: [
        { level: "all studies" },
        { level: "without high risk", keep: (effect) => riskOf(effect) !== "high" },
        ...(risks.has("low")
          ? [
              {
                level: "low in every domain",
                keep: (effect: Effect) => riskOf(effect) === "low",
              },
            ]
          : []),
      ],
    },
    {
      name: "estimator",
      when: averaged && asked.every((one) => one === undefined),
      levels: estimators(new Set(effects.map(({ cohort }) => cohort)).size === effects.length),
    },
  ];
  return choices.flatMap(({ when, name, levels }) => (when ? [{ name, levels }] : []));
};

/** The same by name alone, as a sweep takes them. */
export const namesOf = (choices: readonly ChoiceOfLevels[]): readonly SweptChoice[] =>
  choices.map(({ name, levels }) => ({ name, levels: levels.map(({ level }) => level) }));

/** What a way of choosing makes of the options, and of the effects of a kind of outcome. */
export const chosenWay = <Asked extends EffectChoices>(
  choices: readonly ChoiceOfLevels[],
  way: Way,
  options: Asked,
): Readonly<{
  options: Asked;
  /** Of a level that leaves effects out, those that are left. */
  keep?: (effect: Effect) => boolean;
  wide: boolean;
  setOf: (group: Pick<HeadlineGroup, "headline" | "all">) => EffectSet;
}> => {
  const levels = choices.map((choice, place) => choice.levels[way[place]!]!);
  const keeps = levels.flatMap(({ keep }) => keep ?? []);
  const keep = (effect: Effect): boolean => keeps.every((own) => own(effect));
  const wide = levels.some((level) => level.wide === true);
  return {
    options: Object.assign(
      {},
      options,
      ...levels.flatMap(({ assumed, estimator }) => [assumed ?? {}, estimator ?? {}]),
    ) as Asked,
    ...(keeps.length === 0 ? {} : { keep }),
    wide,
    setOf: ({ headline, all }) => {
      const set = wide ? all : headline;
      return keeps.length === 0 ? set : effectSubset(set, keep);
    },
  };
};

/** Finds a kind of outcome among the effects of a file under other assumptions; sets made once are kept. */
export const groupUnder = (evidence: Evidence, id: string) => {
  const known = new Map<string, HeadlineGroup | undefined>();
  return (options: EffectChoices): HeadlineGroup | undefined => {
    const effects = effectsOptionsOf(options);
    const key = JSON.stringify(effects);
    if (!known.has(key))
      known.set(
        key,
        headlineGroups(effectsOf(evidence, effects)).find((group) => group.id === id),
      );
    return known.get(key);
  };
};
