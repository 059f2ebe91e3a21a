import type { CellReading } from "./cell-reading.js";
import { problemCell } from "./cell-reading.js";
import type { CodebookField } from "./codebook-field.js";
import { numberCell } from "./number-cell.js";
import type { NumberLimits } from "./number-limits.js";
import type { DecimalMarks } from "./number-text.js";

/**
 * What a cell that may hold several numbers holds: "30 / 60 / 90". Slashes, semicolons, vertical bars,
 * "and", and commas followed by a space separate.
 */
export const numberListCell = (
  cell: string,
  field: CodebookField,
  limits: NumberLimits,
  marks: DecimalMarks,
): CellReading => {
  const parts = cell.split(/\s*[/;|]\s*|\s+and\s+|\s*&\s*|,\s+/).filter((part) => part !== "");
  const values: number[] = [];
  for (const part of parts) {
    const reading = numberCell(part, field, limits, marks);
    if (reading.kind !== "value") return reading;
    values.push(reading.value as number);
  }
  return values.length === 0
    ? problemCell("not-a-number", "the cell holds no number", `type ${field.example}`)
    : { kind: "value", value: values };
};
