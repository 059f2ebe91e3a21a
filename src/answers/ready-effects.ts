/** A plain table of ready effects to the effects the models take; every row's fate known. */
import type { IssueCode, Issue, Note } from "../errors.js";
import {
  decimalMarksOf,
  numberText,
  readTwoWays,
  type NumberText,
} from "../records/number-text.js";
import { sharedIdNotes } from "../synthesis/level-groups.js";
import { multilevelLevels, type MultilevelLevel } from "../synthesis/multilevel-options.js";
import type { ModeratorTerm, SynthesisEffect } from "../synthesis/synthesis-input.js";

/** Rows of strings with the file's own line numbers. */
export type ReadyTable = Readonly<{
  header: readonly string[];
  headerLine?: number;
  rows: readonly Readonly<{ line: number; cells: readonly string[] }>[];
}>;

export type ReadyRowFate = Readonly<{
  line: number;
  fate: "used" | "used with a warning" | "set aside" | "refused";
  reason: string;
}>;

/** A column that can explain differences between effects. */
export type ReadyModerator = Readonly<{
  name: string;
  kind: "numeric" | "categorical";
  /** Rows without a value. */
  missing: number;
}>;

export type ReadyEffectsOptions = Readonly<{
  /** Moderators that will be used: rows without a value are set aside. */
  moderators?: readonly ModeratorTerm[];
  /** Levels that will have random intercepts: the model itself warns of ids shared there. */
  levels?: readonly MultilevelLevel[];
}>;

export type ReadyEffects = Readonly<{
  effects: readonly SynthesisEffect[];
  moderators: readonly ReadyModerator[];
  fates: readonly ReadyRowFate[];
  issues: readonly Issue[];
  notes: readonly Note[];
  /** True when at least one effect can be used and nothing is wrong with the table as a whole. */
  usable: boolean;
}>;

const knownColumns = ["study", "arm", "effect_id", "effect", "variance", "standard_error"] as const;
type KnownColumn = (typeof knownColumns)[number];

/** Reads a number by the file's own habit of marking decimals. */
type ReadCell = (text: string) => NumberText;

const cellReader = (table: ReadyTable, places: ReadonlyMap<string, number>): ReadCell => {
  const named: readonly string[] = ["study", "arm", "effect_id"] satisfies KnownColumn[];
  const columns = [...places].flatMap(([name, place]) => (named.includes(name) ? [] : [place]));
  const marks = decimalMarksOf(table.rows, columns);
  return (text) => numberText(text, marks);
};

/** What is said of a cell that is no number, or two. */
const unreadable = (read: Exclude<NumberText, { kind: "number" }>) =>
  read.kind === "ambiguous"
    ? readTwoWays(read)
    : ({
        code: "not-a-number",
        message: "is not a number",
        mend: "write it as digits, such as 0.42",
      } as const);

/** What stands for a missing moderator. */
const missingWords = new Set(["", "na", "n/a", "nr", "not reported"]);

/**
 * Effects, moderators, fates and problems of a table with the columns `study`, `effect` and `variance`
 * (or `standard_error`), optionally `arm` and `effect_id`; every other column is a moderator.
 *
 * A moderator is numeric when every cell that is filled in reads as a number, else categorical. A row
 * without a study, an effect, or a variance above zero is refused; a row without a value of a
 * moderator in use is set aside. Without an `effect_id` a row is named after its line.
 *
 * @param table header and rows, cells as they stand in the file
 * @param options moderators and levels that will be used
 * @returns effects in file order; as many fates as rows
 * @source none: a reader
 */
