import * as z from "zod";
import type { CellProblem, CellReading } from "./cell-reading.js";
import { blankCell, notReportedCell } from "./cell-reading.js";
import { choiceCell } from "./choice-cell.js";
import { cleanCell } from "./clean-cell.js";
import type { CodebookField } from "./codebook-field.js";
import { saysNotReported } from "./not-reported.js";
import { numberCell } from "./number-cell.js";
import { numberLimits, withinLimits } from "./number-limits.js";
import { numberListCell } from "./number-list-cell.js";
import type { DecimalMarks } from "./number-text.js";

/** What kind of cells a field's schema admits. */
export type CellKind = "text" | "number" | "numbers" | "choice";

export const cellKindOf = (field: CodebookField): CellKind => {
  if (field.schema instanceof z.ZodEnum) return "choice";
  if (field.schema instanceof z.ZodNumber) return "number";
  if (field.schema instanceof z.ZodArray) return "numbers";
  return "text";
};

/** Allowed values of a choice field, in the codebook's order. */
export const choicesOf = (field: CodebookField): readonly string[] =>
  field.schema instanceof z.ZodEnum ? field.schema.options.map(String) : [];

/** Turns a cell of one column into what it holds. */
export type ColumnReader = (raw: string) => CellReading;

const readingsKept = 4096;
/** The longest cell of a number or a choice that is read, characters. */
const longestCell = 200;
const simpleNumber = /^-?\d{1,15}(?:\.\d{1,12})?$/;

/**
 * Reader of one column, compiled once from its field: the schema gives kind, limits and choices.
 *
 * Readings are remembered by the cell's text, because columns of a long table repeat themselves; plain
 * numbers within the limits take a short way that no other check would change.
 */
export const columnReader = (field: CodebookField, marks: DecimalMarks): ColumnReader => {
  const full = fullReader(field, marks);
  const longest =
    (field.schema instanceof z.ZodString ? field.schema.maxLength : null) ?? longestCell;
  const kept = new Map<string, CellReading>();
  const remembered: ColumnReader = (raw) => {
    const known = kept.get(raw);
    if (known !== undefined) return known;
    const cell = cleanCell(raw);
    const reading =
      cell === ""
        ? blankCell
        : saysNotReported(cell)
          ? notReportedCell
          : cell.length > longest
            ? ({ kind: "problem", problem: longCell(longest) } as const)
            : full(cell);
    if (kept.size >= readingsKept) kept.clear();
    kept.set(raw, reading);
    return reading;
  };
  if (cellKindOf(field) !== "number" || marks.comma) return remembered;
  const limits = numberLimits(field.schema);
  const least = field.fractionBelow ?? -Infinity;
  return (raw) => {
    if (simpleNumber.test(raw)) {
      const value = Number(raw);
      if (value !== 0 && value >= least && withinLimits(value, limits))
        return { kind: "value", value };
    }
    return remembered(raw);
  };
};

/** A cell longer than its column takes. */
export const longCell = (longest: number): CellProblem => ({
  code: "long-cell",
  message: `the cell holds more than ${String(longest).replace(/\B(?=000$)/, ",")} characters, which are the most that are read`,
  mend: "shorten it; a quotation mark that is never closed may have swallowed other cells",
});

const fullReader = (field: CodebookField, marks: DecimalMarks): ColumnReader => {
  const kind = cellKindOf(field);
  if (kind === "choice") return choiceCell(choicesOf(field), field.spellings);
  if (kind === "number") {
    const limits = numberLimits(field.schema);
    return (cell) => numberCell(cell, field, limits, marks);
  }
  if (field.schema instanceof z.ZodArray) {
    const limits = numberLimits(field.schema.element as z.ZodType);
    return (cell) => numberListCell(cell, field, limits, marks);
  }
  return (cell) => ({ kind: "value", value: cell });
};
