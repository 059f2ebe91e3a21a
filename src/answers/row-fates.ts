/**
 * What becomes of every row of a file, in three words that add up to it: averaged, kept but not averaged, set aside.
 * Decided once, so that every surface prints the same three counts.
 */
import type { LentSpread } from "../effects/lent-spread.js";
import type { Contrast, Effect } from "../effects/effect.js";
import { contrastShortLabel } from "../effects/scale-label.js";
import type { OutcomeRow } from "../records/outcome-row.js";
import { printedForm } from "../records/printed-form.js";
import { rowsThatMeet } from "../records/row-filter.js";
import { counted, formatCount, formatNumber } from "../tables/number-format.js";
import { effectsOptionsOf, type EffectChoices } from "./effect-options.js";
import { effectsOf, type Evidence } from "./evidence.js";
import { headlineGroups, type HeadlineGroup } from "./headline-selection.js";
import { readyEffects } from "./ready-effects.js";

/** Contrasts of a gain, whose averages a report always prints, in its order. */
export const pooledContrasts = [
  "change-within-arm",
  "against-control",
  "against-other-limb",
] as const;
export type PooledContrast = (typeof pooledContrasts)[number];

export const fateWords = ["averaged", "kept, not averaged", "set aside"] as const;
export type FateWord = (typeof fateWords)[number];

/** What became of one row. */
export type RowFateTold = Readonly<{
  line: number;
  fate: FateWord;
  /** The averages it is in, or why it is in none. */
  reason: string;
  /** What would change it: the number that is missing, or the mend; empty for an averaged row. */
  wanted: string;
}>;

const anotherStudy = "a second study that measured it in the same way";

/**
 * The numbers that would give a row a weight, in words with the file's columns; empty where none is missing.
 *
 * @param isRatio whether the effects are ratios of means, which need both
 */
export const wantedNumbers = (row: OutcomeRow, isRatio: boolean): string => {
  const { kind, ...form } = printedForm(row, row.statistic);
  const statistic = "statistic" in form ? form.statistic : undefined;
  if (statistic === "effect computed elsewhere")
    return kind === "no spread"
      ? "the standard error of the effect (effect_standard_error), or its interval"
      : "";
  const has = (...names: readonly (keyof OutcomeRow)[]): boolean =>
    names.every((name) => row[name] !== undefined);
  const isPercent = has("changePercentMean") && !has("preMean", "postMean") && !has("changeMean");
  const hasBoth = has("preMean", "postMean") || has("preMedian", "postMedian");
  return [
    ...(has("nEnd") || has("nStart") ? [] : ["the number of people measured (n_end)"]),
    ...(isRatio && !isPercent && !hasBoth
      ? ["the means before and after (pre_mean and post_mean)"]
      : []),
    ...(kind === "no spread" && statistic === "medians with quartiles"
      ? ["quartiles or ranges at both times (pre_quartile_low and the like)"]
      : kind === "no spread"
        ? [
            `${isPercent ? "the spread of the percent changes (change_percent_spread)" : "a spread (pre_spread and post_spread, or change_spread)"}, an interval of the change, or its t, F or ${row.pBound === undefined ? "" : "exact "}p value`,
          ]
        : statistic === "means at both times" && !has("preSpread") && !has("changeSpread")
          ? ["the spread before training (pre_spread), or that of the change (change_spread)"]
          : statistic === "means at both times" && !has("postSpread") && !has("changeSpread")
            ? ["the spread after training (post_spread), or that of the change (change_spread)"]
            : []),
  ].join("; and ");
};

/** The averages a row is in, and where its study stands alone. */
type Role = {
  averaged: Set<string>;
  alone: Set<string>;
  unlike: Set<string>;
  lent: LentSpread | undefined;
};

const studiesOf = (effects: readonly Effect[]): number =>
  new Set(effects.map(({ cohort }) => cohort)).size;

const addRoles = (
  roles: Map<OutcomeRow, Role>,
  { all, headline, label, outcome }: HeadlineGroup,
  contrast: Contrast,
): void => {
  const inHeadline = new Set(studiesOf(headline.effects) > 1 ? headline.effects : []);
  const isAlone = studiesOf(all.effects) < 2;
  const add = (row: OutcomeRow, words: string, { borrowed }: Effect): void => {
    const role: Role = roles.get(row) ?? {
      averaged: new Set(),
      alone: new Set(),
      unlike: new Set(),
      lent: borrowed?.find(({ line }) => line === row.line),
    };
    roles.set(row, role);
    if (!isAlone) role.averaged.add(words);
    else if (outcome === undefined) role.alone.add(`${label} (${contrastShortLabel(contrast)})`);
    else role.unlike.add(outcome);
  };
  for (const effect of all.effects) {
    add(effect.row, inHeadline.has(effect) ? label : `${label}, all angles and weeks`, effect);
    if (effect.comparatorRow !== undefined)
      add(effect.comparatorRow, `${label}, as comparator`, effect);
  }
};

/** What is said of a row whose spread is borrowed; empty of any other. */
const lentWords = ({ lent }: Role): string =>
  lent === undefined
    ? ""
    : `; its spread is borrowed (coefficient of variation ${formatNumber(lent.coefficient)} from ${counted(lent.studies, "study", "studies")} of ${lent.of}${lent.movedTo === undefined ? "" : `, moved to what the printed ${lent.movedTo} allows`})`;