export const readyEffects = (
  table: ReadyTable,
  options: ReadyEffectsOptions = {},
): ReadyEffects => {
  const header = table.header.map((name) => name.trim());
  const places = new Map<string, number>();
  const issues: Issue[] = headerIssues(header, table, places, options);
  if (issues.some((issue) => issue.severity === "error")) {
    return {
      effects: [],
      moderators: [],
      fates: table.rows.map(({ line }) => ({
        line,
        fate: "refused",
        reason: "the table's columns cannot be used",
      })),
      issues,
      notes: [],
      usable: false,
    };
  }
  const moderatorNames = header.filter(
    (name) => name !== "" && !(knownColumns as readonly string[]).includes(name.toLowerCase()),
  );
  const read = cellReader(table, places);
  const moderators = moderatorNames.map((name) =>
    moderatorColumn(name, table, places.get(name)!, read, issues),
  );
  const wanted = new Set((options.moderators ?? []).flat());
  const unfitted = multilevelLevels.filter((level) => options.levels?.includes(level) !== true);
  const effects: SynthesisEffect[] = [];
  const fates = table.rows.map(({ line, cells }): ReadyRowFate => {
    const before = issues.length;
    const cell = (column: string) => {
      const place = places.get(column);
      return place === undefined ? "" : (cells[place] ?? "").trim();
    };
    if (cells.every((text) => text.trim() === "")) {
      return { line, fate: "set aside", reason: "the row is empty" };
    }
    const effect = readRow(line, cell, read, issues);
    const found = issues.slice(before);
    const errors = found.filter((issue) => issue.severity === "error");
    if (effect === undefined || errors.length > 0) {
      return {
        line,
        fate: "refused",
        reason: errors.map((issue) => `${issue.column}: ${issue.message}`).join("; "),
      };
    }
    const values: Record<string, number | string> = {};
    for (const { name, kind } of moderators) {
      const text = cell(name);
      if (missingWords.has(text.toLowerCase())) continue;
      const number = kind === "numeric" ? read(text) : undefined;
      values[name] = number?.kind === "number" ? number.value : text;
    }
    const absent = [...wanted].filter((name) => !Object.hasOwn(values, name));
    if (absent.length > 0) {
      return { line, fate: "set aside", reason: `no value of ${absent.join(", ")}` };
    }
    effects.push({ ...effect, moderators: values });
    return found.length > 0
      ? {
          line,
          fate: "used with a warning",
          reason: found.map((issue) => `${issue.column}: ${issue.message}`).join("; "),
        }
      : { line, fate: "used", reason: "study, effect and variance can be read" };
  });
  return {
    effects,
    moderators,
    fates,
    issues,
    notes: [
      ...sharedIdNotes(effects, unfitted, false),
      ...repeatedIdNotes(effects, options.levels?.includes("effect_id") === true),
    ],
    usable: effects.length > 0,
  };
};

const headerIssues = (
  header: readonly string[],
  table: ReadyTable,
  places: Map<string, number>,
  options: ReadyEffectsOptions,
): Issue[] => {
  const issues: Issue[] = [];
  const line = table.headerLine ?? 1;
  const problem = (column: string, code: IssueCode, message: string, mend: string) =>
    issues.push({ code, severity: "error", line, column, value: "", message, mend });
  header.forEach((name, place) => {
    if (name === "") return;
    const lower = name.toLowerCase();
    const key = (knownColumns as readonly string[]).includes(lower) ? lower : name;
    if (places.has(key)) {
      problem(
        name,
        "repeated-column",
        "the column stands twice",
        "rename or remove one of the two",
      );
    } else places.set(key, place);
  });
  for (const column of ["study", "effect"] as const satisfies readonly KnownColumn[]) {
    if (!places.has(column)) {
      problem(
        column,
        "missing-column",
        "the column is missing",
        `add a column named ${column}; the columns found are ${header.join(", ")}`,
      );
    }
  }
  if (!places.has("variance") && !places.has("standard_error")) {
    problem(
      "variance",
      "missing-column",
      "there is neither a variance nor a standard_error column",
      "add one of them, in the unit of the effect (squared for the variance)",
    );
  }
  for (const name of new Set((options.moderators ?? []).flat())) {
    if (places.has(name) && !(knownColumns as readonly string[]).includes(name)) continue;
    problem(
      name,
      "missing-column",
      "the moderator is not a column of the table",
      `use one of ${header.filter((other) => !(knownColumns as readonly string[]).includes(other.toLowerCase())).join(", ") || "(no moderator columns)"}`,
    );
  }
  return issues;
};

