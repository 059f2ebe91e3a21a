/** Which kinds of outcome a question is asked of, and how what is said of each stands together. */
import * as z from "zod";
import { effectSubset } from "../effects/effect-subset.js";
import type { Effect, EffectSet } from "../effects/effect.js";
import type { Note, Refusal } from "../errors.js";
import { familyNotCoded } from "../records/outcome-families.js";
import type { OutcomeRow } from "../records/outcome-row.js";
import { testModeOf } from "../records/test-mode.js";
import { kebabName } from "../tables/dose-table.js";
import { counted } from "../tables/number-format.js";
import type { AnswerDraft } from "./answer.js";
import {
  effectShape,
  effectsOptionsOf,
  gainContrastOption,
  type EffectChoices,
} from "./effect-options.js";
import { effectsOf, linesOf, type Evidence } from "./evidence.js";
import { sameAngleWithinDegrees } from "../projection/goals.js";
import { noEffects } from "./average.js";
import { headlineGroups, type HeadlineGroup } from "./headline-selection.js";
import { notWeighted, type NotWeighted } from "./not-weighted.js";
import { namedOne, option, readAs, text } from "./option.js";

export const outcomeOption = option(text().optional(), {
  help: "only this outcome family or outcome, e.g. size",
  value: "<name>",
});

/** Options of a question about the gain in each kind of outcome. */
export const outcomeShape = {
  outcome: outcomeOption,
  ...effectShape,
  contrast: gainContrastOption,
};

/** The groups a person names: one kind of outcome, a family that has several, or a single outcome. */
const named = (set: EffectSet, wanted: string): readonly HeadlineGroup[] => {
  const groups = headlineGroups(set);
  if (groups.length === 0) return [];
  const outcomes = set.effects.map(({ row }) => row.outcome);
  const names = groups.flatMap(({ family, id }) => [family, id]);
  const name = readAs("--outcome", () => namedOne(wanted, [...new Set([...names, ...outcomes])]));
  const own = groups.filter(({ id, outcome }) => id === name || outcome === name);
  if (own.length > 0) return own;
  const ofFamily = groups.filter(({ family }) => family === name);
  return ofFamily.length > 0
    ? ofFamily
    : headlineGroups(effectSubset(set, ({ row }) => row.outcome === name)).map((group) => ({
        ...group,
        id: kebabName(`${group.id} ${name}`),
        label: `${group.label}: ${name}`,
      }));
};

/** The effects of a file, and the kinds of outcome that were asked about; all unless one is named. */
export const outcomeGroups = (
  evidence: Evidence,
  options: EffectChoices & Readonly<{ outcome?: string | undefined }>,
): Readonly<{
  set: EffectSet;
  groups: readonly HeadlineGroup[];
  unweighted: NotWeighted;
}> => {
  const set = effectsOf(evidence, effectsOptionsOf(options));
  const { outcome } = options;
  return {
    set,
    groups: outcome === undefined ? headlineGroups(set) : named(set, outcome),
    unweighted: notWeighted(evidence, set),
  };
};

/** Rows of a file that belong to the kind of outcome of a group. */
export const rowsOfGroup =
  ({ family, testMode, outcome }: Pick<HeadlineGroup, "family" | "testMode" | "outcome">) =>
  (rows: readonly OutcomeRow[]): readonly OutcomeRow[] =>
    rows.filter(
      (row) =>
        (row.outcomeFamily ?? familyNotCoded) === family &&
        testModeOf(row) === testMode &&
        (outcome === undefined || row.outcome === outcome),
    );

/** What is said of a kind of outcome; where that is a refusal, the rows without a weight are named with it. */
export const namingRows = (part: AnswerPart, rows: string): AnswerPart =>
  part.refusal === undefined || rows === ""
    ? part
    : {
        ...part,
        headline: `${part.headline} ${rows}`,
        refusal: { ...part.refusal, reason: `${part.refusal.reason}. ${rows.slice(0, -1)}` },
      };

/** What is said of a kind of outcome; where that is a refusal, with what it leaves untold. */
export const untoldOf = (
  part: AnswerPart,
  family: string,
  topics: readonly string[],
): AnswerPart => (part.refusal === undefined ? part : { ...part, untold: [{ family, topics }] });

/** What a script finds of each kind of outcome. */
export const groupFields = ({
  id,
  label: outcome,
  family,
  testMode,
  armsWithoutNearTest,
}: HeadlineGroup) => ({ id, outcome, family, testMode, armsWithoutNearTest });

/** Its form; the question's own fields stand beside these. */
export const groupSchema = z.looseObject({
  id: z.string(),
  outcome: z.string(),
  family: z.string(),
  testMode: z.string(),
});

