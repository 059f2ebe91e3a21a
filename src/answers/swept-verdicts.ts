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
import { chosenWay, namesOf, notChances, sweptChoices } from "./swept-choices.js";
import { variablesShape, verdictsOn, type VariablesOptions } from "./variables.js";

/** A verdict under other choices. */
export type SweptVerdict = Readonly<{
  family: string;
  variable: string;
  verdict: string;
  stays: number;
  ways: number;
  others: readonly Readonly<{ choice: string; level: string; verdict: string }>[];
  lowest: string;
  highest: string;
}>;

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
    .map((row) => {
      const { single, lowest, highest } = singleWays(
        namesOf(choices),
        (way) => rowsAt(way).find(same(row))?.within?.estimate,
      );
      const verdict = verdictShort(row);
      const all = single.map(({ name, level, way }) => ({
        choice: name,
        level,
        verdict: wordsAt(row, way),
      }));
      const others = all.filter((one) => one.verdict !== verdict);
      return {
        family: row.family,
        variable: row.axis.label,
        verdict,
        stays: all.length - others.length,
        ways: all.length,
        others,
        lowest: wordsAt(row, lowest),
        highest: wordsAt(row, highest),
      };
    });
};

export const verdictsPart = (verdicts: readonly SweptVerdict[]): AnswerPart => {
  if (verdicts.length === 0) {
    const reason = "no variable is compared inside studies";
    return { headline: `No verdict to sweep, as ${reason}.`, refusal: refusal("not-told", reason) };
  }
  const firm = verdicts.filter(
    ({ others, verdict, lowest, highest }) =>
      others.length === 0 && lowest === verdict && highest === verdict,
  );
  const column = (key: string, label: string) => ({ key, label, align: "left" }) as const;
  return {
    headline: `${firm.length} of ${counted(verdicts.length, "verdict")} ${firm.length === 1 ? "is" : "are"} the same whatever single choice is made otherwise, and at both extremes.`,
    sentences: [
      ...verdicts.flatMap(({ family, variable, verdict, others }) =>
        others.length === 0
          ? []
          : [
              `${capital(family)}, ${variable}: "${verdict}" becomes ${others.map((one) => `"${one.verdict}" (${one.choice}: ${one.level})`).join(", ")}.`,
            ],
      ),
      "An extreme takes for every choice at once the level that alone gave the lowest, or the highest, change.",
    ],
    tables: [
      {
        id: "sweep-verdicts",
        title: "Verdicts under other choices",
        columns: [
          column("family", "Outcome"),
          column("variable", "Variable"),
          column("verdict", "Verdict shown"),
          { key: "stays", label: "Stays in", align: "right" },
          column("others", "Becomes"),
          column("lowest", "Lowest extreme"),
          column("highest", "Highest extreme"),
        ],
        rows: verdicts.map(
          ({ stays, ways, others, family, variable, verdict, lowest, highest }) => ({
            ...{ family, variable, verdict, lowest, highest },
            stays: `${stays} of ${ways}`,
            others: others.map((one) => `${one.verdict} (${one.choice}: ${one.level})`).join("; "),
          }),
        ),
        notes: [notChances],
      },
    ],
  };
};
