import { CallError } from "../errors.js";
import { type Column, type Table, columnHeading } from "./table.js";
import { displayWidth, wrapToWidth } from "./display-width.js";
import { visibleText } from "./visible-text.js";

export type TableToTextOptions = Readonly<{
  /** Cells of the line, an integer from 20. */
  width?: number;
}>;

export const tableToTextDefaults = { width: 100 } as const satisfies Required<TableToTextOptions>;

const gap = "  ";
/** Below this a wrapped column is harder to read than a list of label and value. */
const narrowestColumn = 8;

/** A table up to so many times the line still reads well once its columns wrap. */
const wrapsWell = 1.5;

type Drawn = Readonly<{
  align: "left" | "right";
  heading: string;
  cells: readonly string[];
  /** Width without wrapping. */
  natural: number;
  /** Width at which only the heading wraps. */
  ofCells: number;
  /** Width below which words would be cut. */
  ofWords: number;
}>;

const padded = (text: string, width: number, align: "left" | "right"): string => {
  const space = " ".repeat(Math.max(0, width - displayWidth(text)));
  return align === "right" ? space + text : text + space;
};

/** Longest word counted when columns are narrowed: a longer one is an address or an id and may be cut. */
const longestWord = 16;

const wordWidth = (text: string): number => {
  let widest = 0;
  for (const word of text.split(/\s+/)) widest = Math.max(widest, displayWidth(word));
  return Math.min(widest, longestWord);
};

/**
 * Widths that fit the line, or none when even the narrowest do not. What costs the reader least gives
 * way first: headings wrap, then columns of text wrap between words, then columns of numbers do, and
 * last of all words are cut.
 */
const fittedWidths = (columns: readonly Drawn[], width: number): readonly number[] | undefined => {
  const available = width - gap.length * Math.max(0, columns.length - 1);
  const widths = columns.map((column) => column.natural);
  const narrowed = (align: "left" | "right", floor: (column: Drawn) => number) =>
    columns.map((column, index) =>
      column.align === align ? Math.min(widths[index] ?? 0, floor(column)) : (widths[index] ?? 0),
    );
  const smallest = (column: Drawn): number => Math.min(column.natural, narrowestColumn);
  const stages = [
    () => columns.map((column) => Math.max(column.ofCells, wordWidth(column.heading))),
    () => narrowed("left", (column) => Math.max(column.ofWords, smallest(column))),
    () => narrowed("right", (column) => Math.max(column.ofWords, smallest(column))),
    () => columns.map(smallest),
  ];
  let excess = widths.reduce((sum, each) => sum + each, 0) - available;
  for (const stage of stages) {
    const least = stage();
    while (excess > 0) {
      // The widest that can still give way, so that one long column does not squeeze all others.
      let place = -1;
      widths.forEach((each, index) => {
        if (each > (least[index] ?? 0) && (place === -1 || each > (widths[place] ?? 0)))
          place = index;
      });
      if (place === -1) break;
      widths[place] = (widths[place] ?? 0) - 1;
      excess -= 1;
    }
  }
  return excess > 0 ? undefined : widths;
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
 * Columns much too wide for the line give way to the narrow ones where the table has such; others wrap, headings
 * first and numbers last; where even that is not enough each row becomes a list of labels and values. Wide
 * characters take two cells; control characters are left out.
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
  const drawn = (column: Column): Drawn => {
    const heading = visibleText(columnHeading(column));
    const cells = table.rows.map((row) => visibleText(row[column.key] ?? ""));
    // A spread of 100,000 arguments overflows the stack, so the widest cell is found by a loop.
    let ofCells = 1;
    let ofWords = wordWidth(heading);
    for (const cell of cells) {
      ofCells = Math.max(ofCells, displayWidth(cell));
      ofWords = Math.max(ofWords, wordWidth(cell));
    }
    const natural = Math.max(ofCells, displayWidth(heading));
    return { align: column.align, heading, cells, natural, ofCells, ofWords };
  };
  const wide = table.columns.map(drawn);
  const reach = wide.reduce((sum, { natural }) => sum + gap.length + natural, -gap.length);
  const columns = reach <= wrapsWell * width ? wide : (table.narrowColumns?.map(drawn) ?? wide);
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
