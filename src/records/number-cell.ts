import type { CellReading, CellRemark } from "./cell-reading.js";
import { problemCell } from "./cell-reading.js";
import type { CodebookField } from "./codebook-field.js";
import { rangeBehindDate } from "./date-text.js";
import type { NumberLimits } from "./number-limits.js";
import { limitsText, withinLimits } from "./number-limits.js";
import type { DecimalMarks } from "./number-text.js";
import { numberText, readTwoWays } from "./number-text.js";

// The first digit ends the run of marks before it: one way to match, however long the cell.
const digits = String.raw`[+\-−]?[.,]*\d[\d.,]*`;
const range = new RegExp(
  String.raw`^(${digits})([^\d\s.,]*)\s*(?:-|–|—|−|‐|‑|\bto\b|\.\.\.?|…)\s*(${digits})(.*)$`,
  "u",
);
const withUnit = /^(.*?[\d.,])\s*([^\d\s.,].*)$/su;
const twoNumbers = /^([^±(]*\d[^±(]*)(?:±|\+\/-|\+-|\()\s*([\d.,]+)/;
/** "p = ", "P-value" before the number. */
const letterP = /^p(?:[- ]?value)?\s*=?\s*/i;
const bound = /^([<>≤≥])\s*=?\s*([.,]?\d[\d.,]*)$/;
const notSignificant = /^(?:n\.?\s?s\.?|(?:not?|non)[ -](?:statistically )?significant)$/i;
/** What "not significant" means where no level stands beside it. */
const usualLevel = 0.05;

/**
 * What a cell of a number column holds.
 *
 * @param typed a clean cell, not blank and not "not reported"
 * @param field its field in the codebook
 * @param limits the field's limits
 * @param marks decimal marks the file surely uses
 */
export const numberCell = (
  typed: string,
  field: CodebookField,
  limits: NumberLimits,
  marks: DecimalMarks,
): CellReading => {
  const cell = field.bounds === true ? typed.replace(letterP, "") : typed;
  const word = field.words?.[cell.toLowerCase()];
  if (word !== undefined) return checked(word, "none", field, limits);
  if (field.bounds === true) {
    const [, sign, level = ""] = bound.exec(cell) ?? [];
    const read = numberText(level, marks);
    const p = notSignificant.test(cell) ? usualLevel : read.kind === "number" ? read.value : 0;
    if (p > 0 && p < 1) {
      const side = sign === "<" || sign === "≤" ? "below" : "above";
      return { kind: "bound", bound: { side, p } };
    }
  }
  const form = limitsText(limits);
  const whole = numberText(cell, marks);
  if (whole.kind === "number") return checked(whole.value, whole.mark, field, limits);
  if (whole.kind === "ambiguous") {
    return { kind: "problem", problem: readTwoWays(whole) };
  }
  if (/^#(?:n\/a|ref|value|div|name|num|null)/i.test(cell)) {
    return problemCell(
      "spreadsheet-error",
      "the cell holds a spreadsheet's error, not a number",
      "mend the formula in the spreadsheet, or leave the cell blank",
    );
  }
  const dated = rangeBehindDate(cell);
  if (dated !== undefined) {
    return problemCell(
      "spreadsheet-date",
      `the cell holds a date; a spreadsheet probably made it from ${dated}`,
      `format the column as text and type ${dated} again`,
      [dated],
    );
  }
  const ends = range.exec(cell);
  if (ends !== null) {
    const reading = rangeReading(ends, field, limits, marks);
    if (reading !== undefined) return reading;
  }
  const two = twoNumbers.exec(cell);
  if (two !== null) {
    const [, mean = "", spread = ""] = two;
    return problemCell(
      "two-numbers",
      "the cell holds two numbers",
      `leave ${mean.trim()} here${field.spreadColumn === undefined ? "; there is no column for its spread" : ` and write ${spread} into ${field.spreadColumn}`}`,
    );
  }
  const inexact = /^(?:[<>≤≥~≈∼]|about|approx\.?|approximately|around|circa|ca?\.)\s*=?\s*\d/i;
  if (inexact.test(cell)) {
    return problemCell(
      "inexact-number",
      "the cell holds a bound or an approximation",
      "type the exact number; if the source prints only a bound, leave the cell blank and put the bound into notes",
    );
  }
  const parts = withUnit.exec(cell);
  const unit = (parts?.[2] ?? "").trim().toLowerCase();
  const number = parts === null ? undefined : numberText((parts[1] ?? "").trim(), marks);
  if (number?.kind === "number") {
    return isUnitWord(unit, field)
      ? checked(number.value, "unit word taken off", field, limits)
      : wrongUnit(unit, number.value, field);
  }
  return problemCell(
    "not-a-number",
    `the cell is not ${form}`,
    `type ${form}, such as ${field.example}`,
  );
};

const isUnitWord = (word: string, field: CodebookField): boolean =>
  word === "" ||
  word === field.unit ||
  (field.unitWords ?? []).includes(word.replace(/\.$/, "").replace(/\s*\/\s*/, "/"));

const wrongUnit = (unit: string, value: number, field: CodebookField): CellReading => {
  const wanted = field.unit === undefined ? "a plain number" : `${field.title} in ${field.unit}`;
  const minutes = field.unit === "s" && /^min/.test(unit);
  return problemCell(
    "unexpected-unit",
    `the unit "${unit}" does not belong here; the column takes ${wanted}`,
    minutes
      ? `write ${value * 60}`
      : /^rm\b/.test(unit)
        ? "a repetition maximum is no percentage: leave the cell blank and write it into notes"
        : "convert the number, or move it to the column it belongs to",
    minutes ? [String(value * 60)] : undefined,
  );
};

const rangeReading = (
  ends: RegExpExecArray,
  field: CodebookField,
  limits: NumberLimits,
  marks: DecimalMarks,
): CellReading | undefined => {
  const [, lowText = "", lowUnit = "", highText = "", highUnit = ""] = ends;
  const low = numberText(lowText, marks);
  const high = numberText(highText, marks);
  const unitsFit = [lowUnit, highUnit].every((unit) =>
    isUnitWord(unit.trim().toLowerCase(), field),
  );
  if (low.kind !== "number" || high.kind !== "number" || !unitsFit) return undefined;
  if (field.rangeHigh === undefined) {
    return problemCell(
      "range-for-number",
      "the cell holds a range where one number belongs",
      "type the one number this row is of; several sites or groups are several rows",
    );
  }
  if (low.value > high.value) {
    return problemCell(
      "range-reversed",
      "the range runs downwards",
      `type ${high.value}–${low.value}, if that is meant`,
      [`${high.value}–${low.value}`],
    );
  }
  const reading = checked(low.value, "range", field, limits);
  const top = checked(high.value, "range", field, limits);
  if (reading.kind !== "value") return reading;
  return top.kind === "value" ? { ...reading, high: high.value } : top;
};

const checked = (
  printed: number,
  mark: CellRemark | "none",
  field: CodebookField,
  limits: NumberLimits,
): CellReading => {
  // "-0.00" is zero like any other.
  const value = printed === 0 ? 0 : printed;
  if (!withinLimits(value, limits)) {
    const dayNumber = value > 36_000 && value < 55_000 && limits.high < 36_000;
    return problemCell(
      limits.integer && !Number.isInteger(value) ? "not-whole" : "out-of-range",
      `the number is not ${limitsText(limits)}`,
      dayNumber
        ? "it looks like a spreadsheet's day number: format the column as text and type the range again"
        : `check it against the source; the column takes ${limitsText(limits)}`,
    );
  }
  // Nothing was ever measured to be so large or so near to zero, and its square is beyond computing.
  if (value !== 0 && !(Math.abs(value) < 1e100 && Math.abs(value) > 1e-100))
    return problemCell(
      "out-of-range",
      `the number is too ${Math.abs(value) > 1 ? "large" : "near to zero"} to be a measurement`,
      "check its exponent against the source",
    );
  if (field.fractionBelow !== undefined && value > 0 && value < field.fractionBelow) {
    const percentage = String(Number((value * 100).toPrecision(12)));
    return problemCell(
      "fraction-for-percentage",
      "the number looks like a fraction where a percentage belongs",
      `write ${percentage} if that is meant`,
      [percentage],
    );
  }
  return mark === "none" ? { kind: "value", value } : { kind: "value", value, remark: mark };
};
