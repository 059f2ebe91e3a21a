/** The mean of every level of a column, whether the means differ, and where there are too few studies to claim it. */
import { CallError, refusal, toldOrRefused, type Note, type Refusal } from "../errors.js";
import {
  fewestStudiesToClaim,
  levelMeans,
  type LevelMean,
  type LevelMeans,
} from "../synthesis/level-means.js";
import type { OmnibusTest } from "../synthesis/synthesis-results.js";
import { levelMeansTable } from "../tables/level-means-table.js";
import {
  capital,
  counted,
  formatCount,
  formatNumber,
  pValueText,
} from "../tables/number-format.js";
import type { Table } from "../tables/table.js";
import { workingModel, type AverageOptions } from "./average.js";
import type { PoolGroup, PoolGroups } from "./pool-groups.js";
import { ownScale, withInterval } from "./pool-words.js";
import { unsettled } from "./unsettled.js";

/** The means of one group by one column. */
export type LevelAnswer = Readonly<{
  group: PoolGroup;
  column: string;
  means: LevelMeans | Refusal;
}>;

/** Columns whose values are categories in a group: the one that divides it, and moderators with words for values. */
const columnsOf = (
  { headline: { effects } }: PoolGroup,
  column: string | undefined,
  { moderators }: AverageOptions,
): readonly string[] => [
  ...(column === undefined ? [] : [column]),
  ...moderators.filter(
    (term): term is string =>
      typeof term === "string" &&
      term !== column &&
      effects.some((effect) => typeof effect.moderators?.[term] === "string"),
  ),
];

const meansOf = (
  { headline }: PoolGroup,
  column: string,
  options: AverageOptions,
): LevelAnswer["means"] => {
  const values = new Set(headline.effects.flatMap(({ moderators }) => moderators?.[column] ?? []));
  if (values.size === 0) return refusal("no-values", "none of its effects has a value there");
  if (values.size === 1)
    return refusal("one-level", "all its effects with a value there have the same");
  try {
    return levelMeans(headline.effects, column, workingModel(headline, options));
  } catch (error) {
    // Such as as many levels as effects.
    if (error instanceof CallError)
      return refusal(error.code, "there are too few effects for so many levels");
    return unsettled(error);
  }
};

/** Every group by every column that divides or explains it. */
export const levelAnswers = (
  { whole, column }: Pick<PoolGroups, "whole" | "column">,
  options: AverageOptions,
): readonly LevelAnswer[] =>
  whole.flatMap((group) =>
    columnsOf(group, column, options).map((name) => ({
      group,
      column: name,
      means: meansOf(group, name, options),
    })),
  );

const plainColumn = (column: string): string => column.replaceAll("_", " ");

const levelWords = (
  { level, mean, studies }: LevelMean,
  set: PoolGroup["headline"]["set"],
  { confidence }: LevelMeans["story"],
): string => {
  const behind = counted(studies, "study", "studies");
  return `${level} ${mean === null ? `no mean (${behind})` : withInterval(mean, set, confidence, behind)}`;
};

const testWords = ({
  kind,
  statistic,
  numeratorDegreesOfFreedom,
  denominatorDegreesOfFreedom,
  p,
}: OmnibusTest): string => {
  const freedom = formatCount(numeratorDegreesOfFreedom);
  const symbol =
    kind === "F"
      ? `F(${freedom}, ${formatNumber(denominatorDegreesOfFreedom, { digits: 1 })})`
      : `χ²(${freedom})`;
  return `${symbol} = ${formatNumber(statistic)}, ${pValueText(p)}`;
};

/** The means in words, the test that they are equal, and what keeps a difference from being claimed. */
export const levelSentence = (answer: LevelAnswer): string => {
  const { group, column, means } = answer;
  const about = `${capital(group.label)} by ${plainColumn(column)}`;
  if ("kind" in means) return `${about}: no means, as ${means.reason}.`;
  const { difference, levels } = means;
  const test =
    difference === null
      ? "these studies cannot test whether the means differ"
      : `test that the means are equal, ${testWords(difference)}`;
  const few = levels.filter(({ tooFewToClaim }) => tooFewToClaim);
  return [
    `${about}: ${levels.map((one) => levelWords(one, group.headline.set, means.story)).join("; ")}; ${test}.`,
    ...(few.length === 0
      ? []
      : [
          `Too few studies to claim a difference: ${few.map(({ level, studies }) => `${level} (${studies})`).join(", ")}; at least ${fewestStudiesToClaim} studies are needed in each.`,
        ]),
  ].join(" ");
};

/** Doubts about the means, but for those that the sentence says. */
export const levelNotes = ({ means }: LevelAnswer): readonly Note[] =>
  "kind" in means
    ? []
    : means.story.notes.filter(
        ({ code }) => code !== "too-few-studies-to-claim" && code !== "difference-not-tested",
      );

/** The means as a table; nothing where there are none. */
export const levelTables = ({ group, column, means }: LevelAnswer): readonly Table[] =>
  "kind" in means
    ? []
    : [
        levelMeansTable(means, {
          id: [`means-${column.replaceAll("_", "-")}`, group.id, group.headline.set?.contrast]
            .filter((part) => part !== undefined)
            .join("-"),
          scale: group.headline.set?.scale ?? ownScale,
          title: `${capital(group.label)}: means by ${plainColumn(column)}`,
        }),
      ];

/** The same as plain data. */
export const levelData = ({ group, column, means }: LevelAnswer) => ({
  group: group.label,
  id: group.id,
  moderator: column,
  ...toldOrRefused(means),
});