/** The common data of a question about some effects of a set. */
export const dataOf = (
  { scale, contrast }: Pick<EffectSet, "scale" | "contrast">,
  confidence: number,
  effects: readonly Effect[],
) => ({ scale, contrast, confidence, rowsUsed: linesOf({ effects }) });

/** How many effects and studies there are, in words. */
export const countsOf = (effects: readonly Pick<Effect, "cohort">[]): string =>
  `${counted(effects.length, "effect")} of ${counted(new Set(effects.map(({ cohort }) => cohort)).size, "study", "studies")}`;

/** How many of the effects have a borrowed spread, without its end; undefined where none has. */
export const borrowedCounts = (
  effects: readonly Pick<Effect, "borrowed">[],
): string | undefined => {
  const some = effects.filter(({ borrowed }) => borrowed !== undefined).length;
  return some === 0
    ? undefined
    : `${some} of ${counted(effects.length, "effect")} ${some === 1 ? "has" : "have"} a borrowed spread`;
};

/** Effects whose interval stands on a borrowed spread, by their ids. */
export const borrowedIds = ({ effects }: EffectSet): readonly string[] =>
  effects.flatMap(({ borrowed, effectId }) => (borrowed === undefined ? [] : [effectId]));

/** The same as a sentence of its own, for answers that stand on them as on any other. */
export const borrowedSentences = (
  effects: readonly Pick<Effect, "borrowed">[],
): readonly string[] => {
  const counts = borrowedCounts(effects);
  return counts === undefined ? [] : [`${counts}.`];
};

/** The arms that are left out of a headline, by name. */
export const leftOut = (arms: HeadlineGroup["armsWithoutNearTest"]): readonly string[] =>
  arms.length === 0
    ? []
    : [
        `Left out of the headline, as no test lies within ${sameAngleWithinDegrees}° of an angle trained at: ${arms.map(({ study, arm, nearestDegrees }) => `${study}, ${arm} (nearest ${nearestDegrees}°)`).join("; ")}.`,
      ];

/** What stands beside a headline: how many spreads are borrowed, the same of all angles and weeks, and the arms that were left out. */
export const selectionSentences = (
  { headline, all, armsWithoutNearTest }: HeadlineGroup,
  wider?: (all: EffectSet) => string,
): readonly string[] => [
  ...borrowedSentences(headline.effects),
  ...(wider === undefined || all.effects.length === headline.effects.length
    ? []
    : [`All angles and weeks: ${wider(all)}`]),
  ...leftOut(armsWithoutNearTest),
];

/** What is said of one kind of outcome. */
export type AnswerPart = Pick<
  AnswerDraft<object>,
  "headline" | "sentences" | "tables" | "figures" | "notes" | "refusal" | "untold"
>;

/** Every note once, whichever part it came from. */
export const uniqueNotes = (notes: readonly Note[]): readonly Note[] => [
  ...new Map(notes.map((note) => [`${note.code} ${note.message}`, note])).values(),
];

/** Doubts about the effects used, each kind of doubt once: one effect's own words, and how many more it meets. */
export const doubtsOf = (effects: readonly Pick<Effect, "study" | "notes">[]): readonly Note[] => {
  const met = new Map<Note["code"], { message: string; effects: number }>();
  for (const { study, notes } of effects)
    for (const { code, message } of new Map(notes.map((note) => [note.code, note])).values()) {
      const known = met.get(code);
      if (known === undefined) met.set(code, { message: `${study}: ${message}`, effects: 1 });
      else known.effects += 1;
    }
  return [...met].map(([code, { message, effects: count }]) => ({
    code,
    message:
      count === 1
        ? message
        : `${message}; the same doubt meets ${counted(count - 1, "more effect")}`,
  }));
};

/**
 * Parts as one answer: the first that has one leads, the others' headlines stand among its sentences.
 *
 * @param rows those without a weight, in a sentence, for when there is no part at all
 */
export const together = (
  parts: readonly AnswerPart[],
  rows: string,
  nothing: Refusal = noEffects,
): Required<AnswerPart> => {
  const lead =
    parts.find((part) => part.refusal === undefined) ??
    parts[0] ??
    namingRows({ headline: `No answer: ${nothing.reason}.`, refusal: nothing }, rows);
  const others = parts.filter((part) => part !== lead);
  const ordered = [lead, ...others];
  return {
    headline: lead.headline,
    sentences: [
      ...(lead.sentences ?? []),
      ...others.flatMap(({ headline, sentences = [] }) => [headline, ...sentences]),
    ],
    tables: ordered.flatMap(({ tables = [] }) => tables),
    figures: ordered.flatMap(({ figures = [] }) => figures),
    notes: uniqueNotes(ordered.flatMap(({ notes = [] }) => notes)),
    refusal: lead.refusal,
    untold: parts.flatMap(({ untold = [] }) => untold),
  };
};
