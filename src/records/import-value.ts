import type { CellProblem } from "./cell-reading.js";
import { cleanCell } from "./clean-cell.js";
import type { ImportCondition, ImportRule } from "./import-map.js";
import { saysNotReported } from "./not-reported.js";
import { numberText, readTwoWays } from "./number-text.js";
import type { DecimalMarks } from "./number-text.js";

/** One source row as the rules see it: cell by column name, clean. */
export type SourceRow = Readonly<{
  cell: (column: string) => string;
  marks: DecimalMarks;
  /** Called when a cell cannot be converted, and is carried over as it stands, or is a number that can be read two ways. */
  doubt: (column: string, value: string, problem: CellProblem) => void;
}>;

export const conditionHolds = (condition: ImportCondition, row: SourceRow): boolean => {
  if ("all" in condition) return condition.all.every((part) => conditionHolds(part, row));
  if ("any" in condition) return condition.any.some((part) => conditionHolds(part, row));
  if ("not" in condition) return !conditionHolds(condition.not, row);
  const cell = row.cell(condition.column);
  if ("equals" in condition) return cell === condition.equals;
  if ("oneOf" in condition) return condition.oneOf.includes(cell);
  return (cell !== "") === condition.filled;
};

/**
 * The text of one codebook cell; blank when the rule finds nothing.
 *
 * @param isNumber whether the cell's column takes a number, which is then written with a decimal point and nothing else
 *   between its digits: what marks the source's decimals does not mark the new file's
 */
export const importValue = (rule: ImportRule, row: SourceRow, isNumber = false): string => {
  if ("constant" in rule) return rule.constant;
  if ("text" in rule) return filledText(rule.text, row);
  if ("first" in rule) {
    for (const { when, use } of rule.first) {
      if (when !== undefined && !conditionHolds(when, row)) continue;
      const value = importValue(use, row, isNumber);
      if (value !== "") return value;
    }
    return "";
  }
  const cell = row.cell(rule.column);
  const translated = rule.values?.[cell];
  if (translated !== undefined) return translated;
  if (rule.values !== undefined && rule.otherwise === "blank") return "";
  if (rule.factor !== undefined || rule.offset !== undefined) return converted(cell, rule, row);
  const read = isNumber ? numberText(cell, row.marks) : undefined;
  if (read?.kind === "ambiguous") row.doubt(rule.column, cell, readTwoWays(read));
  return read?.kind === "number" && read.mark !== "none" ? String(read.value) : cell;
};

/** A column in braces; a brace inside ends the search, so that open braces cost no more than other text. */
const bracedColumn = /\{([^{}]*)\}/g;

const filledText = (template: string, row: SourceRow): string => {
  let named = 0;
  let filled = 0;
  const text = template.replace(bracedColumn, (_, column: string) => {
    const cell = row.cell(column);
    named += 1;
    if (cell !== "") filled += 1;
    return cell;
  });
  return named > 0 && filled === 0 ? "" : cleanCell(text);
};

const converted = (
  cell: string,
  rule: Readonly<{ column: string; factor?: number | undefined; offset?: number | undefined }>,
  row: SourceRow,
): string => {
  if (cell === "" || saysNotReported(cell)) return cell;
  const number = numberText(cell.endsWith("%") ? cell.slice(0, -1).trimEnd() : cell, row.marks);
  if (number.kind === "ambiguous") {
    row.doubt(rule.column, cell, readTwoWays(number));
    return cell;
  }
  if (number.kind !== "number") {
    row.doubt(rule.column, cell, {
      code: "not-a-number",
      message: "the cell is to be converted and is no number; it is carried over as it stands",
      mend: "mend the source, or translate the cell in the map's values",
    });
    return cell;
  }
  const value = number.value * (rule.factor ?? 1) + (rule.offset ?? 0);
  // Twelve digits hide the last bit's noise of the multiplication and nothing a source prints.
  return Number.isFinite(value) ? String(Number(value.toPrecision(12))) : cell;
};

/** Every source column a rule or condition names. */
export const columnsNamed = (part: ImportRule | ImportCondition): readonly string[] => {
  if ("constant" in part) return [];
  if ("text" in part) return [...part.text.matchAll(bracedColumn)].map((match) => match[1] ?? "");
  if ("first" in part) {
    return part.first.flatMap(({ when, use }) => [
      ...(when === undefined ? [] : columnsNamed(when)),
      ...columnsNamed(use),
    ]);
  }
  if ("all" in part) return part.all.flatMap(columnsNamed);
  if ("any" in part) return part.any.flatMap(columnsNamed);
  if ("not" in part) return columnsNamed(part.not);
  return [part.column];
};
