/** What a file is said to show, one by one: averages, verdicts, ratings and statements, so that two files can be set side by side. */
import type { VariableRow } from "../dose/variable-table.js";
import type { Contrast, EffectScale } from "../effects/effect.js";
import { contrastShortLabel } from "../effects/scale-label.js";
import type { Interval } from "../synthesis/synthesis-results.js";
import { doseShown, kebabName } from "../tables/dose-table.js";
import { capital, counted } from "../tables/number-format.js";
import { verdictShort } from "../tables/variables-table.js";
import { certainty } from "./certainty.js";
import type { EffectChoices } from "./effect-options.js";
import type { Evidence } from "./evidence.js";
import { pool } from "./pool.js";
import { rangeOf, shownOf, type Shown } from "./pool-words.js";
import { askedOf } from "./prepared.js";
import type { Tell } from "./question.js";
import { pooledContrasts } from "./row-fates.js";
import type { StatementsGiven } from "./statement-file.js";
import { statements } from "./statements.js";
import { numberTold } from "./statements-shown.js";
import { variables } from "./variables.js";

export const conclusionKinds = ["average", "verdict", "rating", "statement"] as const;
export type ConclusionKind = (typeof conclusionKinds)[number];

/** One thing that a file is said to show. */
export type Conclusion = Readonly<{
  kind: ConclusionKind;
  /** The same in every file. */
  id: string;
  /** What it is about, as a sentence begins. */
  about: string;
  /** As it is printed, interval included. */
  words: string;
  /** What a person concludes, whatever the digits: the side of no change, the verdict, or how sure. */
  stands: string;
  /** On the effects' scale, of a statement in its own unit; null where there is none. */
  number: Readonly<{ estimate: number; standardError: number; interval: Interval }> | null;
  scale: EffectScale | null;
  unit: string | null;
  studies: number;
  /** The figure that shows it, null where none does, and a mark that differs where the drawing would. */
  figure: string | null;
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

/** What every conclusion of a file is asked with. */
export type ConclusionChoices = EffectChoices &
  Readonly<{
    confidence: number;
    statements?: StatementsGiven | undefined;
    decisions?: string | undefined;
  }>;

/** What was told of how sure a headline is, in an answer or in a report's results. */
export type ToldRating = Readonly<{
  id: string;
  group: string;
  certainty: string | null;
  starts?: string | undefined;
  concerns?: readonly Readonly<{ domain: string; lowered: number | null }>[] | undefined;
  decided?: string | null | undefined;
}>;

/** How sure a headline is, as one conclusion; none where there is no average to rate. */
export const ratingConclusion = (
  contrast: Contrast,
  { id, group, certainty: word, starts, concerns = [], decided }: ToldRating,
): readonly Conclusion[] => {
  if (word === null) return [];
  const lowered = concerns.flatMap(({ domain, lowered: by }) => (by ? [domain] : []));
  const words = [
    `${word}: starts ${starts!}`,
    ...(lowered.length === 0 ? [] : [`the rules lower it for ${lowered.join(", ")}`]),
    ...(decided ? ["decided by a person"] : []),
  ].join("; ");
  return [
    {
      ...{ kind: "rating", id: `rating ${contrast} ${id}`, words, stands: word },
      about: `Certainty of ${group}, ${contrastShortLabel(contrast)}`,
      ...{ number: null, scale: null, unit: null, studies: 0, figure: null, drawn: words },
    },
  ];
};

type Open = Readonly<{ low: number | null; high: number | null }>;
/** What was told of a statement; an open end is null in a report's results. */
export type ToldStatement = Readonly<{
  statement: string;
  verdict: string | null;
  estimate?: number | undefined;
  adjusted?: Open | undefined;
  interval?: Open | undefined;
  unit?: string | undefined;
  why?: string | undefined;
  studies?: number | undefined;
}>;

/** A statement with its verdict as one conclusion. */
export const statementConclusion = ({
  statement,
  verdict,
  adjusted,
  ...told
}: ToldStatement): Conclusion => {
  const { estimate, unit, studies = 0 } = told;
  const closed = (open: Open | undefined): Interval | undefined =>
    open && { low: open.low ?? -Infinity, high: open.high ?? Infinity };
  const interval = closed(adjusted);
  const stands = verdict ?? "form not complete";
  const number = numberTold({ ...told, interval: interval ?? closed(told.interval) });
  const words = number === "" ? stands : `${stands}: ${number}`;
  return {
    ...{ kind: "statement", id: `statement ${statement}` },
    about: statement.replace(/[.]$/, ""),
    ...{ words, stands, scale: null, unit: unit ?? null, studies },
    ...{ figure: "statements", drawn: words },
    number:
      estimate === undefined || interval === undefined
        ? null
        : { estimate, interval, standardError: (interval.high - interval.low) / 4 },
  };
};

/**
 * Every conclusion of a file. A further kind is one more list here.
 *
 * @param wanted ids looked at, with their kinds; all without
 */
export const conclusionsOf = (
  evidence: Evidence,
  options: ConclusionChoices,
  tell: Tell,
  wanted?: ReadonlyMap<string, ConclusionKind>,
): readonly Conclusion[] => {
  const isWanted = ({ id }: Readonly<{ id: string }>): boolean =>
    wanted === undefined || wanted.has(id);
  const asks = (kind: ConclusionKind, contrast = ""): boolean =>
    wanted === undefined || [...wanted].some(([id, own]) => own === kind && id.includes(contrast));
  const isCodebook = evidence.kind === "codebook";
  const averages = (isCodebook ? pooledContrasts : pooledContrasts.slice(0, 1)).flatMap(
    (contrast) =>
      askedOf(pool, evidence, { ...options, contrast }, tell).prepared.groups.flatMap((one) => {
        const { id, label, headline } = one.group;
        if (!isWanted({ id: `${contrast} ${id}` })) return [];
        const average = one.headline();
        const drawn = JSON.stringify(
          headline.effects.map(({ effectId, estimate, variance }) => [
            effectId,
            estimate,
            variance,
          ]),
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
  if (!isCodebook) return averages;
  const verdicts = (): readonly Conclusion[] => {
    const { data } = askedOf(variables, evidence, options, tell).answer();
    return data.rows.map((row) => verdictConclusion(data, row));
  };
  return [
    ...averages,
    ...(asks("verdict") ? verdicts() : []),
    ...pooledContrasts
      .filter((contrast) => asks("rating", contrast))
      .flatMap((contrast) =>
        askedOf(certainty, evidence, { ...options, contrast }, tell)
          .answer()
          .data.groups.flatMap((told) => ratingConclusion(contrast, told)),
      ),
    ...(asks("statement")
      ? askedOf(statements, evidence, options, tell)
          .answer()
          .data.statements.map(statementConclusion)
      : []),
  ].filter(isWanted);
};
