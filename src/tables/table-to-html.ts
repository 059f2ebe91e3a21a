import { type Column, type Table, columnHeading } from "./table.js";
import { escapeHtml } from "./escape-html.js";

const numberClass = (column: Column): string =>
  column.align === "right" ? ' class="number tabular-nums"' : "";

/**
 * A table as HTML: caption, header cells with their scope, numbers right-aligned by class.
 *
 * The table's id stands in `data-table`, not in `id`: one document may hold the same kind of table twice.
 * Every text is escaped, whatever file it came from. The first column heads its row.
 */
export const tableToHtml = (table: Table): string => {
  const headings = table.columns.map(
    (column) => `<th scope="col"${numberClass(column)}>${escapeHtml(columnHeading(column))}</th>`,
  );
  const rows = table.rows.map((row) => {
    const cells = table.columns.map((column, index) => {
      const text = escapeHtml(row[column.key] ?? "");
      return index === 0
        ? `<th scope="row"${numberClass(column)}>${text}</th>`
        : `<td${numberClass(column)}>${text}</td>`;
    });
    return `<tr>${cells.join("")}</tr>`;
  });
  const notes = table.notes.map((note) => `<li>${escapeHtml(note)}</li>`);
  const lines = [
    `<div class="table-block" data-table="${escapeHtml(table.id)}">`,
    "<table>",
    `<caption>${escapeHtml(table.title)}</caption>`,
    `<thead><tr>${headings.join("")}</tr></thead>`,
    "<tbody>",
    ...rows,
    "</tbody>",
    "</table>",
    ...(notes.length > 0 ? [`<ul class="table-notes">${notes.join("")}</ul>`] : []),
    "</div>",
  ];
  return `${lines.join("\n")}\n`;
};
