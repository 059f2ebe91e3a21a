import type { CodebookField } from "./codebook-field.js";
import { codebookSections, columnOf, fieldNames, type FieldName } from "./codebook.js";
import { cellKindOf, choicesOf } from "./column-reader.js";
import { limitsText, numberLimits } from "./number-limits.js";

const opening = `# Codebook

One row is one outcome, in one arm, at one test angle and site, at one time after baseline. Fields of the
study and of the arm repeat on their rows, and the reader says where they disagree. Columns may stand in
any order, and only study, arm and outcome must be there. Columns of your own are kept: filter and group by them.

A blank cell means *not coded yet*. The words *not reported* mean *looked for, not in the source*.

**Required**: a row without it is refused. **Essential**: a row whose cell cannot be read is refused,
because its effect would be another one. A cell of any other column that cannot be read is set aside, and
the row is used with a warning. Each level says which rows must agree: all of a study, all of an arm, or none.
`;

/** What the codebook says of one column, as cells to be read. */
export type ColumnTold = Readonly<{ column: string; what: string; values: string; level: string }>;

/** Every column of the codebook, section by section: what to type, the values it takes, which rows must agree. */
export const codebookTold = (): readonly Readonly<{
  title: string;
  columns: readonly ColumnTold[];
}>[] =>
  codebookSections.map(({ title, fields }) => ({
    title,
    columns: Object.entries(fields).map(([name, field]) => columnTold(name as FieldName, field)),
  }));

const columnTold = (name: FieldName, field: CodebookField): ColumnTold => ({
  column: columnOf(name),
  what: `${field.title}. ${field.description} Example: ${field.example}.`,
  values: valuesText(field),
  level: [
    field.level,
    ...(field.required === true ? ["required"] : []),
    ...(field.essential === true ? ["essential"] : []),
  ].join(", "),
});

/** The codebook as a page to read, in Markdown: every column with what to type, the values it takes, its level. */
export const codebookPage = (): string =>
  [
    opening,
    ...codebookTold().map(
      ({ title, columns }) =>
        `## ${title}\n\n| column | what to type | values | level |\n| --- | --- | --- | --- |\n` +
        columns
          .map(({ column, what, values, level }) => {
            const cells = [`\`${column}\``, what, values, level];
            return `| ${cells.map((cell) => cell.replaceAll("|", "\\|")).join(" | ")} |`;
          })
          .join("\n") +
        "\n",
    ),
  ].join("\n");

const valuesText = (field: CodebookField): string => {
  const kind = cellKindOf(field);
  if (kind === "choice") return choicesOf(field).join("; ");
  if (kind === "text") return "text";
  if (kind === "numbers") return `numbers, ${field.unit ?? ""}`;
  const unit = field.unit === undefined ? "" : `, ${field.unit}`;
  return `${limitsText(numberLimits(field.schema))}${unit}`;
};

/** A blank file to fill in: the codebook's columns as the header of a CSV, and no rows. */
export const codebookTemplate = (): string => `${fieldNames.map(columnOf).join(",")}\n`;
