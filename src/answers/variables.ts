/** Which variables of a protocol matter: what each changes inside studies and between them, and a verdict. */
import * as z from "zod";
import { doseAxisNames, type DoseAxisName } from "../dose/dose-axes.js";
import {
  tableOf,
  variableEvidence,
  variableTableDefaults,
  type VariableEvidence,
  type VariableTable,
} from "../dose/variable-table.js";
import type { VerdictName } from "../dose/verdict.js";
import { effectSubset } from "../effects/effect-subset.js";
import type { Effect, EffectSet } from "../effects/effect.js";
import { refusal, type Refusal } from "../errors.js";
import { hasVariables } from "../figures/variables-figure.js";
import { kebabName } from "../tables/dose-table.js";
import { capital } from "../tables/number-format.js";
import {
  variablesDataTable,
  variablesRules,
  variablesSentences,
  variablesTable,
} from "../tables/variables-table.js";
import { amountFor, amountOption } from "./counted-amount.js";
import { axesOption } from "./dose-options.js";
import type { Evidence } from "./evidence.js";
import type { HeadlineGroup } from "./headline-selection.js";
import { option } from "./option.js";
import {
  countsOf,
  dataOf,
  doubtsOf,
  groupFields,
  groupSchema,
  namingRows,
  outcomeGroups,
  outcomeShape,
  rowsOfGroup,
  selectionSentences,
  together,
  uniqueNotes,
  type AnswerPart,
} from "./outcome-groups.js";
import { question, type Options } from "./question.js";
import type { Untold } from "./reading-list.js";
import { trialComparisons } from "./trial-comparisons.js";
import { trialsOf, withTrials } from "./trials-beside.js";

export const variablesShape = {
  ...outcomeShape,
  amount: amountOption,
  on: option(axesOption.default(variableTableDefaults.axes), {
    help: "variables asked about, or all: totals by set, week and programme too (one of each kind unless told)",
    value: "<doses>",
    seldom: true,
  }),
};

export type VariablesOptions = Options<typeof variablesShape>;

type PreparedGroup = Readonly<{
  group: HeadlineGroup;
  answer: readonly VariableEvidence[] | Refusal;
  /** The same without borrowed spreads, made when a verdict may rest on them; absent where none is borrowed. */
  ownSpreads?: () => readonly VariableEvidence[];
}>;

/** Which effects of a kind of outcome are compared: those of its headline unless told. */
type ChosenSet = (group: HeadlineGroup) => EffectSet;

const preparedGroup = (
  group: HeadlineGroup,
  options: VariablesOptions,
  chosen: ChosenSet = ({ headline }) => headline,
): PreparedGroup => {
  const { label, family } = group;
  const { on: axes, confidence } = options;
  const amount = amountFor(group.all, family, options.amount);
  if (amount === undefined)
    return {
      group,
      answer: {
        ...refusal("amount-missing", "no amount that counts is known in the outcome's own unit"),
        try: `give an amount that counts, e.g. ${family}=4`,
      },
    };
  const evidenceOf = (set: EffectSet): readonly VariableEvidence[] =>
    variableEvidence(set, label, amount, { axes, confidence });
  const isOwn = ({ borrowed }: Effect): boolean => borrowed === undefined;
  return {
    group,
    answer: evidenceOf(chosen(group)),
    ...(group.headline.effects.every(isOwn)
      ? {}
      : { ownSpreads: () => evidenceOf(effectSubset(group.headline, isOwn)) }),
  };
};

/** The table of what was found of some kinds of outcome, judged together. */
const judgedTable = (
  set: EffectSet,
  groups: readonly PreparedGroup[],
  confidence: number,
): VariableTable =>
  tableOf(
    set,
    groups.flatMap(({ group, answer }) => ("kind" in answer ? [] : group.label)),
    groups.flatMap(({ answer }) => ("kind" in answer ? [] : answer)),
    confidence,
  );

/**
 * The verdicts on the variables of a file, as the question gives them, on other effects where `chosen` says which.
 *
 * @param chosen called with each kind of outcome
 */
export const verdictsOn = (
  evidence: Evidence,
  options: VariablesOptions,
  chosen?: ChosenSet,
): VariableTable => {
  const { set, groups } = outcomeGroups(evidence, options);
  const prepared = groups.map((group) => preparedGroup(group, options, chosen));
  return judgedTable(set, prepared, options.confidence);
};

const isUntold = ({ verdict }: { verdict: VerdictName }): boolean =>
  verdict === "cannot be told" || verdict === "not studied";

