import type { Issue } from "../errors.js";
import type { CellProblem, CellReading } from "./cell-reading.js";
import type { FieldName } from "./codebook.js";
import { columnOf, fieldOf, fieldOfColumn } from "./codebook.js";
import type { CodebookField } from "./codebook-field.js";
import type { ColumnReader } from "./column-reader.js";
import { columnReader } from "./column-reader.js";
import type { HeaderColumns } from "./header-columns.js";
import type { DecimalMarks } from "./number-text.js";
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
  remarked: Map<string, number>;
};

/** Reads rows one by one and counts, per column, what their cells held. */
export type RowReader = Readonly<{
  read: (line: number, cells: readonly string[]) => RowReading;
  columns: readonly Readonly<
    Pick<Column, "name" | "title" | "coded" | "notReported" | "remarked">
  >[];
}>;

const none: readonly never[] = [];

/**
 * Reader of rows under one header. Column readers are compiled once; a row without problems allocates
 * nothing but itself.
 */
export const rowReader = (header: HeaderColumns, marks: DecimalMarks): RowReader => {
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
      remarked: new Map(),
    };
  });
  const read = (line: number, cells: readonly string[]): RowReading => {
    const row: Record<string, unknown> = { line, notReported: none };
    let notReported: string[] | undefined;
    let problems: Issue[] | undefined;
    let refusing = 0;
    for (const column of columns) {
      const cell = cells[column.index];
      if (cell === undefined || cell === "") continue;
      if (cell !== column.lastCell) {
        column.lastReading = column.read(cell);
        column.lastCell = cell;
      }
      const reading = column.lastReading;
      if (reading.kind === "value") {
        column.coded += 1;
        row[column.name] = reading.value;
        if (reading.remark !== undefined) {
          column.remarked.set(reading.remark, (column.remarked.get(reading.remark) ?? 0) + 1);
        }
        if (reading.high !== undefined && column.high !== undefined) {
          row[column.high] ??= reading.high;
        }
      } else if (reading.kind === "not reported") {
        column.notReported += 1;
        (notReported ??= []).push(column.column);
      } else if (reading.kind === "problem") {
        column.coded += 1;
        const essential = column.field.essential === true || column.field.required === true;
        if (essential) refusing += 1;
        (problems ??= []).push(cellIssue(line, column, cell, reading.problem, essential));
      }
    }
    if (notReported !== undefined) row.notReported = notReported;
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

const cellIssue = (
  line: number,
  column: Column,
  value: string,
  problem: CellProblem,
  essential: boolean,
): Issue => ({
  code: problem.code,
  severity: essential ? "error" : "warning",
  line,
  column: column.title,
  value,
  message: essential ? problem.message : `${problem.message}, so the cell is set aside`,
  mend: problem.mend,
});

const repeatedIssue = (line: number, title: string, value: string, column: string): Issue => ({
  code: "repeated-column",
  severity: "error",
  line,
  column: title,
  value,
  message: `two columns are ${column} and they disagree on this row`,
  mend: "keep the right one and delete the other column",
});
