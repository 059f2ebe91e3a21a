/**
 * The table of protocol variables as people read it: one row a variable, one table an outcome family.
 *
 * Longer than most: wide, narrow and data forms share their words.
 */
import type { VariableRow, VariableTable } from "../dose/variable-table.js";
import type { EffectScale } from "../effects/effect.js";
import { percentFromLogRatio } from "../effects/percent-from-log-ratio.js";
import type { Coefficient } from "../synthesis/synthesis-results.js";
import { doseShown, kebabName } from "./dose-table.js";
import {
  capital,
  confidenceWords,
  formatCount,
  formatNumber,
  plainNumber,
} from "./number-format.js";
import { scaleDisplay } from "./scale-display.js";
import { shownDose } from "./shown-dose.js";
import type { Column, Table } from "./table.js";

const left = (key: string, label: string): Column => ({ key, label, align: "left" });
const right = (key: string, label: string): Column => ({ key, label, align: "right" });

/** An amount of a scale as people say it: `5%`, `0.2 pooled standard deviations`. */
export const shownAmount = (amount: number, scale: EffectScale): string =>
  scaleDisplay(scale).shownAsPercent
    ? `${Number(percentFromLogRatio(amount).toPrecision(3))}%`
    : `${Number(amount.toPrecision(3))} ${scaleDisplay(scale).unit}`;

/** The variable with its step: `Hold length, +10 s`; units stand with the step, so spans need none. */
const stepText = ({ axis }: VariableRow): string =>
  axis.kind === "short to long"
    ? "Muscle length, long for short"
    : `${capital(axis.label)}, +${shownDose(axis.step, { ...axis, unit: axis.unit === "weeks" ? "" : axis.unit })}`;

const spanText = ({ axis, span }: VariableRow, withUnit: boolean): string => {
  if (span === undefined) return "";
  if (axis.kind === "short to long")
    return span.low === span.high
      ? shownDose(span.low, axis)
      : withUnit
        ? "short and long"
        : "both";
  const number = (value: number, unit: string): string => shownDose(value, { ...axis, unit });
  const last = withUnit || axis.unit === "°" ? axis.unit : "";
  if (span.low === span.high) return number(span.low, last);
  return `${number(span.low, axis.unit === "°" ? "°" : "")} to ${number(span.high, last)}`;
};

/** The verdict in the variable's own words: `more is favoured`, `long is favoured`, `no difference above 5%`. */
export const verdictWords = (
  { axis, verdict: { verdict }, amount }: VariableRow,
  scale: EffectScale,
): string => {
  const [more, less] = axis.kind === "short to long" ? ["long", "short"] : ["more", "less"];
  switch (verdict) {
    case "more is favoured":
      return `${more} is favoured`;
    case "less is favoured":
      return `${less} is favoured`;
    case "no difference larger than the stated amount":
      return `no difference above ${shownAmount(amount, scale)}`;
    default:
      return verdict;
  }
};

const told = (row: VariableRow): boolean => row.verdict.verdict !== "not studied";

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
  const few = rows.some(({ within }) => within !== undefined && within.degreesOfFreedom < 4);
  const cells = (row: VariableRow): Readonly<Record<string, string>> => {
    const between = row.between === undefined ? "—" : doseShown(row.between, scale);
    const mark = row.within !== undefined && row.within.degreesOfFreedom < 4 ? " †" : "";
    const evidence = `${row.studiesWithin} of ${row.studies}`;
    const people = formatCount(row.people);
    const compared = row.agreement === "agree" || row.agreement === "differ";
    return {
      step: capital(row.axis.stepWords),
      stepShort: stepText(row),
      span: spanText(row, true),
      spanShort: spanText(row, false),
      evidence,
      people,
      evidenceAndPeople: `${evidence}; ${people}`,
      within: row.within === undefined ? "—" : `${doseShown(row.within, scale)}${mark}`,
      between,
      betweenAndAgreement: compared ? `${between} ${row.agreement}` : between,
      agreement: row.agreement === "none" ? "" : row.agreement,
      spread:
        row.spread === undefined
          ? ""
          : scaleDisplay(scale).shownAsPercent
            ? `${formatNumber(percentFromLogRatio(row.spread), { digits: 1 })}%`
            : formatNumber(row.spread, { digits: 2 }),
      verdict: verdictWords(row, scale),
    };
  };
  const reasons = new Set(
    own.filter((row) => !told(row)).map((row) => row.missing.within ?? row.verdict.reason),
  );
  const [within, verdict] = [right("within", "Within studies"), left("verdict", "Verdict")];
  return {
    id: `variables-${kebabName(family)}`,
    title: `Which variables matter: ${family}`,
    columns: [
      left("step", "What changes"),
      left("span", "Studied"),
      left("evidence", "Studies that compare it"),
      right("people", "People"),
      within,
      right("between", "Between studies"),
      left("agreement", "Agreement"),
      right("spread", "Spread left"),
      verdict,
    ],
    narrowColumns: [
      left("stepShort", "Variable and step"),
      left("spanShort", "Studied"),
      left("evidenceAndPeople", "Studies; people"),
      within,
      right("betweenAndAgreement", "Between studies"),
      verdict,
    ],
    rows: rows.map(cells),
    notes: [
      `Changes of the effect for the step in the first column, with ${confidenceWords(table.confidence)} intervals; the stated amount for ${family} is ${amount}. Studies: those that compare the variable, of all that have it.`,
      ...(few
        ? [
            "† fewer than four degrees of freedom: the interval is not to be relied on, and the verdict asks the 99% interval.",
          ]
        : []),
      "Agreement of the answer between studies with the one within studies: agree, differ, or neither where that cannot be told. Spread left: standard deviation of the true effects that the variable does not explain.",
      ...(reasons.size === 0 ? [] : [`Not studied: ${[...reasons].map(plainReason).join("; ")}.`]),
    ],
  };
};

