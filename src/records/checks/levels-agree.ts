import { columnOf, fieldNames, fieldOf } from "../codebook.js";
import type { FieldName } from "../codebook.js";
import type { OutcomeRow } from "../outcome-row.js";
import { armKey, rowIssue } from "./row-check.js";
import type { RowCheck } from "./row-check.js";

const fieldsAt = (level: "study" | "arm"): readonly FieldName[] =>
  fieldNames.filter((name) => fieldOf(name).level === level);

const same = (one: unknown, other: unknown): boolean =>
  one === other || (Array.isArray(one) && Array.isArray(other) && one.join() === other.join());

/**
 * Study-level and arm-level fields whose rows disagree: one doubt for every value that differs from the
 * first row that fills the field, naming both lines. Blank cells disagree with nothing.
 */
export const levelsAgree: RowCheck = (rows) => [
  ...disagreements(rows, fieldsAt("study"), (row) => row.study, "study"),
  ...disagreements(rows, fieldsAt("arm"), armKey, "arm"),
];

const disagreements = (
  rows: readonly OutcomeRow[],
  fields: readonly FieldName[],
  keyOf: (row: OutcomeRow) => string,
  level: string,
) => {
  const firsts = new Map<string, Partial<Record<FieldName, OutcomeRow>>>();
  const told = new Set<string>();
  return rows.flatMap((row) => {
    const key = keyOf(row);
    let first = firsts.get(key);
    if (first === undefined) firsts.set(key, (first = {}));
    const known = first;
    return fields.flatMap((field) => {
      const value = row[field];
      if (value === undefined) return [];
      const earlier = (known[field] ??= row);
      if (earlier === row || same(earlier[field], value)) return [];
      const doubt = `${key}\u0000${field}\u0000${String(value)}`;
      if (told.has(doubt)) return [];
      told.add(doubt);
      const there = earlier[field];
      return [
        rowIssue(row, field, "warning", {
          code: "rows-disagree",
          message: `${columnOf(field)} holds for the whole ${level}, and line ${earlier.line} says ${Array.isArray(there) ? there.join(" / ") : String(there)}`,
          mend: `make all rows of the ${level} agree, or give the rows another ${level} id`,
        }),
      ];
    });
  });
};
