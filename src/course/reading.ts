/** What to read, with one line why: what the rows of a study bring to the file. */
import {
  comparedVariables,
  differ,
  notCoded,
  variableLabel,
} from "../answers/compared-variables.js";
import { isTraining } from "../effects/match-comparator.js";
import { familiesOf } from "../records/outcome-families.js";
import type { OutcomeRow } from "../records/outcome-row.js";
import { grouped } from "../records/grouped.js";
import { readingList } from "../report/references.js";
import { referencesText } from "../report/reference-formats.js";
import { counted } from "../tables/number-format.js";

type ReadingLine = Readonly<{ study: string; why: string; compared: number; rows: number }>;

/** What arms of one study differ in, as far as it is coded for both. */
const comparedIn = (rows: readonly OutcomeRow[]): readonly string[] => {
  const arms = [...grouped(rows.filter(isTraining), ({ arm }) => arm).values()].map(
    ([row]) => row!,
  );
  return comparedVariables
    .filter((name) => name !== notCoded)
    .filter((name) => arms.some((a, at) => arms.slice(at + 1).some((b) => differ(a, b, name))))
    .map(variableLabel);
};

/** Every study with what it brings, those that compare most first. */
export const readingLines = (rows: readonly OutcomeRow[]): readonly ReadingLine[] =>
  [...grouped(rows, ({ study }) => study)]
    .map(([study, own]) => {
      const compared = comparedIn(own);
      const weeks = Math.max(...own.map((row) => row.weeks ?? 0));
      const arms = new Set(own.map(({ arm }) => arm)).size;
      return {
        study,
        rows: own.length,
        compared: compared.length,
        why: `${[
          compared.length === 0
            ? `${counted(arms, "arm")}, none against another dose`
            : `compares ${compared.join(", ")} in ${counted(arms, "arm")}`,
          `${counted(own.length, "row")} of ${familiesOf(own).join(", ")}`,
          ...(weeks > 0 ? [`${weeks} weeks`] : []),
        ].join("; ")}.`,
      };
    })
    .sort((a, b) => b.compared - a.compared || b.rows - a.rows);

/** The reading list as Markdown: each work in full with one line why. */
export const readingText = (name: string, rows: readonly OutcomeRow[]): string => {
  const { references, studies, notes } = readingList(rows);
  const lines = new Map(readingLines(rows).map((line) => [line.study, line]));
  const works = references
    .map((work, at) => ({ work, own: studies[at]!.flatMap((study) => lines.get(study) ?? []) }))
    .sort((a, b) => (b.own[0]?.compared ?? 0) - (a.own[0]?.compared ?? 0));
  return [
    `# Reading: ${name}`,
    ...works.map(
      ({ work, own }) =>
        `- ${referencesText([work], "text").trim()}\n  Why: ${own.map(({ study, why }) => `${study} ${why}`).join(" ")}`,
    ),
    ...(notes.length === 0
      ? []
      : [`## Wanting\n\n${notes.map(({ message }) => `- ${message}`).join("\n")}`]),
    "",
  ].join("\n\n");
};
