import type { CsvTable } from "../csv/csv-table.js";
import type { Issue, Note } from "../errors.js";
import { cleanCell } from "./clean-cell.js";
import { columnOf, fieldNames, fieldOf, fieldOfColumn } from "./codebook.js";
import type { ImportMap, ImportRule } from "./import-map.js";
import { cellKindOf } from "./column-reader.js";
import { columnsNamed, conditionHolds, importValue } from "./import-value.js";
import type { SourceRow } from "./import-value.js";
import { decimalMarksOf } from "./number-text.js";
import type { RowFate } from "./record-set.js";

/** A foreign table in the codebook's columns, and what became of every source row. */
export type ImportedRows = Readonly<{
  /** Ready to be written as CSV and read with `readRecords`. */
  csv: Readonly<{ header: readonly string[]; rows: readonly (readonly string[])[] }>;
  /** Line of the source for each row of `csv`. */
  sourceLines: readonly number[];
  /** One entry a source row; `used` means that it became one or more codebook rows. */
  fates: readonly RowFate[];
  issues: readonly Issue[];
  notes: readonly Note[];
}>;

type Arm = Readonly<{
  prefix: string;
  when: Parameters<typeof conditionHolds>[0] | undefined;
  rules: readonly Readonly<{ place: number; rule: ImportRule }>[];
}>;

/**
 * A foreign table carried into the codebook by a declarative map.
 *
 * Nothing is judged here but the map's own fit: cells are renamed, translated and converted, and
 * `readRecords` then reads the result as it reads any other file. A source row is *set aside* when the map
 * says so, *refused* when its line does not have the header's number of cells, the source lacks a column
 * the map needs or a number can be read two ways, and else *used*.
 *
 * @param table the foreign table, from `readTable`
 * @param map from `parseImportMap`
 */
export const importRows = (table: CsvTable, map: ImportMap): ImportedRows => {
  const coded = fieldNames
    .map(columnOf)
    .filter((column) =>
      [map.columns, ...(map.arms ?? []).map(({ columns }) => columns ?? {})].some(
        (columns) => columns[column] !== undefined,
      ),
    );
  const header = [...coded, ...Object.keys(map.more ?? {})];
  const arms = armsOf(map, header);
  const numberColumns = header.map((column) => {
    const name = fieldOfColumn(column);
    return name !== undefined && cellKindOf(fieldOf(name)) === "number";
  });
  const placeOf = new Map(table.header.map((name, place) => [cleanCell(name), place]));
  const named = namedColumns(map, arms);
  const issues: Issue[] = [...table.issues, ...missingColumns(named, placeOf, table.headerLine)];
  const lacking = issues.length > table.issues.length;
  const badLines = new Map(
    table.issues
      .filter(({ severity, line }) => severity === "error" && line > 0)
      .map(({ line, message }) => [line, message]),
  );
  const marks = decimalMarksOf(table.rows, [...placeOf.values()]);
  const rows: (readonly string[])[] = [];
  const sourceLines: number[] = [];
  const fates = table.rows.map(({ line, cells }): RowFate => {
    const broken = lacking ? "the source lacks a column the map needs" : badLines.get(line);
    if (broken !== undefined) return { line, fate: "refused", reason: broken };
    const sourceRow = (prefix: string): SourceRow => ({
      marks,
      cell: (column) => cleanCell(cells[placeOf.get(column.replace("*", prefix)) ?? -1] ?? ""),
      doubt: (column, value, { code, message, mend }) => {
        const named = column.replace("*", prefix);
        const severity = code === "ambiguous-number" ? "error" : "warning";
        issues.push({ code, severity, line, column: named, value, message, mend });
      },
    });
    if (cells.every((cell) => cleanCell(cell) === "")) {
      return { line, fate: "set aside", reason: "the row is blank" };
    }
    const plain = sourceRow("");
    const aside = map.setAside?.find(({ when }) => conditionHolds(when, plain));
    if (aside !== undefined) return { line, fate: "set aside", reason: aside.reason };
    const doubtsBefore = issues.length;
    const written: (readonly string[])[] = [];
    for (const { prefix, when, rules } of arms) {
      const source = sourceRow(prefix);
      if (when !== undefined && !conditionHolds(when, source)) continue;
      const row = header.map(() => "");
      for (const { place, rule } of rules)
        row[place] = importValue(rule, source, numberColumns[place]);
      written.push(row);
    }
    const refused = issues.slice(doubtsBefore).find(({ severity }) => severity === "error");
    if (refused !== undefined)
      return { line, fate: "refused", reason: `${refused.message}; ${refused.mend}` };
    rows.push(...written);
    sourceLines.push(...written.map(() => line));
    if (written.length === 0)
      return { line, fate: "set aside", reason: "the map makes no row of it" };
    return issues.length > doubtsBefore
      ? { line, fate: "used with a warning", reason: issues.at(-1)?.message ?? "" }
      : { line, fate: "used", reason: "" };
  });
  const notes = [...table.notes, ...importNotes(table, map, named)];
  return { csv: { header, rows }, sourceLines, fates, issues, notes };
};

const armsOf = (map: ImportMap, header: readonly string[]): readonly Arm[] =>
  (map.arms ?? [{}]).map(({ prefix, when, columns }) => {
    const merged: Readonly<Record<string, ImportRule>> = {
      ...map.columns,
      ...map.more,
      ...columns,
    };
    return {
      prefix: prefix ?? "",
      when,
      rules: header.flatMap((column, place) => {
        const rule = merged[column];
        return rule === undefined ? [] : [{ place, rule }];
      }),
    };
  });

/** Every source column the map reads. */
const namedColumns = (map: ImportMap, arms: readonly Arm[]): ReadonlySet<string> =>
  new Set([
    ...(map.setAside ?? []).flatMap(({ when }) => columnsNamed(when)),
    ...arms.flatMap(({ prefix, when, rules }) =>
      [
        ...(when === undefined ? [] : columnsNamed(when)),
        ...rules.flatMap(({ rule }) => columnsNamed(rule)),
      ].map((column) => column.replace("*", prefix)),
    ),
  ]);

const missingColumns = (
  named: ReadonlySet<string>,
  placeOf: ReadonlyMap<string, number>,
  line = 1,
): readonly Issue[] =>
  [...named]
    .filter((column) => !placeOf.has(column))
    .map((column) => ({
      code: "missing-column",
      severity: "error" as const,
      line,
      column,
      value: "",
      message: "the map reads this column and the table does not have it",
      mend: "correct the name in the map, or take the table the map was written for",
    }));

const importNotes = (
  table: CsvTable,
  map: ImportMap,
  named: ReadonlySet<string>,
): readonly Note[] => {
  const left = table.header.filter((name) => !named.has(cleanCell(name)));
  return [
    { code: "import-source", message: `${map.title}; ${map.source}; ${map.licence}` },
    ...(left.length === 0
      ? []
      : [
          {
            code: "columns-left" as const,
            message: `columns not carried over: ${left.join(", ")}`,
          },
        ]),
  ];
};
