/** What a file is said to show, one by one: every average and every verdict, so that two files can be set side by side. */
import type { VariableRow } from "../dose/variable-table.js";
import type { Contrast, EffectScale } from "../effects/effect.js";
import { contrastShortLabel } from "../effects/scale-label.js";
import type { Interval } from "../synthesis/synthesis-results.js";
import { doseShown, kebabName } from "../tables/dose-table.js";
import { capital, counted } from "../tables/number-format.js";
import { verdictShort } from "../tables/variables-table.js";
import type { EffectChoices } from "./effect-options.js";
import type { Evidence } from "./evidence.js";
import { pool } from "./pool.js";
import { rangeOf, shownOf, type Shown } from "./pool-words.js";
import { askedOf } from "./prepared.js";
import type { Tell } from "./question.js";
import { pooledContrasts } from "./row-fates.js";
import { variables } from "./variables.js";

/** One thing that a file is said to show. */
export type Conclusion = Readonly<{
  kind: "average" | "verdict";
  /** The same in every file. */
  id: string;
  /** What it is about, as a sentence begins. */
  about: string;
  /** As it is printed, interval included. */
  words: string;
  /** What a person concludes, whatever the digits: the side of no change, or the verdict. */
  stands: string;
  /** On the effects' scale; null where there is none. */
  number: Readonly<{ estimate: number; standardError: number; interval: Interval }> | null;
  scale: EffectScale | null;
  unit: string | null;
  studies: number;
  /** The figure that shows it, and a mark that differs where the drawing would. */
  figure: string;
  drawn: string;
}>;

/** What was printed of an average, in an answer or in a report's results. */
type Printed = Readonly<{
  id: string;
  group: string;
  studies: number;
  estimate?: number | undefined;
  standardError?: number | undefined;
  interval?: Interval | undefined;
  scale?: EffectScale | null | undefined;
  unit?: string | null | undefined;
}>;

const sideOf = ({ low, high }: Interval): string =>
  low > 0 ? "better" : high < 0 ? "worse" : "no change is not left out";

/** An average as one conclusion. */
export const averageConclusion = (
  contrast: Contrast,
  { id, group, studies, estimate, standardError, interval, scale, unit }: Printed,
  drawn = "",
): Conclusion => {
  const set: Shown =
    scale === null || scale === undefined
      ? undefined
      : { scale, ...(unit === null || unit === undefined ? {} : { unit }) };
  const number =
    estimate === undefined || standardError === undefined || interval === undefined
      ? null
      : { estimate, standardError, interval };
  return {
    kind: "average",
    id: `${contrast} ${id}`,
    about: `${capital(group)}, ${contrastShortLabel(contrast)}`,
    words:
      number === null
        ? "no average"
        : `${shownOf(number, set)} (${rangeOf(number.interval, set, number.standardError)}; ${counted(studies, "study", "studies")})`,
    stands: number === null ? "no average" : sideOf(number.interval),
    number,
    scale: set?.scale ?? null,
    unit: unit ?? null,
    studies,
    figure: `estimates-${id}-${contrast}`,
    drawn,
  };
};

/** The verdict on a variable as one conclusion. */
export const verdictConclusion = (
  { scale, contrast }: Readonly<{ scale: EffectScale; contrast: Contrast }>,
  row: VariableRow,
): Conclusion => {
  const { family, axis, within, studiesWithin } = row;
  const short = verdictShort(row);
  return {
    kind: "verdict",
    id: `${contrast} ${family} ${axis.name}`,
    about: `${capital(family)}, ${axis.label}`,
    words:
      within === undefined
        ? short
        : `${short}: ${doseShown(within, scale)}, ${counted(studiesWithin, "study", "studies")} inside`,
    stands: short === "not studied" ? "cannot be told" : short,
    number: within ?? null,
    scale,
    unit: null,
    studies: studiesWithin,
    figure: `variables-${kebabName(family)}`,
    drawn: JSON.stringify([within, row.between, row.verdict.verdict, row.compared]),
  };
};

/**
 * Every conclusion of a file. A further kind, such as a rating or a statement, is one more list here.
 *
 * @param wanted ids looked at; all without
 */
export const conclusionsOf = (
  evidence: Evidence,
  options: EffectChoices & Readonly<{ confidence: number }>,
  tell: Tell,
  wanted?: ReadonlySet<string>,
): readonly Conclusion[] => {
  const isWanted = (id: string): boolean => wanted === undefined || wanted.has(id);
  const averages = (
    evidence.kind === "codebook" ? pooledContrasts : pooledContrasts.slice(0, 1)
  ).flatMap((contrast) =>
    askedOf(pool, evidence, { ...options, contrast }, tell).prepared.groups.flatMap((one) => {
      const { id, label, headline } = one.group;
      if (!isWanted(`${contrast} ${id}`)) return [];
      const average = one.headline();
      const drawn = JSON.stringify(
        headline.effects.map(({ effectId, estimate, variance }) => [effectId, estimate, variance]),
      );
      return [
        averageConclusion(
          contrast,
          {
            id,
            group: label,
            studies: new Set(headline.effects.map(({ study }) => study)).size,
            scale: headline.set?.scale,
            unit: headline.set?.unit,
            ...(average.kind === "average" ? average.result : {}),
          },
          drawn,
        ),
      ];
    }),
  );
  if (evidence.kind !== "codebook" || ![...(wanted ?? [""])].some(isVerdict)) return averages;
  const { data } = askedOf(variables, evidence, options, tell).answer();
  return [
    ...averages,
    ...data.rows.map((row) => verdictConclusion(data, row)).filter(({ id }) => isWanted(id)),
  ];
};

/** Verdicts are named by kind of outcome and variable, averages by contrast and kind of outcome. */
const isVerdict = (id: string): boolean => id === "" || id.split(" ").length > 2;
