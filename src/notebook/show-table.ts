import { type Table, columnHeading } from "../tables/table.js";
import { escapeHtml } from "../tables/escape-html.js";
import { show } from "./show-on.js";

/** What a data frame has, whichever library made it. */
export type Frame = Readonly<{
  columns: readonly string[];
  values: readonly unknown[];
}>;

/** Rows of a frame shown before the rest is counted. */
const mostRows = 40;

const right = "text-align:right;font-variant-numeric:tabular-nums;white-space:nowrap";
const left = "text-align:left";

const frameText = (value: unknown): string =>
  value === null || value === undefined || (typeof value === "number" && Number.isNaN(value))
    ? ""
    : typeof value === "number"
      ? String(Number.isInteger(value) ? value : Number(value.toPrecision(4))).replace("-", "−")
      : String(value);

type Shown = Readonly<{
  title: string;
  headings: readonly Readonly<{ text: string; right: boolean }>[];
  rows: readonly (readonly string[])[];
  notes: readonly string[];
}>;

const fromTable = (table: Table): Shown => ({
  title: table.title,
  headings: table.columns.map((column) => ({
    text: columnHeading(column),
    right: column.align === "right",
  })),
  rows: table.rows.map((row) => table.columns.map(({ key }) => row[key] ?? "")),
  notes: table.notes,
});

const fromFrame = ({ columns, values }: Frame, title: string): Shown => {
  const rows = values.map((row): readonly unknown[] =>
    Array.isArray(row) ? (row as readonly unknown[]) : [row],
  );
  return {
    title,
    headings: columns.map((text, index) => ({
      text,
      right: rows.some((row) => typeof row[index] === "number"),
    })),
    rows: rows.slice(0, mostRows).map((row) => row.map(frameText)),
    notes: rows.length > mostRows ? [`${rows.length - mostRows} more rows`] : [],
  };
};

/** A table or a frame as HTML that carries its own layout, because notebooks strip style sheets. */
export const notebookTable = (table: Table | Frame, title = ""): string => {
  const shown =
    "notes" in table && "rows" in table
      ? fromTable(title === "" ? table : { ...table, title })
      : fromFrame(table, title);
  const cell = (tag: "th" | "td", text: string, index: number): string =>
    `<${tag} style="${shown.headings[index]?.right === true ? right : left}">${escapeHtml(text)}</${tag}>`;
  return [
    `<div style="overflow-x:auto">`,
    `<table>`,
    ...(shown.title === ""
      ? []
      : [
          `<caption style="text-align:left;font-weight:600;caption-side:top">${escapeHtml(shown.title)}</caption>`,
        ]),
    `<thead><tr>${shown.headings.map(({ text }, index) => cell("th", text, index)).join("")}</tr></thead>`,
    `<tbody>`,
    ...shown.rows.map(
      (row) => `<tr>${row.map((text, index) => cell("td", text, index)).join("")}</tr>`,
    ),
    `</tbody>`,
    `</table>`,
    ...(shown.notes.length === 0
      ? []
      : [`<ul>${shown.notes.map((note) => `<li>${escapeHtml(note)}</li>`).join("")}</ul>`]),
    `</div>`,
  ].join("\n");
};

/**
 * Nothing; shows a table of the library, or a data frame, below the cell.
 *
 * Numbers of a library's table are rounded by the library; those of a frame are shown to four digits, since
 * a frame is for looking and not for computing.
 *
 * @param table a `Table`, or anything with `columns` and `values` such as a danfo.js frame
 * @param title stands above a frame, or in place of the table's own title
 * @source none: a layout
 */
export const showTable = (table: Table | Frame, title = ""): void => {
  show("text/html", notebookTable(table, title));
};
