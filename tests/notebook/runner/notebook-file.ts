/** A notebook file of format 4.5, as far as it is read and written here. */
export type Output = Readonly<Record<string, unknown>> & Readonly<{ output_type: string }>;

export type Cell = Readonly<{
  cell_type: "markdown" | "code";
  id: string;
  metadata: Readonly<Record<string, unknown>>;
  source: string | readonly string[];
  execution_count?: number | null;
  outputs?: readonly Output[];
}>;

export type Notebook = Readonly<{
  cells: readonly Cell[];
  metadata: Readonly<Record<string, unknown>>;
  nbformat: 4;
  nbformat_minor: number;
}>;

/** A cell's text in one piece. */
export const sourceOf = ({ source }: Cell): string =>
  typeof source === "string" ? source : source.join("");

/** Text in the form the format keeps it, a line an entry, so that changes can be read. */
export const linesOf = (text: string): readonly string[] => text.split(/(?<=\n)/).filter(Boolean);

export const readNotebook = (text: string): Notebook => JSON.parse(text) as Notebook;

/** The notebook as the text of its file. */
export const notebookText = (notebook: Notebook): string =>
  `${JSON.stringify(notebook, null, 1)}\n`;

const decodedImages = (text: string): string =>
  text.replace(/data:image\/svg\+xml;base64,([A-Za-z0-9+/=]+)/g, (_, base64: string) =>
    Buffer.from(base64, "base64").toString("utf8"),
  );

/** Machines may differ in the last digits of a number; eight digits are compared. */
const comparedDigits = 8;

const rounded = (text: string): string =>
  text.replace(/-?\d+\.\d+(?:e[-+]?\d+)?/gi, (number) =>
    String(Number(Number(number).toPrecision(comparedDigits))),
  );

/** What a cell shows, in a form in which two runs can be compared. */
export const comparableOutputs = (cell: Cell): string =>
  rounded(decodedImages(JSON.stringify(cell.outputs ?? []).replaceAll('\\"', '"')));

/** Numbers of code cells whose outputs are not the same in two notebooks, from 1. */
export const changedCells = (stored: Notebook, fresh: Notebook): readonly number[] => {
  const code = ({ cells }: Notebook): readonly Cell[] =>
    cells.filter(({ cell_type: type }) => type === "code");
  const [before, after] = [code(stored), code(fresh)];
  return before.flatMap((cell, index) => {
    const now = after[index];
    return now !== undefined && comparableOutputs(cell) === comparableOutputs(now)
      ? []
      : [index + 1];
  });
};
