import { CallError } from "../errors.js";
import { guardFormula } from "./formula-guard.js";

export type WriteTableOptions = Readonly<{
  /** Character between cells. */
  delimiter?: "," | ";" | "\t" | "|";
}>;

export const writeTableDefaults = { delimiter: "," } as const satisfies Required<WriteTableOptions>;

/**
 * A table as delimited text: header first, one record a line, lines ended by LF, cells quoted when they
 * hold the delimiter, a quote, a line break or outer spaces.
 *
 * Text that a spreadsheet would run as a formula gets a leading apostrophe, which `readTable` takes off
 * again, so that writing and reading return the same cells.
 *
 * @param header column names
 * @param rows cells, each row as long as the header
 * @throws {CallError} "ragged-rows" when a row's length differs from the header's
 */
export const writeTable = (
  header: readonly string[],
  rows: readonly (readonly string[])[],
  options: WriteTableOptions = {},
): string => {
  const { delimiter } = { ...writeTableDefaults, ...options };
  const lineOf = (cells: readonly string[]): string => {
    if (cells.length !== header.length) {
      throw new CallError({
        code: "ragged-rows",
        where: "writeTable",
        needs: `${header.length} cells in every row`,
        got: `${cells.length}`,
      });
    }
    const line = cells.map((cell) => quoted(guardFormula(cell), delimiter)).join(delimiter);
    // A lone empty cell would be an empty line, which readers skip.
    return line === "" ? '""' : line;
  };
  return [header, ...rows].map((cells) => `${lineOf(cells)}\n`).join("");
};

const quoted = (cell: string, delimiter: string): string =>
  cell.includes(delimiter) || /["\n\r]|^\s|\s$|^\uFEFF/.test(cell)
    ? `"${cell.replaceAll('"', '""')}"`
    : cell;
