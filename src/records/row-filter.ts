import { CallError } from "../errors.js";
import type { OutcomeRow } from "./outcome-row.js";
import { checkedColumn, rowValue } from "./row-value.js";

/** One condition on a column: `muscle_length = long`, `weeks >= 8`. */
export type RowCondition = Readonly<{
  column: string;
  operator: "=" | "!=" | "<" | "<=" | ">" | ">=";
  /** Alternatives: any of them fulfils `=`, none of them may be met for `!=`. */
  values: readonly string[];
}>;

/** Letters of the longest condition with "between" that is looked for; of longer ones the search would take too long. */
const longestBetween = 500;
const betweenPattern = /^([\p{L}_][\p{L}\p{N}_ -]*?)\s+between\s+(.+?)\s+and\s+(.+)$/iu;
const pattern = /^([\p{L}_][\p{L}\p{N}_ -]*)(<=|>=|!=|=|<|>)(.+)$/u;

/**
 * Conditions in the short form people type: `outcome_family=strength, weeks>=8`.
 *
 * Conditions are separated by commas and must all hold; alternatives within one are separated by `|`. Both ends of
 * `weeks between 7 and 16` belong to it.
 *
 * @param text  the conditions, e.g. `muscle_length=long|middle, weeks>=8`
 * @returns one condition per comma-separated part
 * @throws {CallError} "unreadable-condition" when a part has no column, operator or value
 */
export const parseRowFilter = (text: string): readonly RowCondition[] =>
  text.split(",").flatMap((part): readonly RowCondition[] => {
    const words = part.length > longestBetween ? "" : part.trim();
    const [, of, low, high] = betweenPattern.exec(words) ?? [];
    if (of !== undefined)
      return [
        { column: columnIn(of), operator: ">=", values: [low!] },
        { column: columnIn(of), operator: "<=", values: [high!] },
      ];
    const match = pattern.exec(part.trim());
    if (match === null)
      throw new CallError({
        code: "unreadable-condition",
        where: "a row filter",
        needs: "conditions such as hold between 3 and 10, outcome_family=strength, weeks>=8",
        got: `"${part.trim()}"`,
      });
    const [, column = "", operator = "=", values = ""] = match;
    return [
      {
        column: columnIn(column),
        operator: operator as RowCondition["operator"],
        values: values.split("|").map((value) => value.trim()),
      },
    ];
  });

const columnIn = (written: string): string => written.trim().toLowerCase().replace(/[ -]/g, "_");

const same = (actual: string | number, wanted: string): boolean =>
  typeof actual === "number"
    ? actual === Number(wanted)
    : actual.toLowerCase() === wanted.toLowerCase();

const meetsOne = (condition: RowCondition, actual: string | number | undefined): boolean => {
  if (condition.operator === "=")
    return actual !== undefined && condition.values.some((value) => same(actual, value));
  if (condition.operator === "!=")
    return actual === undefined || !condition.values.some((value) => same(actual, value));
  const limit = Number(condition.values[0]);
  if (Number.isNaN(limit))
    throw new CallError({
      code: "not-a-number",
      where: `the condition on ${condition.column}`,
      needs: `a number after ${condition.operator}`,
      got: `"${condition.values[0] ?? ""}"`,
    });
  // A blank never meets a bound: what was not coded cannot be said to lie on either side.
  if (typeof actual !== "number") return false;
  if (condition.operator === "<") return actual < limit;
  if (condition.operator === "<=") return actual <= limit;
  if (condition.operator === ">") return actual > limit;
  return actual >= limit;
};

/**
 * Whether every condition holds for one row.
 *
 * @param conditions  from `parseRowFilter`
 * @param valueOf     the row's value in a column (undefined when blank)
 */
export const meetsRowFilter = (
  conditions: readonly RowCondition[],
  valueOf: (column: string) => string | number | undefined,
): boolean => conditions.every((condition) => meetsOne(condition, valueOf(condition.column)));

/**
 * The rows that meet every condition.
 *
 * @param text  conditions as people type them, on columns of the codebook or of the file's own
 * @throws {CallError} "unreadable-condition", "unknown-column" with the nearest there is, "not-a-number"
 */
export const rowsThatMeet = (rows: readonly OutcomeRow[], text: string): readonly OutcomeRow[] => {
  const conditions = parseRowFilter(text);
  for (const { column } of conditions) checkedColumn(column, rows);
  return rows.filter((row) => meetsRowFilter(conditions, (column) => rowValue(row, column)));
};
