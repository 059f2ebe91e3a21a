import { type Table, columnHeading } from "./table.js";
import { visibleText } from "./visible-text.js";

/** A text that Markdown shows as it stands: no markup, no cell border, no HTML. */
export const escapeMarkdown = (text: string): string =>
  visibleText(text)
    .replace(/[\\`*_{}[\]()#+!|~$^=]/g, "\\$&")
    .replace(/&/g, "&amp;")
    .replace(/</g, "&lt;")
    .replace(/>/g, "&gt;")
    .replace(/^(\s*)([-.])/, "$1\\$2")
    .replace(/^(\d+)\./, "$1\\.");

const line = (cells: readonly string[]): string => `| ${cells.join(" | ")} |`;

/** A table as Markdown: bold title, pipe table, footnotes as a list; every text escaped. */
export const tableToMarkdown = (table: Table): string => {
  const heading = table.columns.map((column) => escapeMarkdown(columnHeading(column)));
  const rule = table.columns.map((column) => (column.align === "right" ? "---:" : ":---"));
  const rows = table.rows.map((row) =>
    line(table.columns.map((column) => escapeMarkdown(row[column.key] ?? ""))),
  );
  const notes = table.notes.map((note) => `- ${escapeMarkdown(note)}`);
  const blocks = [
    `**${escapeMarkdown(table.title)}**`,
    [line(heading), line(rule), ...rows].join("\n"),
    ...(notes.length > 0 ? [notes.join("\n")] : []),
  ];
  return `${blocks.join("\n\n")}\n`;
};
