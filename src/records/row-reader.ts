import type { Issue } from "../errors.js";
import { cleanCell } from "./clean-cell.js";
import type { CellProblem, CellReading, PBound } from "./cell-reading.js";
import type { FieldName } from "./codebook.js";
import { columnOf, fieldOf, fieldOfColumn } from "./codebook.js";
import type { CodebookField } from "./codebook-field.js";
import type { ColumnReader } from "./column-reader.js";
import { columnReader, longCell } from "./column-reader.js";
import type { HeaderColumns } from "./header-columns.js";
import { saysNotReported } from "./not-reported.js";
import type { DecimalMarks } from "./number-text.js";
import { numberText } from "./number-text.js";
import type { OutcomeRow } from "./outcome-row.js";

/** A row's cells as far as they could be read. */
export type RowReading = Readonly<{
  /** The fields read; complete only when `refusing` is 0 and no required field is missing. */
  row: OutcomeRow;
  /** Problems of severity error: the row must be refused. */
  refusing: number;
  problems: readonly Issue[];
}>;

type Column = {
  readonly name: FieldName;
  readonly high: FieldName | undefined;
  readonly index: number;
  readonly title: string;
  readonly field: CodebookField;
  readonly column: string;
  readonly read: ColumnReader;
  lastCell: string;
  lastReading: CellReading;
  coded: number;
  notReported: number;
  unusable: number;
  remarked: Map<string, number>;
};

/** Reads rows one by one and counts, per column, what their cells held. */
export type RowReader = Readonly<{
  read: (line: number, cells: readonly string[]) => RowReading;
  columns: readonly Readonly<
    Pick<Column, "name" | "title" | "coded" | "notReported" | "unusable" | "remarked">
  >[];
}>;

const none: readonly never[] = [];

/**
 * Reader of rows under one header. Column readers are compiled once; a row without problems allocates
 * nothing but itself and the cells of columns that the codebook does not know.
 *
 * @param numbers  places of such columns that hold numbers
 */
export const rowReader = (
  header: HeaderColumns,
  marks: DecimalMarks,
  numbers: ReadonlySet<number>,
): RowReader => {
  const columns = header.found.map(({ name, index, title }): Column => {
    const field: CodebookField = fieldOf(name);
    return {
      name,
      index,
      title,
      field,
      column: columnOf(name),
      high: field.rangeHigh === undefined ? undefined : fieldOfColumn(field.rangeHigh),
      read: columnReader(field, marks),
      lastCell: "",
      lastReading: { kind: "blank" },
      coded: 0,
      notReported: 0,
      unusable: 0,
      remarked: new Map(),
    };
  });
  const values: unknown[] = columns.map(() => undefined);
  let above: Record<string, unknown> | undefined;
  let aboveFilled: boolean[] = columns.map(() => false);
  const read = (line: number, cells: readonly string[]): RowReading => {
    let notReported: string[] | undefined;
    let problems: Issue[] | undefined;
    let pBound: PBound | undefined;
    let refusing = 0;
    let ranges = false;
    let sameFilled = above !== undefined;
    for (let i = 0; i < columns.length; i++) {
      const column = columns[i] as Column;
      const cell = cells[column.index] ?? "";
      let value: unknown = undefined;
      if (cell !== "") {
        if (cell !== column.lastCell) {
          column.lastReading = column.read(cell);
          column.lastCell = cell;
        }
        const reading = column.lastReading;
        if (reading.kind === "value") {
          column.coded += 1;
          value = reading.value;
          if (reading.remark !== undefined) countRemark(column, reading.remark);
          if (reading.high !== undefined) ranges = true;
        } else if (reading.kind === "bound") {
          column.coded += 1;
          pBound = reading.bound;
        } else if (reading.kind === "not reported") {
          column.notReported += 1;
          (notReported ??= []).push(column.column);
        } else if (reading.kind === "problem") {
          column.unusable += 1;
          const essential = column.field.essential === true || column.field.required === true;
          if (essential) refusing += 1;
          (problems ??= []).push(cellIssue(line, column.title, cell, reading.problem, essential));
        }
      }
      values[i] = value;
      if ((value !== undefined) !== aboveFilled[i]) sameFilled = false;
    }
    const more = keptCells(header.unknown, cells, marks, numbers);
    for (const { index, title } of header.unknown) {
      const problem = ownCellProblem(cells[index] ?? "");
      if (problem !== undefined)
        (problems ??= []).push(cellIssue(line, title, cells[index] ?? "", problem, false));
    }
    if ((more !== undefined) !== (above?.more !== undefined)) sameFilled = false;
    if ((pBound !== undefined) !== (above?.pBound !== undefined)) sameFilled = false;
    // Copying the row above keeps rows of equal shape small and quick to make; every field is set again.
    const row: Record<string, unknown> =
      sameFilled && !ranges ? { ...above } : { line: 0, notReported: none };
    row.line = line;
    row.notReported = notReported ?? none;
    for (let i = 0; i < columns.length; i++) {
      const value = values[i];
      if (value !== undefined) row[(columns[i] as Column).name] = value;
    }
    if (more !== undefined) row.more = more;
    if (pBound !== undefined) row.pBound = pBound;
    if (ranges) fillHighEnds(row, columns, values);
    above = ranges ? undefined : row;
    if (!sameFilled) aboveFilled = values.map((value) => value !== undefined);
    for (const { name, index, title } of header.repeated) {
      const first = columns.find((column) => column.name === name);
      if (first === undefined || (cells[index] ?? "") === (cells[first.index] ?? "")) continue;
      refusing += 1;
      (problems ??= []).push(repeatedIssue(line, title, cells[index] ?? "", first.column));
    }
    // The one place where cells become a typed row: every value above came from its field's own reader.
    return { row: row as OutcomeRow, refusing, problems: problems ?? none };
  };
  return { read, columns };
};

