/**
 * The table of protocol variables as people read it: one row a variable, one table an outcome family.
 *
 * Longer than most: wide, narrow and data forms share their words.
 */
import type { VariableRow, VariableTable } from "../dose/variable-table.js";
import type { VerdictName } from "../dose/verdict.js";
import type { EffectScale } from "../effects/effect.js";
import { percentFromLogRatio } from "../effects/percent-from-log-ratio.js";
import type { Coefficient } from "../synthesis/synthesis-results.js";
import { doseShown, doseSpan, kebabName, trustedFreedom } from "./dose-table.js";
import {
  capital,
  confidenceWords,
  counted,
  formatCount,
  formatNumber,
  plainNumber,
  pValueCell,
  pValueText,
  sharePercent,
} from "./number-format.js";
import { scaleDisplay } from "./scale-display.js";
import type { Column, Table } from "./table.js";

const left = (key: string, label: string): Column => ({ key, label, align: "left" });
const right = (key: string, label: string): Column => ({ key, label, align: "right" });

/** An amount of a scale as people say it: `5%`, `0.2 pooled standard deviations`. */
export const shownAmount = (amount: number, scale: EffectScale): string =>
  scaleDisplay(scale).shownAsPercent
    ? `${Number(percentFromLogRatio(amount).toPrecision(3))}%`
    : `${Number(amount.toPrecision(3))} ${scaleDisplay(scale).unit}`;

/** The variable, and the doses that are the same contrast in this file. */
const nameText = ({ axis, withIt }: VariableRow): string =>
  `${axis.label}${withIt.length === 0 ? "" : ` (with it ${withIt.map(({ label }) => label).join(", ")})`}`;

const sideText = ({ axis, verdict }: VariableRow): string =>
  axis.kind === "levels" ? axis.levels![verdict.side === "more" ? 1 : 0] : verdict.side!;

/** The verdict in the variable's own words: `more is favoured`, `worth testing: long length`. */
export const verdictWords = (row: VariableRow): string => {
  const { verdict } = row;
  switch (verdict.verdict) {
    case "favoured":
      return `${sideText(row)} is favoured`;
    case "worth testing":
    case "a difference, smaller than counts":
      return `${verdict.verdict}: ${sideText(row)}`;
    case "cannot be separated":
      return verdict.reason;
    default:
      return verdict.verdict;
  }
};

/** The same without its numbers and reasons. */
export const verdictShort = (row: VariableRow): string =>
  row.verdict.verdict === "cannot be separated"
    ? row.verdict.verdict
    : verdictWords(row).replace(/ \(.*\)$/, "");

/** What stands out among the variables of one kind of outcome, in a few words that end in a full stop. */
export const verdictsInShort = (table: VariableTable, family: string): string => {
  const rows = table.rows.filter((row) => row.family === family);
  const of = (verdict: VerdictName) => rows.filter((row) => row.verdict.verdict === verdict);
  const names = (some: readonly VariableRow[], sided: boolean) =>
    some
      .map((row) =>
        !sided
          ? row.axis.label
          : row.axis.kind === "levels"
            ? sideText(row)
            : `${sideText(row)} ${row.axis.label}`,
      )
      .join(", ");
  const parts = [
    ...(of("favoured").length === 0 ? [] : [`${names(of("favoured"), true)} favoured`]),
    ...(of("worth testing").length === 0
      ? []
      : [`worth testing: ${names(of("worth testing"), true)}`]),
    ...(of("no difference that counts").length === 0
      ? []
      : [`${names(of("no difference that counts"), false)} make no difference that counts`]),
  ];
  return `${capital(family)}: ${parts.length === 0 ? "no variable stands out inside studies" : parts.join("; ")}.`;
};

const told = (row: VariableRow): boolean => row.verdict.verdict !== "not studied";
const isUnsure = ({ within }: VariableRow): boolean =>
  within !== undefined && within.degreesOfFreedom < trustedFreedom;

/**
 * What a file knows of every protocol variable for one outcome family; variables not studied stand in a note with
 * the reason.
 *
 * @param table from `variableTable`
 * @param family one of its families
 */
