import { CallError } from "../errors.js";
import { columnHeading } from "./column-heading.js";
import { displayWidth, wrapToWidth } from "./display-width.js";
import type { Table } from "./table.js";
import { visibleText } from "./visible-text.js";

export type TableToTextOptions = Readonly<{
  /** Cells of the line, an integer from 20. */
  width?: number;
}>;

export const tableToTextDefaults = { width: 100 } as const satisfies Required<TableToTextOptions>;

const gap = "  ";
/** Below this a wrapped column is harder to read than a list of label and value. */
const narrowestColumn = 8;

type Drawn = Readonly<{
  align: "left" | "right";
  heading: string;
  cells: readonly string[];
  /** Width without wrapping. */
  natural: number;
}>;

const padded = (text: string, width: number, align: "left" | "right"): string => {
  const space = " ".repeat(Math.max(0, width - displayWidth(text)));
  return align === "right" ? space + text : text + space;
};

/** Widths that fit the line: the widest column gives way first; none when even that is not enough. */
const fittedWidths = (columns: readonly Drawn[], width: number): readonly number[] | undefined => {
  const available = width - gap.length * Math.max(0, columns.length - 1);
  const widths = columns.map((column) => column.natural);
  const least = columns.map((column) => Math.min(column.natural, narrowestColumn));
  let excess = widths.reduce((sum, each) => sum + each, 0) - available;
  while (excess > 0) {
    const widest = Math.max(...widths.filter((each, index) => each > (least[index] ?? 0)));
    if (!Number.isFinite(widest)) return undefined;
    widths[widths.indexOf(widest)] = widest - 1;
    excess -= 1;
  }
  return widths;
};

const drawnRow = (
  cells: readonly string[],
  columns: readonly Drawn[],
  widths: readonly number[],
): readonly string[] => {
  const wrapped = cells.map((cell, index) => wrapToWidth(cell, widths[index] ?? 2));
  const height = Math.max(1, ...wrapped.map((lines) => lines.length));
  return Array.from({ length: height }, (_, level) =>
    wrapped
      .map((lines, index) =>
        padded(lines[level] ?? "", widths[index] ?? 0, columns[index]?.align ?? "left"),
      )
      .join(gap)
      .trimEnd(),
  );
};

const asGrid = (
  columns: readonly Drawn[],
  widths: readonly number[],
  rowCount: number,
): readonly string[] => {
  const lines = [
    ...drawnRow(
      columns.map((column) => column.heading),
      columns,
      widths,
    ),
    widths.map((each) => "─".repeat(each)).join(gap),
  ];
  for (let row = 0; row < rowCount; row += 1) {
    const cells = columns.map((column) => column.cells[row] ?? "");
    lines.push(...drawnRow(cells, columns, widths));
  }
  return lines;
};

/** One value a line, for lines too narrow to set columns side by side. */
const asList = (columns: readonly Drawn[], width: number, rowCount: number): readonly string[] => {
  const lines: string[] = [];
  for (let row = 0; row < rowCount; row += 1) {
    if (row > 0) lines.push("");
    for (const column of columns) {
      const cell = column.cells[row] ?? "";
      if (cell === "") continue;
      const [first = "", ...rest] = wrapToWidth(`${column.heading}: ${cell}`, width - gap.length);
      lines.push(first, ...rest.map((line) => gap + line));
    }
  }
  return lines;
};

/**
 * A table as monospaced text: title, aligned columns, footnotes.
 *
 * Columns wrap to the width, the widest first; where even that is not enough each row becomes a list
 * of labels and values. Wide characters take two cells; control characters are left out.
 *
 * @throws {CallError} "width" when the width is not an integer from 20
 */
export const tableToText = (table: Table, options: TableToTextOptions = {}): string => {
  const { width } = { ...tableToTextDefaults, ...options };
  if (!Number.isInteger(width) || width < 20) {
    throw new CallError({
      code: "width",
      where: "tableToText",
      needs: "a width that is an integer from 20",
      got: String(width),
    });
  }
  const columns = table.columns.map((column): Drawn => {
    const heading = visibleText(columnHeading(column));
    const cells = table.rows.map((row) => visibleText(row[column.key] ?? ""));
    // A spread of 100,000 arguments overflows the stack, so the widest cell is found by a loop.
    let natural = displayWidth(heading);
    for (const cell of cells) natural = Math.max(natural, displayWidth(cell));
    return { align: column.align, heading, cells, natural: Math.max(natural, 1) };
  });
  const widths = fittedWidths(columns, width);
  const body =
    table.rows.length === 0
      ? ["(no rows)"]
      : widths === undefined
        ? asList(columns, width, table.rows.length)
        : asGrid(columns, widths, table.rows.length);
  const notes = table.notes.flatMap((note) => {
    const [first = "", ...rest] = wrapToWidth(visibleText(note), width - 2);
    return [`* ${first}`, ...rest.map((line) => `  ${line}`)];
  });
  const parts = [wrapToWidth(visibleText(table.title), width), [""], body];
  if (notes.length > 0) parts.push([""], notes);
  return `${parts.map((lines) => lines.join("\n")).join("\n")}\n`;
};