/** The reason names the variable itself; what would be said twice is left out. */
const plainReason = (reason: string): string => reason.replace(/: no slope for .*$/, "");

/** Rules of the verdicts and how many questions were asked at once, as footnotes for the whole table. */
export const variablesRules = ({
  rules,
  questions,
  confidence,
}: VariableTable): readonly string[] => [
  ...rules,
  `${questions} within-study ${questions === 1 ? "question is" : "questions are"} asked at once; without any true difference about ${formatNumber((1 - confidence) * questions, { digits: 0 })} of them would still seem to favour a side.`,
];

/** Which variables stand under which verdict, family by family, in sentences. */
export const variablesSentences = (table: VariableTable): readonly string[] =>
  table.families.map((family) => {
    const rows = table.rows.filter((row) => row.family === family && told(row));
    const of = (test: (row: VariableRow) => boolean, name: (row: VariableRow) => string) =>
      rows.filter(test).map(name);
    const favoured = of(
      ({ verdict }) => verdict.verdict.endsWith("is favoured"),
      (row) =>
        `${row.axis.label} (${verdictWords(row, table.scale).replace(" is favoured", "")}: ${doseShown(row.within!, table.scale, `${confidenceWords(table.confidence)} interval `)} for ${row.axis.stepWords})`,
    );
    const none = of(
      ({ verdict }) => verdict.verdict.startsWith("no difference"),
      ({ axis }) => axis.label,
    );
    const unclear = rows.filter(({ verdict }) => verdict.verdict === "unclear");
    const onlyBetween = unclear.filter(({ within }) => within === undefined).length;
    const counted = (count: number): string => `${count} ${count === 1 ? "variable" : "variables"}`;
    if (rows.length === 0) return `${capital(family)}: no variable can be compared.`;
    const amount = rows[0] === undefined ? "" : shownAmount(rows[0].amount, table.scale);
    const parts = [
      favoured.length === 0
        ? "no variable is favoured by arms of one study"
        : `arms of one study favour ${favoured.join(", ")}`,
      ...(none.length === 0 ? [] : [`no difference above ${amount} for ${none.join(", ")}`]),
      ...(unclear.length === 0
        ? []
        : [
            `unclear for ${counted(unclear.length)}${onlyBetween === 0 ? "" : `, ${onlyBetween} of them compared only between studies that differ in everything else too`}`,
          ]),
    ];
    return `${capital(family)}: ${parts.join("; ")}.`;
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
    step: numberCell(row.axis.step),
    spanLow: numberCell(row.span?.low),
    spanHigh: numberCell(row.span?.high),
    spanWithinLow: numberCell(row.spanWithin?.low),
    spanWithinHigh: numberCell(row.spanWithin?.high),
    effects: String(row.effects),
    studies: String(row.studies),
    studiesWithin: String(row.studiesWithin),
    people: String(row.people),
    ...coefficientCells("within", row.within),
    ...coefficientCells("between", row.between),
    ...coefficientCells("difference", row.difference),
    agreement: row.agreement,
    spread: numberCell(row.spread),
    amount: numberCell(row.amount),
    verdict: row.verdict.verdict,
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
