import { columnHeading, type Table } from "../../src/tables/table.js";
import { tableToCsv } from "../../src/tables/table-to-csv.js";

/**
 * All that a table tells, a line each: title, headings (right-aligned ones begin with >), rows, notes, and the
 * CSV where it has columns of its own. The tests that read it hand over a different number for every place and
 * trace each printed one back by hand.
 */
export const told = (table: Table): readonly string[] => [
  `${table.title} [${[table.id, ...(table.place === undefined ? [] : [table.place])].join(", ")}]`,
  table.columns
    .map((column) => `${column.align === "right" ? ">" : ""}${columnHeading(column)}`)
    .join(" | "),
  ...table.rows.map((row) => table.columns.map(({ key }) => row[key] ?? "").join(" | ")),
  ...table.notes.map((note) => `* ${note}`),
  ...(table.csvColumns === undefined ? [] : tableToCsv(table).trimEnd().split("\n")),
];