const aloneWords = (study: string, { alone, unlike }: Role): string =>
  [
    ...(alone.size === 0 ? [] : [`single study: only ${study} has ${[...alone].join(" and ")}`]),
    ...[...unlike].map(
      (outcome) => `unlike outcomes are not averaged, and only ${study} measured ${outcome}`,
    ),
  ].join("; ");

/** What becomes of the rows that could be read. */
const readRowFates = (
  evidence: Evidence,
  choices: EffectChoices,
): ReadonlyMap<number, Omit<RowFateTold, "line">> => {
  const { rows } = evidence.records;
  const asked = choices.where === undefined ? rows : rowsThatMeet(rows, choices.where);
  const fates = new Map<number, Omit<RowFateTold, "line">>(
    rows.map(({ line }) => [
      line,
      {
        fate: "set aside",
        reason: `not among the rows asked for (${choices.where ?? ""})`,
        wanted: "another choice of rows",
      },
    ]),
  );
  if (asked.length === 0) return fates;
  const roles = new Map<OutcomeRow, Role>();
  const reasons = new Map<Contrast, ReadonlyMap<number, string>>();
  for (const contrast of new Set<Contrast>([...pooledContrasts, choices.contrast])) {
    const set = effectsOf(evidence, effectsOptionsOf({ ...choices, contrast }));
    for (const group of headlineGroups(set)) addRoles(roles, group, contrast);
    reasons.set(contrast, new Map(set.rowUses.map(({ line, reason }) => [line, reason])));
  }
  const isRatio = choices.scale === "log-ratio-of-means";
  for (const row of asked) {
    const { line, statisticOf } = row;
    const role = roles.get(row);
    if (role !== undefined && role.averaged.size > 0) {
      fates.set(line, {
        fate: "averaged",
        reason: `${[...role.averaged].join("; ")}${lentWords(role)}`,
        wanted: "",
      });
      continue;
    }
    const armKind = row.armKind ?? (row.comparatorOf === undefined ? "isometric" : "no exercise");
    const isCompared = armKind === "no exercise" || statisticOf === "difference from comparator";
    const reason =
      role === undefined
        ? (reasons.get(isCompared ? "against-control" : "change-within-arm")?.get(line) ?? "")
        : `${aloneWords(row.study, role)}${lentWords(role)}`;
    const numbers = wantedNumbers(row, isRatio);
    const isOtherKind = !isCompared && !choices.armKinds.includes(armKind);
    fates.set(line, {
      fate: "kept, not averaged",
      reason,
      wanted:
        role !== undefined
          ? anotherStudy
          : isOtherKind
            ? `arms of this kind are averaged when they are asked for${numbers === "" ? "" : `, with ${numbers}`}`
            : isCompared
              ? numbers === ""
                ? "a trained arm with a weight in the same test, in the same week"
                : `${numbers}, here and in the row of the trained arm`
              : numbers === ""
                ? "a look at the numbers of this row"
                : numbers,
    });
  }
  return fates;
};

/** What becomes of ready effects: two studies make an average. */
const readyFates = ({ table }: Evidence): readonly RowFateTold[] => {
  const { effects, fates } = readyEffects(table);
  const isAverage = new Set(effects.map(({ study }) => study)).size > 1;
  return fates.map(({ line, fate, reason }) =>
    fate === "refused" || fate === "set aside"
      ? { line, fate: "set aside", reason, wanted: "" }
      : isAverage
        ? { line, fate: "averaged", reason: "the average of all effects", wanted: "" }
        : { line, fate: "kept, not averaged", reason: "single study", wanted: anotherStudy },
  );
};

/**
 * What becomes of every row of a file: one entry a row, in the file's order.
 *
 * A row is averaged where it enters an average that the report prints, as outcome or as comparator, at the headline's
 * angle and week or at all of them; a kind of outcome that one study has makes none.
 *
 * @param choices rows, scale and assumptions, as every question takes them
 * @source none: bookkeeping
 */
export const rowFates = (evidence: Evidence, choices: EffectChoices): readonly RowFateTold[] => {
  if (evidence.kind === "ready effects") return readyFates(evidence);
  const { fates, issues } = evidence.records;
  const read = readRowFates(evidence, choices);
  const mends = new Map<number, Set<string>>();
  for (const { line, severity, mend } of issues)
    if (severity === "error") mends.set(line, (mends.get(line) ?? new Set()).add(mend));
  return fates.map(({ line, fate, reason }) =>
    fate === "refused" || fate === "set aside"
      ? {
          line,
          fate: "set aside",
          reason,
          wanted: [...(mends.get(line) ?? [])].join("; "),
        }
      : { line, ...read.get(line)! },
  );
};

/** The three counts in the words that every surface prints, e.g. "54 rows: 22 averaged; 32 kept, not averaged; 0 set aside". */
export const fateCounts = (fates: readonly Pick<RowFateTold, "fate">[]): string => {
  const of = (word: FateWord): string =>
    `${formatCount(fates.filter(({ fate }) => fate === word).length)} ${word}`;
  return `${formatCount(fates.length)} ${fates.length === 1 ? "row" : "rows"}: ${fateWords.map(of).join("; ")}`;
};
