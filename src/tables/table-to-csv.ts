import { writeTable } from "../csv/write-table.js";
import type { CsvColumn, Table } from "./table.js";

const snakeCase = (key: string): string =>
  key.replace(/[A-Z]/g, (letter) => `_${letter.toLowerCase()}`);

/** A number written for people, as a machine reads it: hyphen for minus, no commas between thousands. */
const machineNumber = (cell: string): string =>
  /^\u2212?\d{1,3}(,\d{3})*(\.\d+)?(e\d+)?$|^\u2212?\d+(\.\d+)?(e\d+)?$/.test(cell)
    ? cell.replace("\u2212", "-").replaceAll(",", "")
    : cell;

const cellFor = (column: CsvColumn, cell: string): string =>
  column.align === "right" ? machineNumber(cell) : cell;

/**
 * A table as CSV: its CSV columns where it has any, the keys in snake case as the header.
 *
 * Text that a spreadsheet would run as a formula is made harmless. Title and footnotes are left out,
 * so that the file is data only.
 */
export const tableToCsv = (table: Table): string => {
  const columns = table.csvColumns ?? table.columns;
  return writeTable(
    columns.map((column) => snakeCase(column.key)),
    table.rows.map((row) => columns.map((column) => cellFor(column, row[column.key] ?? ""))),
  );
};
