/** A table decided once: what each column holds, how it is rounded, and the rows. */
export type Column = Readonly<{
  key: string;
  label: string;
  /** Shown in the heading after the label. */
  unit?: string;
  align: "left" | "right";
}>;

/** A column of a CSV: its key in snake case is the heading; numbers are written as machines read them. */
export type CsvColumn = Pick<Column, "key" | "align">;

export const csvTexts = (...keys: readonly string[]): readonly CsvColumn[] =>
  keys.map((key) => ({ key, align: "left" }));

export const csvNumbers = (...keys: readonly string[]): readonly CsvColumn[] =>
  keys.map((key) => ({ key, align: "right" }));

/** Cells are already rounded text; a blank cell says so with an empty string. */
export type Table = Readonly<{
  id: string;
  title: string;
  /** Where a table is not read at first sight: `folded` a click or an option away, `file` only written beside. */
  place?: "folded" | "file";
  columns: readonly Column[];
  /** Fewer and fuller columns for lines and screens that do not hold the others side by side. */
  narrowColumns?: readonly Column[];
  /**
   * Columns of the CSV export where they differ from those shown to people: intervals as two columns,
   * numbers with all their digits. The rows hold the cells of both lists. Absent: the same columns.
   */
  csvColumns?: readonly CsvColumn[];
  rows: readonly Readonly<Record<string, string>>[];
  /** Footnotes: assumptions, warnings, sources. */
  notes: readonly string[];
}>;

/** Heading of a column: its label, with the unit in brackets where it has one. */
export const columnHeading = (column: Column): string =>
  column.unit === undefined || column.unit === ""
    ? column.label
    : `${column.label} (${column.unit})`;

/** A table of plain text under the given labels. */
export const plainTable = (
  id: string,
  labels: readonly string[],
  rows: readonly (readonly string[])[],
): Table => ({
  id,
  title: id,
  columns: labels.map((label) => ({ key: label, label, align: "left" })),
  rows: rows.map((cells) =>
    Object.fromEntries(labels.map((label, index) => [label, cells[index] ?? ""])),
  ),
  notes: [],
});

/** A table as one that is read when asked for. */
export const folded = (table: Table): Table => ({ ...table, place: "folded" });
