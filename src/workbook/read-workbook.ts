/** A sheet of a workbook as the numbered rows of strings that a delimited text gives. */
import type { CsvTable } from "../csv/csv-table.js";
import { headerIssues, longestHeader, noTable, wholeFile } from "../csv/read-table.js";
import { CallError, type Issue, type Note } from "../errors.js";
import { columnLetters, type CellPlace, type SheetCells } from "./sheet-cells.js";
import { TooLarge, unpackedWorkbook, type Unpacked, type WorkbookSheet } from "./workbook-parts.js";

export type ReadWorkbookOptions = Readonly<{
  /** Name of the sheet to read; the first that is not hidden when absent. */
  sheet?: string | undefined;
}>;

/** A table of more cells than this is no table of trials. */
const mostCells = 5_000_000;

const asXlsx = "open it in the spreadsheet and save it as .xlsx, or the sheet as CSV (UTF-8)";

/** Workbooks of another form, and what else comes in a package, by the names inside. */
const otherPackages: readonly (readonly [holds: RegExp, what: string, mend: string])[] = [
  [/^xl\/workbook\.bin$/, "a binary workbook (.xlsb)", asXlsx],
  [/^Index\/Document\.iwa$/, "a workbook of another form", asXlsx],
  [/^word\//, "a text document", "type the numbers of its table into the blank template"],
  [/^ppt\//, "slides", "type the numbers of their table into the blank template"],
  [/^content\.xml$/, "an OpenDocument file, not a workbook (.xlsx)", asXlsx],
  [/(?:)/, "a packed folder (zip), not a workbook", "unpack it and open the table inside"],
];

const utf16 = (text: string): string => [...text].map((letter) => `${letter}\0`).join("");

/** What the older container holds: a locked workbook, an old one, or something else. */
const olderFile = (bytes: Uint8Array): Issue => {
  const text = new TextDecoder("latin1").decode(bytes.subarray(0, 4_000_000));
  const holds = (name: string) => text.includes(utf16(name));
  if (holds("EncryptedPackage"))
    return wholeFile(
      "not-a-table",
      "the workbook is locked with a password",
      "open it in the spreadsheet and save it without one",
    );
  return holds("WordDocument")
    ? wholeFile(
        "not-a-table",
        "the file is a text document of an old form",
        "type the numbers of its table into the blank template",
      )
    : wholeFile("not-a-table", "the file is a workbook of the old form (.xls)", asXlsx);
};

const damaged = wholeFile(
  "not-a-table",
  "the workbook is damaged or cut off",
  "get the file again, or open it in the spreadsheet and save it anew as .xlsx",
);
const tooLarge = wholeFile(
  "not-a-table",
  "the workbook unpacks to far more than a table of trials holds",
  "copy the table into a workbook of its own, or save its sheet as CSV (UTF-8)",
);

/** At most the first of many, in words: "C2:C5, D2:D5 and 3 more". */
const firstOf = (all: readonly string[], most = 8): string =>
  all.length <= most
    ? all.join(", ")
    : `${all.slice(0, most).join(", ")} and ${all.length - most} more`;

const cellName = ({ row, column }: CellPlace): string => `${columnLetters(column)}${row}`;

/** What is not seen in the text of the cells. */
const sheetNotes = (
  sheet: WorkbookSheet,
  sheets: readonly WorkbookSheet[],
  cells: SheetCells,
  above: readonly string[],
  textAt: (place: CellPlace) => string,
): readonly Note[] => {
  const others = sheets
    .filter((one) => one !== sheet)
    .map(({ name, hidden }) => `"${name}"${hidden ? " (hidden)" : ""}`);
  const hiddenColumns = cells.hiddenColumns
    .filter(([first]) => [...cells.rows.values()].some((row) => row.has(first)))
    .map(
      ([first, last]) => `${columnLetters(first)}${last > first ? `–${columnLetters(last)}` : ""}`,
    );
  const hiddenRows = cells.hiddenRows.filter((row) => (cells.rows.get(row)?.size ?? 0) > 0);
  const percent = cells.percents[0];
  const note = (code: Note["code"], when: boolean, message: string): readonly Note[] =>
    when ? [{ code, message }] : [];
  return [
    ...note(
      "sheet-read",
      true,
      `the sheet "${sheet.name}"${sheet.hidden ? ", which is hidden," : ""} was read, and its row numbers are the line numbers here${others.length === 0 ? "" : `; the workbook also has ${firstOf(others)}`}`,
    ),
    ...note(
      "rows-above-header",
      above.length > 0,
      `above the header were left out: ${firstOf(above.map((text) => `"${text.slice(0, 60)}"`))}`,
    ),
    ...note(
      "cells-merged",
      cells.merged.length > 0,
      `merged cells hold their value in the first cell and were read as empty in the others: ${firstOf(cells.merged)}; unmerge them and fill the value down if it belongs to every row`,
    ),
    ...note(
      "cells-hidden",
      hiddenRows.length > 0,
      `hidden rows were read like the others: ${firstOf(hiddenRows.map(String))}`,
    ),
    ...note(
      "cells-hidden",
      hiddenColumns.length > 0,
      `hidden columns were read like the others: ${firstOf(hiddenColumns)}`,
    ),
    ...(percent === undefined
      ? []
      : note(
          "cells-in-percent",
          true,
          `${cells.percents.length === 1 ? "one cell is" : `${cells.percents.length} cells are`} shown as a percentage and read as shown: ${cellName(percent)} holds ${Number(`${textAt(percent).slice(0, -1)}e-2`)} and was read as ${textAt(percent)}`,
        )),
    ...note(
      "formulas-read",
      cells.formulas > 0,
      `${cells.formulas === 1 ? "one cell holds a formula" : `${cells.formulas} cells hold formulas`}: the result stored in the workbook was read, and nothing was worked out anew`,
    ),
  ];
};

/** The cells as a table; rows above the header with a single filled cell are titles. */
const sheetTable = (
  sheet: WorkbookSheet,
  sheets: readonly WorkbookSheet[],
  cells: SheetCells,
): CsvTable => {
  const filled = [...cells.rows]
    .map(([line, row]) => ({
      line,
      row: new Map([...row].filter(([, text]) => text.trim() !== "")),
    }))
    .filter(({ row }) => row.size > 0)
    .sort((first, second) => first.line - second.line);
  const isTable = filled.some(({ row }) => row.size > 1);
  const from = isTable ? filled.findIndex(({ row }) => row.size > 1) : 0;
  const [first, ...rest] = filled.slice(from);
  if (first === undefined)
    return noTable([
      wholeFile(
        "empty-file",
        `the sheet "${sheet.name}" holds no rows`,
        sheets.length > 1
          ? `choose another: ${firstOf(sheets.map(({ name }) => `"${name}"`))}`
          : "start from the blank template",
      ),
    ]);
  const columns = [...new Set([first, ...rest].flatMap(({ row }) => [...row.keys()]))].sort(
    (one, other) => one - other,
  );
  if (columns.length * rest.length > mostCells) return noTable([tooLarge]);
  const cellsOf = (row: ReadonlyMap<number, string>) =>
    columns.map((column) => row.get(column) ?? "");
  const named = cellsOf(first.row).map((name) => name.replaceAll("\u00a0", " ").trim());
  const header = named.map((name) => name.slice(0, longestHeader));
  const titleOf = (place: CellPlace) => header[columns.indexOf(place.column)] ?? "";
  const above = filled.slice(0, from).flatMap(({ row }) => [...row.values()]);
  const notes: Note[] = [
    ...sheetNotes(sheet, sheets, cells, above, ({ row, column }) =>
      cells.rows.get(row)!.get(column)!,
    ),
    ...(rest.length === 0
      ? [{ code: "header-only" as const, message: "the sheet has a header and no rows" }]
      : []),
  ];
  const issues: Issue[] = [
    ...headerIssues(header, named, first.line),
    ...cells.withoutValue.map((place): Issue => ({
      code: "formula-without-value",
      severity: "warning",
      line: place.row,
      column: titleOf(place),
      value: cellName(place),
      message: "the cell holds a formula whose result was never stored, and was read as empty",
      mend: "open the workbook in the spreadsheet and save it, or type the number",
    })),
  ];
  return {
    header,
    headerLine: first.line,
    rows: rest.map(({ line, row }) => ({ line, cells: cellsOf(row) })),
    delimiter: ",",
    encoding: "utf-8",
    issues,
    notes,
  };
};

const chosenSheet = (
  sheets: readonly WorkbookSheet[],
  wanted: string | undefined,
): WorkbookSheet | undefined => {
  if (wanted === undefined) return sheets.find(({ hidden }) => !hidden) ?? sheets[0];
  const folded = (name: string) => name.trim().toLowerCase();
  const found =
    sheets.find(({ name }) => name === wanted) ??
    sheets.find(({ name }) => folded(name) === folded(wanted));
  if (found !== undefined) return found;
  throw new CallError({
    code: "no-sheet",
    where: "--sheet",
    needs: `a sheet of the workbook: ${sheets.map(({ name }) => `"${name}"`).join(", ")}`,
    got: `"${wanted}"`,
  });
};

/**
 * A sheet of a workbook (.xlsx) as a table of strings, each row with its number in the sheet.
 *
 * Numbers have all their digits, dates are ISO dates, cells shown as percentages are read as shown, formulas give
 * the results stored with them, and cells with an error its name. Columns and rows without a filled cell
 * are skipped. Nothing about the bytes makes it throw: a workbook that is old, locked, damaged or too large is an
 * issue of the whole file.
 *
 * @param bytes of the file
 * @returns the table; `notes` say which sheet was read, which cells were merged, hidden, formulas or percentages
 * @throws {CallError} "no-sheet" where the workbook has none of that name
 */
export const readWorkbook = (bytes: Uint8Array, { sheet }: ReadWorkbookOptions = {}): CsvTable => {
  if (bytes[0] === 0xd0) return noTable([olderFile(bytes)]);
  let unpacked: Unpacked;
  let chosen: WorkbookSheet | undefined;
  try {
    unpacked = unpackedWorkbook(bytes);
    if (unpacked.kind === "other") {
      const { names } = unpacked;
      const [, what, mend] = otherPackages.find(([holds]) =>
        names.some((name) => holds.test(name)),
      )!;
      return noTable([wholeFile("not-a-table", `the file is ${what}`, mend)]);
    }
    const { sheets, cells } = unpacked;
    chosen = chosenSheet(sheets, sheet);
    if (chosen === undefined) return noTable([damaged]);
    return {
      ...sheetTable(chosen, sheets, cells(chosen)),
      sheet: { name: chosen.name, names: sheets.map(({ name }) => name) },
    };
  } catch (error) {
    if (error instanceof CallError) throw error;
    return noTable([error instanceof TooLarge ? tooLarge : damaged]);
  }
};