/** Verdicts that are given and are others without borrowed spreads, a sentence each. */
const restOnBorrowed = (
  table: VariableTable,
  set: EffectSet,
  groups: readonly PreparedGroup[],
): readonly string[] => {
  const borrowing = new Set(
    groups.flatMap(({ group, ownSpreads }) => (ownSpreads === undefined ? [] : [group.label])),
  );
  const told = table.rows.filter(
    ({ family, verdict }) => borrowing.has(family) && !isUntold(verdict),
  );
  if (told.length === 0) return [];
  const own = tableOf(
    set,
    table.families,
    groups.flatMap(({ answer, ownSpreads }) =>
      "kind" in answer ? [] : (ownSpreads?.() ?? answer),
    ),
    table.confidence,
  );
  return told.flatMap(({ family, axis, verdict }) => {
    const without = own.rows.find((row) => row.family === family && row.axis.name === axis.name);
    const name = without?.verdict.verdict ?? "not studied";
    return name === verdict.verdict && without?.verdict.side === verdict.side
      ? []
      : [
          `${capital(family)}, ${axis.label}: "${verdict.verdict}" rests on borrowed spreads; without them it is "${name}".`,
        ];
  });
};

/** Variables of a kind of outcome that the file does not decide. */
const untoldIn = (
  { group: { label, family }, answer }: PreparedGroup,
  { rows }: VariableTable,
  on: readonly DoseAxisName[],
): readonly Untold[] => {
  const topics =
    "kind" in answer
      ? on
      : rows.flatMap((row) => (row.family === label && isUntold(row.verdict) ? row.axis.name : []));
  return topics.length === 0 ? [] : [{ family, topics }];
};

const partOf = ({ group, answer }: PreparedGroup, table: VariableTable): AnswerPart => {
  const name = capital(group.label);
  if ("kind" in answer)
    return { headline: `${name}: no verdict, as ${answer.reason}.`, refusal: answer };
  const own = table.rows.filter(({ family }) => family === group.label);
  const beside = selectionSentences(group);
  if (own.every(({ verdict }) => verdict.verdict === "not studied")) {
    const reason = `no variable can be compared in ${countsOf(group.headline.effects)}`;
    return {
      headline: `${name}: no verdict, as ${reason}.`,
      sentences: beside,
      refusal: refusal("not-told", reason),
    };
  }
  const [sentence] = variablesSentences({ ...table, families: [group.label] });
  return {
    headline: sentence!.told,
    sentences: [...(sentence!.rest === "" ? [] : [sentence!.rest]), ...beside],
    tables: [variablesTable(table, group.label)],
    figures: hasVariables(table, group.label)
      ? [
          {
            name: "variables",
            data: {
              id: `variables-${kebabName(group.label)}`,
              family: group.label,
              table: { ...table, rows: own },
            },
          },
        ]
      : [],
  };
};

/** Every variable of a protocol with what it changes and a plain verdict, one table a kind of outcome. */
export const variables = question({
  id: "variables",
  options: variablesShape,
  choices: [],
  data: {
    families: z.array(z.string()),
    rows: z.array(
      z.looseObject({
        family: z.string(),
        axis: z.looseObject({ name: z.enum(doseAxisNames) }),
        verdict: z.object({ verdict: z.string(), reason: z.string() }),
      }),
    ),
    questions: z.number(),
    groups: z.array(groupSchema),
  },
  prepare: (evidence, options, tell) => {
    tell("effects");
    const { set, groups, unweighted } = outcomeGroups(evidence, options);
    return {
      set,
      unweighted,
      trials: () => trialComparisons(evidence, options),
      groups: groups.map((group) => {
        tell(`comparing doses: ${group.label}`);
        return preparedGroup(group, options);
      }),
    };
  },
  answer: ({ set, groups, unweighted, trials }, { confidence, on }) => {
    const told = groups.filter(({ answer }) => !("kind" in answer));
    const table = judgedTable(set, groups, confidence);
    const part = together(
      groups.map((one) =>
        withTrials(
          namingRows(
            { ...partOf(one, table), untold: untoldIn(one, table, on) },
            unweighted({ of: rowsOfGroup(one.group) }),
          ),
          trialsOf(trials(), one.group, confidence),
          "kind" in one.answer ||
            table.rows.some(
              ({ family, within }) => family === one.group.label && within !== undefined,
            ),
        ),
      ),
      unweighted(),
    );
    const used = groups.flatMap(({ group }) => group.headline.effects);
    return {
      ...part,
      sentences: [
        ...part.sentences,
        ...restOnBorrowed(table, set, groups),
        "Three more questions can be asked of the same file: equal-tension, joint-angle and time.",
      ],
      tables: [
        ...part.tables,
        ...(told.length === 0 ? [] : [{ ...variablesDataTable(table), place: "file" as const }]),
      ],
      notes: [
        ...set.notes,
        ...doubtsOf(used),
        ...uniqueNotes(
          table.rows.flatMap(({ notes }) =>
            notes.filter(({ code }) => code === "women-beside-men"),
          ),
        ),
        ...(told.length === 0
          ? []
          : variablesRules(table).map((message) => ({ code: "verdict-rule" as const, message }))),
      ],
      data: {
        ...table,
        ...dataOf(set, confidence, used),
        groups: groups.map(({ group, answer }) => ({
          ...groupFields(group),
          ...("kind" in answer ? { refusal: answer } : {}),
        })),
      },
    };
  },
});
