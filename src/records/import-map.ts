import * as z from "zod";
import { type IssueCode, DataError } from "../errors.js";
import type { Issue } from "../errors.js";
import { fieldOfColumn } from "./codebook.js";
import { columnSpelling } from "./header-columns.js";
import { importMapProblems } from "./import-map-problems.js";
import { nearestWord } from "../protocol/nearest-word.js";
import { columnOf, fieldNames } from "./codebook.js";

/** A question to one source row. Column names may hold `*`, which an arm's `prefix` replaces. */
export type ImportCondition =
  | Readonly<{ column: string; equals: string }>
  | Readonly<{ column: string; oneOf: readonly string[] }>
  | Readonly<{ column: string; filled: boolean }>
  | Readonly<{ all: readonly ImportCondition[] }>
  | Readonly<{ any: readonly ImportCondition[] }>
  | Readonly<{ not: ImportCondition }>;

/** Where the value of one codebook column comes from. */
export type ImportRule =
  /** The same text on every row. */
  | Readonly<{ constant: string }>
  /**
   * A source column. `values` translates its cells, and `otherwise` says what becomes of cells that it
   * does not list: kept (the default) or left blank. `factor` and `offset` convert a number:
   * cell × factor + offset.
   */
  | Readonly<{
      column: string;
      values?: Readonly<Record<string, string>> | undefined;
      otherwise?: "keep" | "blank" | undefined;
      factor?: number | undefined;
      offset?: number | undefined;
    }>
  /** Text with source columns in braces: "{author} ({year})". Blank when every named cell is blank. */
  | Readonly<{ text: string }>
  /** The first rule whose condition holds (or that has none) and whose value is not blank. */
  | Readonly<{
      first: readonly Readonly<{ when?: ImportCondition | undefined; use: ImportRule }>[];
    }>;

const condition: z.ZodType<ImportCondition> = z.lazy(() =>
  z.union([
    z.strictObject({ column: z.string(), equals: z.string() }),
    z.strictObject({ column: z.string(), oneOf: z.array(z.string()).min(1) }),
    z.strictObject({ column: z.string(), filled: z.boolean() }),
    z.strictObject({ all: z.array(condition).min(1) }),
    z.strictObject({ any: z.array(condition).min(1) }),
    z.strictObject({ not: condition }),
  ]),
);

const rule: z.ZodType<ImportRule> = z.lazy(() =>
  z.union([
    z.strictObject({ constant: z.string() }),
    z.strictObject({
      column: z.string(),
      values: z.record(z.string(), z.string()).optional(),
      otherwise: z.enum(["keep", "blank"]).optional(),
      factor: z.number().optional(),
      offset: z.number().optional(),
    }),
    z.strictObject({ text: z.string() }),
    z.strictObject({
      first: z.array(z.strictObject({ when: condition.optional(), use: rule })).min(1),
    }),
  ]),
);

const rules = z.record(z.string(), rule);

/** The declarative map from a foreign table into the codebook, as it stands in a JSON file. */
export const importMapSchema = z.strictObject({
  title: z.string(),
  /** Where the table comes from, and its licence; both are repeated in the result's notes. */
  source: z.string(),
  licence: z.string(),
  /** Source rows that do not become outcome rows, each with the reason its fate will state. */
  setAside: z.array(z.strictObject({ when: condition, reason: z.string() })).optional(),
  /** Codebook column → where its value comes from. */
  columns: rules,
  /** Columns of one's own, beyond the codebook's: name → where its value comes from. */
  more: rules.optional(),
  /**
   * A source row that holds several arms side by side becomes one row for each entry: `prefix` replaces
   * `*` in column names, `columns` adds to the map's own or takes their place, `when` leaves the arm out.
   */
  arms: z
    .array(
      z.strictObject({
        prefix: z.string().optional(),
        when: condition.optional(),
        columns: rules.optional(),
      }),
    )
    .min(1)
    .optional(),
});

/** How the columns of a foreign table become those of the codebook. */
export type ImportMap = z.infer<typeof importMapSchema>;

/**
 * An import map from parsed JSON.
 *
 * @throws {DataError} with one issue for every place that is not as the schema says, and for every target
 *   column under `columns` that the codebook does not know, or under `more` that it knows
 */
export const parseImportMap = (json: unknown): ImportMap => {
  const parsed = importMapSchema.safeParse(json);
  if (!parsed.success) {
    throw new DataError(importMapProblems(parsed.error.issues, json));
  }
  const map = parsed.data;
  const targets = [map.columns, ...(map.arms ?? []).map(({ columns }) => columns ?? {})];
  const unknown = [...new Set(targets.flatMap((columns) => Object.keys(columns)))].filter(
    (column) => fieldOfColumn(column) === undefined,
  );
  if (unknown.length > 0) {
    throw new DataError(
      unknown.map((column) => {
        const near = nearestWord(column, fieldNames.map(columnOf));
        return mapIssue(
          "unknown-column",
          column,
          "the codebook has no such column",
          `${near === undefined ? "choose one from the template" : `did you mean ${near}?`} A column of your own goes under more`,
        );
      }),
    );
  }
  const owned = Object.keys(map.more ?? {}).filter(
    (column) => fieldOfColumn(columnSpelling(column)) !== undefined,
  );
  if (owned.length > 0) {
    throw new DataError(
      owned.map((column) =>
        mapIssue(
          "codebook-column",
          column,
          "the codebook has this column, and more is for others",
          "move it to columns",
        ),
      ),
    );
  }
  return map;
};

const mapIssue = (code: IssueCode, column: string, message: string, mend: string): Issue => ({
  code,
  severity: "error",
  line: 0,
  column,
  value: "",
  message,
  mend,
});