export const variablesTable = (table: VariableTable, family: string): Table => {
  const { scale } = table;
  const own = table.rows.filter((row) => row.family === family);
  const rows = own.filter(told);
  const amount = own[0] === undefined ? "" : shownAmount(own[0].amount, scale);
  const cells = (row: VariableRow): Readonly<Record<string, string>> => {
    const { axis, compared, span, within, adjustedP } = row;
    const reach = compared ?? span;
    const doses = reach === undefined ? "" : doseSpan(axis, reach);
    const evidence = `${row.studiesWithin} of ${row.studies}`;
    const p = within === undefined ? "" : pValueCell(within.p);
    const among = adjustedP === undefined ? "" : pValueCell(adjustedP);
    return {
      variable: capital(nameText(row)),
      compared: doses,
      evidence,
      comparedShort: `${axis.kind === "levels" ? axis.levels![1] : doses}; ${evidence}`,
      people: formatCount(row.people),
      within:
        within === undefined ? "—" : `${doseShown(within, scale)}${isUnsure(row) ? " †" : ""}`,
      p,
      among,
      both: p === "" ? "" : `${p}; ${among}`,
      between: row.between === undefined ? "—" : doseShown(row.between, scale),
      agreement: row.agreement === "none" ? "" : row.agreement,
      spread:
        row.spread === undefined
          ? ""
          : scaleDisplay(scale).shownAsPercent
            ? `${formatNumber(percentFromLogRatio(row.spread), { digits: 1 })}%`
            : formatNumber(row.spread, { digits: 2 }),
      verdict: verdictWords(row),
      verdictShort: verdictWords(row).replace(/ \(.*\)$/, ""),
    };
  };
  const reasons = new Set(
    own.filter((row) => !told(row)).map((row) => row.missing.within ?? row.verdict.reason),
  );
  const [variable, within, verdict] = [
    left("variable", "Variable"),
    right("within", "Change over it, within studies"),
    left("verdict", "Verdict"),
  ];
  return {
    id: `variables-${kebabName(family)}`,
    title: `Which variables matter: ${family}`,
    columns: [
      variable,
      left("compared", "Compared"),
      left("evidence", "Studies that compare it"),
      right("people", "People"),
      within,
      right("p", "p"),
      right("among", "p among all"),
      right("between", "Between studies"),
      left("agreement", "Agreement"),
      right("spread", "Spread left"),
      verdict,
    ],
    narrowColumns: [
      variable,
      left("comparedShort", "Compared; studies"),
      { ...within, label: "Change" },
      right("both", "p; among all"),
      right("between", "Between studies"),
      left("verdictShort", "Verdict"),
    ],
    rows: rows.map(cells),
    notes: [
      `Changes of the effect from the lowest to the highest dose compared, with ${confidenceWords(table.confidence)} intervals; what counts for ${family} is ${amount}. Studies: those that compare the variable, of all that have it.${table.questions === 0 ? "" : ` p among all: held to all ${counted(table.questions, "question")} of the table at once (Holm).`}`,
      ...(rows.some(isUnsure)
        ? [
            "† fewer than four degrees of freedom: the interval is not to be relied on, and nothing is favoured by it.",
          ]
        : []),
      ...(rows.some(({ within: answer, compared }) => answer && compared?.endsCompared === false)
        ? [
            `No one study compared the two ends of ${rows
              .filter(({ within: answer, compared }) => answer && compared?.endsCompared === false)
              .map((row) => `${row.axis.label} (${doseSpan(row.axis, row.compared!)})`)
              .join(", ")}: what is said of these ends rests on the curve's shape.`,
          ]
        : []),
      "Agreement of the answer between studies with the one within studies: agree, differ, or neither where that cannot be told. Spread left: standard deviation of the true effects that the variable does not explain.",
      ...(reasons.size === 0
        ? []
        : [`Not studied by rows with a weight: ${[...reasons].map(plainReason).join("; ")}.`]),
    ],
  };
};

/** The reason names the variable itself; what would be said twice is left out. */
const plainReason = (reason: string): string => reason.replace(/: no slope for .*$/, "");

/** Rules of the verdicts and how many questions were asked at once, as footnotes for the whole table. */
export const variablesRules = ({ questions, confidence }: VariableTable): readonly string[] => {
  const level = 1 - confidence;
  return [
    "Verdicts follow stated rules and rest on arms of one study set against each other, over the chain of doses that studies link. Studies set against each other never give more than “cannot be told”, since they differ in everything else too.",
    `Favoured: p under ${plainNumber(Number(level.toPrecision(3)))} among all questions of the table, on four degrees of freedom or more. Worth testing: p under it by itself only. No difference that counts: the 90% interval of every pair of doses lies inside the amount, on four degrees of freedom or more. Doses that move together inside studies (r of 0.8 or more) cannot be separated, and neither is favoured.`,
    questions === 0
      ? "No variable is compared inside three studies or more, so that nothing is asked."
      : `${counted(questions, "within-study question is", "within-study questions are")} asked at once. Without any true difference a table like this favours something in at most ${sharePercent(level)} of files, but finds something worth testing in up to ${sharePercent(1 - confidence ** questions)}.`,
  ];
};

