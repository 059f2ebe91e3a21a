import type { CsvTable } from "../csv/csv-table.js";
import { readTable } from "../csv/read-table.js";
import { CallError } from "../errors.js";
import type { ReadWorkbookOptions } from "./read-workbook.js";

const begins = (bytes: Uint8Array, ...with_: readonly number[]): boolean =>
  with_.every((byte, place) => bytes[place] === byte);

/** Whether bytes are those of a workbook, or of another file of the same container. */
export const isWorkbook = (bytes: Uint8Array): boolean =>
  begins(bytes, 0x50, 0x4b, 3, 4) || begins(bytes, 0xd0, 0xcf, 0x11, 0xe0);

/**
 * A delimited text or a sheet of a workbook (.xlsx) as a table of strings, told apart by their bytes.
 *
 * What reads workbooks is loaded when the first one comes.
 *
 * @throws {CallError} "no-sheet" where a sheet is named that the file does not have
 */
export const readAnyTable = async (
  bytes: Uint8Array,
  options: ReadWorkbookOptions = {},
): Promise<CsvTable> => {
  if (isWorkbook(bytes)) return (await import("./read-workbook.js")).readWorkbook(bytes, options);
  if (options.sheet === undefined) return readTable(bytes);
  throw new CallError({
    code: "no-sheet",
    where: "--sheet",
    needs: "a workbook (.xlsx)",
    got: "a file that has no sheets",
  });
};

/** A file's name, with the sheet that was read where the workbook has several. */
export const tableName = (name: string, { sheet }: CsvTable): string =>
  sheet === undefined || sheet.names.length < 2 ? name : `${name} (sheet ${sheet.name})`;