/** The effect of one row; what is wrong with it is added to the issues. */
const readRow = (
  line: number,
  cell: (column: KnownColumn) => string,
  readCell: ReadCell,
  issues: Issue[],
): SynthesisEffect | undefined => {
  const report =
    (severity: Issue["severity"]) =>
    (code: IssueCode, column: KnownColumn, message: string, mend: string): undefined => {
      issues.push({ code, severity, line, column, value: cell(column), message, mend });
    };
  const [fail, warn] = [report("error"), report("warning")];
  const numberIn = (column: KnownColumn): number | undefined => {
    if (cell(column) === "") return fail("missing", column, "is blank", "give a number");
    const read = readCell(cell(column));
    if (read.kind !== "number") {
      const { code, message, mend } = unreadable(read);
      return fail(code, column, message, mend);
    }
    if (read.mark !== "none")
      warn(
        read.mark === "decimal comma" ? "decimal-comma" : "thousands-separators",
        column,
        `the number is read with ${read.mark === "decimal comma" ? "a decimal comma" : read.mark} (${read.value})`,
        "write a decimal point, and nothing between thousands",
      );
    return read.value;
  };
  /** A number above zero whose variance (itself, or its square) can be weighed by. */
  const positiveIn = (column: KnownColumn, power: 1 | 2): number | undefined => {
    const value = numberIn(column);
    if (value === undefined) return undefined;
    if (value > 0 && value ** power > 0 && value ** power < Infinity) return value ** power;
    return fail(
      "not-positive",
      column,
      value > 0 ? "is too small or too large to weigh by" : "is not above zero",
      value === 0
        ? "an effect without sampling error cannot be weighed: give its real error or leave the row out"
        : "check the sign and the unit",
    );
  };
  const readVariance = (): number | undefined => {
    if (cell("variance") === "") {
      return cell("standard_error") === ""
        ? fail(
            "missing",
            "variance",
            "is blank, and there is no standard error",
            "give the effect's variance or its standard error",
          )
        : positiveIn("standard_error", 2);
    }
    const variance = positiveIn("variance", 1);
    const error = readCell(cell("standard_error"));
    if (variance === undefined || error.kind !== "number") return variance;
    const ratio = error.value ** 2 / variance;
    if (!(Math.abs(ratio - 1) < 0.05)) {
      warn(
        "variance-and-error-disagree",
        "standard_error",
        `its square is ${ratio.toPrecision(3)} times the variance; the variance is used`,
        "correct one of the two",
      );
    }
    return variance;
  };
  const study = cell("study");
  if (study === "") {
    fail("missing", "study", "is blank", "name the study the effect comes from");
  }
  const estimate = numberIn("effect");
  const variance = readVariance();
  if (study === "" || estimate === undefined || variance === undefined) return undefined;
  const arm = cell("arm");
  const effectId = cell("effect_id") || `line ${line}`;
  return { effectId, study, ...(arm === "" ? {} : { arm }), estimate, variance };
};

/** A column's kind; cells that are not numbers in a column that mostly holds numbers are pointed at. */
const moderatorColumn = (
  name: string,
  table: ReadyTable,
  place: number,
  readCell: ReadCell,
  issues: Issue[],
): ReadyModerator => {
  let missing = 0;
  let numbers = 0;
  const words: Issue[] = [];
  for (const { line, cells } of table.rows) {
    const value = (cells[place] ?? "").trim();
    const read = missingWords.has(value.toLowerCase()) ? undefined : readCell(value);
    if (read === undefined) missing += 1;
    else if (read.kind === "number") numbers += 1;
    else
      words.push({
        severity: "warning",
        line,
        column: name,
        value,
        ...(read.kind === "ambiguous"
          ? unreadable(read)
          : {
              code: "word-among-numbers",
              message:
                "is not a number in a column that mostly holds numbers, so the whole column is categorical",
              mend: "write it as a number or leave it blank",
            }),
      });
  }
  const mostlyNumbers = numbers > words.length;
  issues.push(...words.filter(({ code }) => mostlyNumbers || code === "ambiguous-number"));
  return { name, kind: words.length === 0 && numbers > 0 ? "numeric" : "categorical", missing };
};

const repeatedIdNotes = (effects: readonly SynthesisEffect[], fitted: boolean): readonly Note[] => {
  const counts = new Map<string, number>();
  for (const { study, effectId } of effects) {
    const key = JSON.stringify([study, effectId]);
    counts.set(key, (counts.get(key) ?? 0) + 1);
  }
  const repeated = [...counts].filter(([, count]) => count > 1);
  if (repeated.length === 0) return [];
  const [study, effectId] = JSON.parse(repeated[0]![0]) as [string, string];
  return [
    {
      code: "effect-id-repeated",
      message: `${repeated.length} effect ids stand on several rows of one study (first: ${effectId}); ${fitted ? "at the level of effects these rows share one random intercept" : "before a model with a level of effects, give each row its own id"}`,
      study,
    },
  ];
};