/** Which variables stand under which verdict, family by family: what is told, then what is not. */
export const variablesSentences = (
  table: VariableTable,
): readonly Readonly<{ told: string; rest: string }>[] =>
  table.families.map((family) => {
    const { scale, confidence, questions } = table;
    const rows = table.rows.filter((row) => row.family === family && told(row));
    const of = (verdict: VerdictName) => rows.filter((row) => row.verdict.verdict === verdict);
    const name = capital(family);
    if (rows.length === 0) return { told: `${name}: no variable can be compared.`, rest: "" };
    const over = (row: VariableRow): string =>
      `${row.axis.kind === "levels" ? "" : "from "}${doseSpan(row.axis, row.compared!)}`;
    const change = (row: VariableRow): string =>
      `${doseShown(row.within!, scale, `${confidenceWords(confidence)} interval `)} ${over(row)}`;
    const sure = (row: VariableRow): string =>
      isUnsure(row) ? "an interval that is not to be relied on" : change(row);
    const list = (verdict: VerdictName, words: string, one: (row: VariableRow) => string) => {
      const some = of(verdict);
      return some.length === 0 ? [] : [`${words}${some.map(one).join("; ")}`];
    };
    const sided = (row: VariableRow): string =>
      row.axis.kind === "levels" ? sideText(row) : `${sideText(row)} ${nameText(row)}`;
    const parts = [
      ...list(
        "favoured",
        "",
        (row) =>
          `${sided(row)} is favoured (${change(row)}; ${pValueText(row.within!.p)}, among all ${counted(questions, "question")} ${pValueText(row.adjustedP!)})`,
      ),
      ...list(
        "worth testing",
        "worth testing: ",
        (row) =>
          `${sided(row)} (${sure(row)}; ${pValueText(row.within!.p)}, among all ${pValueText(row.adjustedP!)})`,
      ),
      ...list(
        "a difference, smaller than counts",
        "a difference, smaller than counts: ",
        (row) => `${sided(row)} (${change(row)})`,
      ),
      ...list(
        "no difference that counts",
        "no difference that counts: ",
        (row) =>
          `${nameText(row)}, ${over(row)} (${counted(row.studiesWithin, "study", "studies")}${row.compared!.endsCompared ? "" : "; none compared both ends, so they rest on the curve's shape"})`,
      ),
    ];
    const unclear = of("cannot be told");
    const onlyBetween = unclear.filter(({ within }) => within === undefined).length;
    // Of two that cannot be separated from each other one is named.
    const apart = of("cannot be separated").filter(
      (row, place, all) =>
        !all
          .slice(0, place)
          .some(
            ({ axis, inseparable }) =>
              axis === row.inseparable!.axis && inseparable!.axis === row.axis,
          ),
    );
    const rest = [
      ...apart.map((row) => `${nameText(row)} ${row.verdict.reason}`),
      ...(unclear.length === 0
        ? []
        : [
            `${counted(unclear.length, "variable")} cannot be told${onlyBetween === 0 ? "" : `, ${onlyBetween === unclear.length ? "" : `${onlyBetween} of them `}compared only between studies that differ in everything else too`}`,
          ]),
    ];
    return {
      told: `${name}: ${parts.length === 0 ? "no variable is favoured by arms of one study" : parts.map((part, place) => (place === 0 ? part : capital(part))).join(". ")}.`,
      rest: rest.length === 0 ? "" : `${name}, not told: ${rest.join("; ")}.`,
    };
  });

const numberCell = (value: number | undefined): string =>
  value === undefined || value === Infinity ? "" : plainNumber(value);

const coefficientCells = (
  name: "within" | "between" | "difference",
  answer: Coefficient | undefined,
): Readonly<Record<string, string>> => ({
  [`${name}Estimate`]: numberCell(answer?.estimate),
  [`${name}StandardError`]: numberCell(answer?.standardError),
  [`${name}Low`]: numberCell(answer?.interval.low),
  [`${name}High`]: numberCell(answer?.interval.high),
  [`${name}DegreesOfFreedom`]: numberCell(answer?.degreesOfFreedom),
  [`${name}P`]: numberCell(answer?.p),
});

/** Every row of the table with every digit, on the effects' own scale, for a CSV. */
export const variablesDataTable = (table: VariableTable): Table => {
  const rows = table.rows.map((row): Readonly<Record<string, string>> => ({
    family: row.family,
    variable: row.axis.name,
    label: row.axis.label,
    unit: row.axis.unit,
    sameContrast: row.withIt.map(({ name }) => name).join(" "),
    spanLow: numberCell(row.span?.low),
    spanHigh: numberCell(row.span?.high),
    comparedLow: numberCell(row.compared?.low),
    comparedHigh: numberCell(row.compared?.high),
    effects: String(row.effects),
    studies: String(row.studies),
    studiesWithin: String(row.studiesWithin),
    people: String(row.people),
    ...coefficientCells("within", row.within),
    withinPAmongAll: numberCell(row.adjustedP),
    ...coefficientCells("between", row.between),
    ...coefficientCells("difference", row.difference),
    agreement: row.agreement,
    spread: numberCell(row.spread),
    amount: numberCell(row.amount),
    verdict: row.verdict.verdict,
    side: row.verdict.side ?? "",
    reason: row.verdict.reason,
    missingWithin: row.missing.within ?? "",
    missingBetween: row.missing.between ?? "",
  }));
  return {
    id: "variables",
    title: "Protocol variables by outcome family",
    columns: Object.keys(rows[0] ?? { family: "" }).map((key) => left(key, key)),
    rows,
    notes: [...variablesRules(table)],
  };
};
