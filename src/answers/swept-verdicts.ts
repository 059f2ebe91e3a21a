/** Verdicts on variables under other choices than those of the answer that is shown. */
import { singleWays, type Way } from "../certainty/sweep.js";
import type { DoseAxisName } from "../dose/dose-axes.js";
import type { VariableRow } from "../dose/variable-table.js";
import { refusal } from "../errors.js";
import { capital, counted } from "../tables/number-format.js";
import { verdictShort } from "../tables/variables-table.js";
import type { EffectChoices } from "./effect-options.js";
import type { Evidence } from "./evidence.js";
import type { HeadlineGroup } from "./headline-selection.js";
import { resolvedOptions } from "./option.js";
import type { AnswerPart } from "./outcome-groups.js";
import type { Tell } from "./question.js";
import {
  chosenWay,
  namesOf,
  notChances,
  sweptChoices,
  type ChoiceOfLevels,
} from "./swept-choices.js";
import { variablesShape, verdictsOn, type VariablesOptions } from "./variables.js";

/** A verdict under other choices. */
export type TurnedVerdict = Readonly<{
  verdict: string;
  stays: number;
  ways: number;
  others: readonly Readonly<{ choice: string; level: string; verdict: string }>[];
  lowest: string;
  highest: string;
}>;
export type SweptVerdict = Readonly<{ family: string; variable: string }> & TurnedVerdict;

/** A verdict with one choice at a time made otherwise, and at the two extremes. */
export const turnedVerdict = (
  choices: readonly ChoiceOfLevels[],
  wordsAt: (way: Way) => string,
  estimateAt: (way: Way) => number | undefined,
): TurnedVerdict => {
  const { single, lowest, highest } = singleWays(namesOf(choices), estimateAt);
  const verdict = wordsAt(choices.map(() => 0));
  const others = single.flatMap(({ name: choice, level, way }) => {
    const own = { choice, level, verdict: wordsAt(way) };
    return own.verdict === verdict ? [] : [own];
  });
  return {
    ...{ verdict, others, ways: single.length, stays: single.length - others.length },
    ...{ lowest: wordsAt(lowest), highest: wordsAt(highest) },
  };
};

/** Whether it stays whatever is chosen. */
export const staysAlways = ({ verdict, others, lowest, highest }: TurnedVerdict): boolean =>
  others.length === 0 && lowest === verdict && highest === verdict;

/** What single choices make of it, in words. */
export const becomesWords = ({ others }: TurnedVerdict): string =>
  others.map((one) => `"${one.verdict}" (${one.choice}: ${one.level})`).join(", ");

/** In a statement's line. */
export const sweptWords = (one: TurnedVerdict): string =>
  one.ways === 0
    ? "nothing behind it could be chosen otherwise"
    : staysAlways(one)
      ? `the same verdict with each of ${one.ways} other choices and at both extremes`
      : `with ${one.stays} of ${one.ways} other choices the same verdict${one.others.length === 0 ? "" : `, ${becomesWords(one)}`}; at the extremes "${one.lowest}" and "${one.highest}"`;

export const extremesWords =
  "An extreme takes for every choice at once the level that alone gave the lowest, or the highest, number.";

/** Columns of a table of such verdicts, and the cells of one. */
export const turnedColumns = [
  { key: "verdict", label: "Verdict shown", align: "left" },
  { key: "stays", label: "Stays in", align: "right" },
  { key: "others", label: "Becomes", align: "left" },
  { key: "lowest", label: "Lowest extreme", align: "left" },
  { key: "highest", label: "Highest extreme", align: "left" },
] as const;
export const turnedCells = (one: TurnedVerdict) => ({
  ...{ verdict: one.verdict, lowest: one.lowest, highest: one.highest },
  stays: `${one.stays} of ${one.ways}`,
  others: one.others
    .map(({ verdict, choice, level }) => `${verdict} (${choice}: ${level})`)
    .join("; "),
});

const same = (one: VariableRow) => (row: VariableRow) =>
  row.family === one.family && row.axis.name === one.axis.name;

/** Every verdict that compares doses inside studies: one choice at a time, and the two extremes. */
export const sweptVerdicts = (
  evidence: Evidence,
  groups: readonly HeadlineGroup[],
  asked: EffectChoices & Readonly<{ on?: DoseAxisName | undefined }>,
  tell: Tell,
): readonly SweptVerdict[] => {
  const options: VariablesOptions = resolvedOptions(
    variablesShape,
    Object.fromEntries(
      Object.entries(asked).filter(
        ([name]) => name !== "on" && Object.hasOwn(variablesShape, name),
      ),
    ),
  );
  // A choice that is open for any kind of outcome is turned for all: they are judged together.
  const choices = [
    ...new Map(
      groups
        .flatMap((group) => sweptChoices(evidence, group, asked, false))
        .map((choice) => [choice.name, choice]),
    ).values(),
  ];
  const known = new Map<string, readonly VariableRow[]>();
  const rowsAt = (way: Way): readonly VariableRow[] => {
    const key = way.join();
    const before = known.get(key);
    if (before !== undefined) return before;
    tell(`verdicts: way ${known.size + 1}`);
    const chosen = chosenWay(choices, way, options);
    const { rows } = verdictsOn(evidence, chosen.options, chosen.setOf);
    known.set(key, rows);
    return rows;
  };
  const wordsAt = (one: VariableRow, way: Way): string => {
    const row = rowsAt(way).find(same(one));
    return row === undefined ? "not studied" : verdictShort(row);
  };
  const wanted = asked.on;
  return rowsAt(choices.map(() => 0))
    .filter(
      ({ within, axis }) => within !== undefined && (wanted === undefined || axis.name === wanted),
    )
    .map((row) => ({
      ...{ family: row.family, variable: row.axis.label },
      ...turnedVerdict(
        choices,
        (way) => wordsAt(row, way),
        (way) => rowsAt(way).find(same(row))?.within?.estimate,
      ),
    }));
};

export const verdictsPart = (verdicts: readonly SweptVerdict[]): AnswerPart => {
  if (verdicts.length === 0) {
    const reason = "no variable is compared inside studies";
    return { headline: `No verdict to sweep, as ${reason}.`, refusal: refusal("not-told", reason) };
  }
  const firm = verdicts.filter(staysAlways);
  const column = (key: string, label: string) => ({ key, label, align: "left" }) as const;
  return {
    headline: `${firm.length} of ${counted(verdicts.length, "verdict")} ${firm.length === 1 ? "is" : "are"} the same whatever single choice is made otherwise, and at both extremes.`,
    sentences: [
      ...verdicts.flatMap((one) =>
        one.others.length === 0
          ? []
          : [
              `${capital(one.family)}, ${one.variable}: "${one.verdict}" becomes ${becomesWords(one)}.`,
            ],
      ),
      extremesWords,
    ],
    tables: [
      {
        id: "sweep-verdicts",
        title: "Verdicts under other choices",
        columns: [column("family", "Outcome"), column("variable", "Variable"), ...turnedColumns],
        rows: verdicts.map((one) => ({
          ...{ family: one.family, variable: one.variable },
          ...turnedCells(one),
        })),
        notes: [notChances],
      },
    ],
  };
};
