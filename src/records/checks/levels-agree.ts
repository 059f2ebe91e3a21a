import type { Issue } from "../../errors.js";
import { columnOf, fieldNames, fieldOf } from "../codebook.js";
import type { FieldName } from "../codebook.js";
import type { OutcomeRow } from "../outcome-row.js";
import { rowIssue } from "./row-check.js";
import type { TableCheck } from "./row-check.js";

const fieldsAt = (level: "study" | "arm"): readonly FieldName[] =>
  fieldNames.filter((name) => fieldOf(name).level === level);

const same = (one: unknown, other: unknown): boolean =>
  one === other || (Array.isArray(one) && Array.isArray(other) && one.join() === other.join());

/** The row that first filled each field of one study or arm. */
type Firsts = Partial<Record<FieldName, OutcomeRow>>;

/**
 * Study-level and arm-level fields whose rows disagree: one doubt for every value that differs from the
 * first row that fills the field, naming both lines. Blank cells disagree with nothing.
 */
export const levelsAgree: TableCheck = (rows) => {
  const studyFields = fieldsAt("study");
  const armFields = fieldsAt("arm");
  const studies = new Map<string, Readonly<{ firsts: Firsts; arms: Map<string, Firsts> }>>();
  const told = new Set<string>();
  const issues: Issue[] = [];
  const compare = (
    row: OutcomeRow,
    fields: readonly FieldName[],
    firsts: Firsts,
    level: string,
  ) => {
    for (const field of fields) {
      const value = row[field];
      if (value === undefined) continue;
      const first = firsts[field];
      if (first === undefined) {
        firsts[field] = row;
        continue;
      }
      const there = first[field];
      if (there === value || same(there, value)) continue;
      const doubt = [level, row.study, level === "arm" ? row.arm : "", field, String(value)].join(
        "|",
      );
      if (told.has(doubt)) continue;
      told.add(doubt);
      issues.push(disagreement(row, field, first.line, there, level));
    }
  };
  for (const row of rows) {
    let study = studies.get(row.study);
    if (study === undefined) studies.set(row.study, (study = { firsts: {}, arms: new Map() }));
    let arm = study.arms.get(row.arm);
    if (arm === undefined) study.arms.set(row.arm, (arm = {}));
    compare(row, studyFields, study.firsts, "study");
    compare(row, armFields, arm, "arm");
  }
  return issues;
};

const disagreement = (
  row: OutcomeRow,
  field: FieldName,
  line: number,
  there: unknown,
  level: string,
): Issue =>
  rowIssue(row, field, "warning", {
    code: "rows-disagree",
    message: `${columnOf(field)} holds for the whole ${level}, and line ${line} says ${Array.isArray(there) ? there.join(" / ") : String(there)}`,
    mend: `make all rows of the ${level} agree, or give the rows another ${level} id`,
  });
