/** Cells as the text of a notebook for the TypeScript kernel. */

/** One cell of a notebook that is written for the first time. */
export type NotebookCell = Readonly<{ kind: "markdown" | "code"; lines: readonly string[] }>;

const withBreaks = (lines: readonly string[]): readonly string[] =>
  lines.map((line, index) => (index < lines.length - 1 ? `${line}\n` : line));

/** The text of an `.ipynb` without outputs. */
export const notebookText = (cells: readonly NotebookCell[]): string =>
  `${JSON.stringify(
    {
      cells: cells.map(({ kind, lines }, index) => ({
        cell_type: kind,
        ...(kind === "code" ? { execution_count: null } : {}),
        id: `cell-${index + 1}`,
        metadata: {},
        ...(kind === "code" ? { outputs: [] } : {}),
        source: withBreaks(lines),
      })),
      metadata: {
        kernelspec: { display_name: "TypeScript", language: "typescript", name: "tslab" },
        language_info: { file_extension: ".ts", mimetype: "text/typescript", name: "typescript" },
      },
      nbformat: 4,
      nbformat_minor: 5,
    },
    null,
    1,
  )}\n`;
