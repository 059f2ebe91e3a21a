/** Verdicts on variables under other choices than those of the answer that is shown. */
import { singleWays, type Way } from "../certainty/sweep.js";
import type { DoseAxisName } from "../dose/dose-axes.js";
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

/** What a way makes of the verdicts that compare doses inside studies, as plain data. */
export type WayVerdicts = readonly Readonly<{
  family: string;
  axis: DoseAxisName;
  variable: string;
  verdict: string;
  /** The change inside studies; null where this way compares none. */
  estimate: number | null;
}>[];

/** Ways of asking for the verdicts of a file; a way asked once is kept. */
export type VerdictWays = Readonly<{
  at: (way: Way) => WayVerdicts;
  keep: (way: Way, verdicts: WayVerdicts) => void;
  /** How many ways have been asked. */
  asked: () => number;
  /** Ways that are still to be asked: those of single choices first, then the extremes, which these tell. */
  left: () => readonly Way[];
  told: () => readonly SweptVerdict[];
}>;

/** Every verdict that compares doses inside studies: one choice at a time, and the two extremes. */
export const verdictWays = (
  evidence: Evidence,
  groups: readonly HeadlineGroup[],
  asked: EffectChoices & Readonly<{ on?: DoseAxisName | undefined }>,
  tell: Tell,
): VerdictWays => {
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
  const shown: Way = choices.map(() => 0);
  const known = new Map<string, WayVerdicts>();
  const keep = (way: Way, verdicts: WayVerdicts): void => void known.set(way.join(), verdicts);
  const at = (way: Way): WayVerdicts => {
    const before = known.get(way.join());
    if (before !== undefined) return before;
    tell(`verdicts: way ${known.size + 1}`);
    const chosen = chosenWay(choices, way, options);
    const verdicts = verdictsOn(evidence, chosen.options, chosen.setOf).rows.map((row) => ({
      family: row.family,
      axis: row.axis.name,
      variable: row.axis.label,
      verdict: verdictShort(row),
      estimate: row.within?.estimate ?? null,
    }));
    keep(way, verdicts);
    return verdicts;
  };
  const rowAt = (one: WayVerdicts[number], way: Way) =>
    at(way).find(({ family, axis }) => family === one.family && axis === one.axis);
  const estimateOf = (one: WayVerdicts[number]) => (way: Way) =>
    rowAt(one, way)?.estimate ?? undefined;
  const compared = (): WayVerdicts =>
    at(shown).filter(
      ({ estimate, axis }) => estimate !== null && (asked.on === undefined || axis === asked.on),
    );
  const isLeft = (way: Way): boolean => !known.has(way.join());
  const singles = [
    shown,
    ...singleWays(namesOf(choices), () => undefined).single.map(({ way }) => way),
  ];
  return {
    ...{ at, keep },
    asked: () => known.size,
    told: () =>
      compared().map((one) => ({
        ...{ family: one.family, variable: one.variable },
        ...turnedVerdict(
          choices,
          (way) => rowAt(one, way)?.verdict ?? "not studied",
          estimateOf(one),
        ),
      })),
    left: () => {
      const first = singles.filter(isLeft);
      if (first.length > 0) return first;
      const extremes = compared().flatMap((one) => {
        const { lowest, highest } = singleWays(namesOf(choices), estimateOf(one));
        return [lowest, highest];
      });
      return [...new Map(extremes.filter(isLeft).map((way) => [way.join(), way])).values()];
    },
  };
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