/** The longest cell of a column of one's own that is kept, characters. */
const longestOwnCell = 10_000;

const ownCellProblem = (cell: string): CellProblem | undefined => {
  if (cell.length <= longestOwnCell) return undefined;
  return cleanCell(cell).length <= longestOwnCell ? undefined : longCell(longestOwnCell);
};

/** Filled cells of the columns that the codebook does not know; undefined when there is none. */
const keptCells = (
  unknown: HeaderColumns["unknown"],
  cells: readonly string[],
  marks: DecimalMarks,
  numbers: ReadonlySet<number>,
): OutcomeRow["more"] => {
  let more: Record<string, string | number> | undefined;
  for (const { key, index } of unknown) {
    const cell = cleanCell(cells[index] ?? "");
    if (cell === "" || cell.length > longestOwnCell || saysNotReported(cell)) continue;
    const number = numbers.has(index) ? numberText(cell, marks) : undefined;
    (more ??= {})[key] = number?.kind === "number" ? number.value : cell;
  }
  return more;
};

const countRemark = (column: Column, remark: string): void => {
  column.remarked.set(remark, (column.remarked.get(remark) ?? 0) + 1);
};

/** Upper ends of ranges typed into one cell; a cell of their own goes first. */
const fillHighEnds = (
  row: Record<string, unknown>,
  columns: readonly Column[],
  values: readonly unknown[],
): void => {
  columns.forEach(({ high, lastReading }, i) => {
    if (high === undefined || values[i] === undefined || lastReading.kind !== "value") return;
    if (lastReading.high !== undefined) row[high] ??= lastReading.high;
  });
};

/** A value as an issue shows it. */
const shown = (value: string): string => (value.length > 80 ? `${value.slice(0, 60)}…` : value);

const cellIssue = (
  line: number,
  column: string,
  value: string,
  problem: CellProblem,
  essential: boolean,
): Issue => ({
  code: problem.code,
  severity: essential ? "error" : "warning",
  line,
  column,
  value: shown(value),
  message: essential ? problem.message : `${problem.message}, so the cell is set aside`,
  mend: problem.mend,
  ...(problem.instead === undefined ? {} : { instead: problem.instead }),
});

const repeatedIssue = (line: number, title: string, value: string, column: string): Issue => ({
  code: "repeated-column",
  severity: "error",
  line,
  column: title,
  value: shown(value),
  message: `two columns are ${column} and they disagree on this row`,
  mend: "keep the right one and delete the other column",
});
