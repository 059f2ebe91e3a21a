/** One sheet's XML as text cells, numbered as the sheet numbers them. */
import { meantText, type NumberMeaning } from "./number-format.js";
import { walkXml } from "./walk-xml.js";

/** What the cells of a sheet refer to elsewhere in the workbook. */
export type SheetContext = Readonly<{
  strings: readonly string[];
  /** Meaning of numbers, by the cell's style. */
  meanings: readonly NumberMeaning[];
  from1904: boolean;
}>;

/** A cell by its place: row from 1, column from 0. */
export type CellPlace = Readonly<{ row: number; column: number }>;

/** A sheet's filled cells, and what is not seen in their text. */
export type SheetCells = Readonly<{
  /** Texts by row and column; blank cells are absent. */
  rows: ReadonlyMap<number, ReadonlyMap<number, string>>;
  merged: readonly string[];
  hiddenRows: readonly number[];
  /** First and last column of each hidden stretch. */
  hiddenColumns: readonly (readonly [first: number, last: number])[];
  percents: readonly CellPlace[];
  formulas: number;
  /** Formulas whose result was never stored. */
  withoutValue: readonly CellPlace[];
}>;

/** A column's place from its letters: A is 0. */
const columnOfLetters = (letters: string): number =>
  [...letters].reduce((sum, letter) => sum * 26 + letter.charCodeAt(0) - 64, 0) - 1;

/** A column's letters: 0 is A, 26 is AA. */
export const columnLetters = (column: number): string =>
  `${column < 26 ? "" : columnLetters(Math.floor(column / 26) - 1)}${String.fromCharCode(65 + (column % 26))}`;

/** Characters that XML cannot hold are written _x000D_. */
const unescaped = (text: string): string =>
  text.includes("_x")
    ? text.replace(/_x([0-9A-Fa-f]{4})_/g, (_whole, code: string) =>
        String.fromCharCode(Number.parseInt(code, 16)),
      )
    : text;

/** The texts of an element that may hold runs of different looks; readings written above them are left out. */
const runs = () => {
  let text = "";
  let taking = false;
  let above = false;
  return {
    opens: (name: string) => {
      if (name === "rPh") above = true;
      taking = name === "t" && !above;
    },
    closes: (name: string) => {
      if (name === "rPh") above = false;
      taking = false;
    },
    text: (piece: string) => {
      if (taking) text += piece;
    },
    taken: (): string => {
      const whole = unescaped(text);
      text = "";
      return whole;
    },
  };
};

/** The texts that cells refer to by number. */
export const sharedStrings = (xml: string): readonly string[] => {
  const strings: string[] = [];
  const { opens, closes, text, taken } = runs();
  walkXml(xml, {
    opens,
    closes: (name) => {
      closes(name);
      if (name === "si") strings.push(taken());
    },
    text,
  });
  return strings;
};

/**
 * The filled cells of a sheet as text: numbers with all their digits, dates as ISO dates, percentages as they are
 * shown, formulas by their stored results.
 *
 * @throws {Error} where the XML is damaged
 * @source ISO/IEC 29500-1:2016, 18.3 (worksheets)
 */
export const sheetCells = (
  xml: string,
  { strings, meanings, from1904 }: SheetContext,
): SheetCells => {
  const rows = new Map<number, Map<number, string>>();
  const merged: string[] = [];
  const hiddenRows: number[] = [];
  const hiddenColumns: (readonly [number, number])[] = [];
  const percents: CellPlace[] = [];
  const withoutValue: CellPlace[] = [];
  const inline = runs();
  let formulas = 0;
  let row = 0;
  let column = -1;
  let cells = new Map<number, string>();
  let type = "n";
  let meaning: NumberMeaning = "number";
  let isFormula = false;
  let inValue = false;
  let value = "";

  const cellText = (): string => {
    if (type === "inlineStr") return inline.taken();
    if (type === "s") {
      const text = value === "" ? "" : strings[Number(value)];
      if (text === undefined) throw new Error("a cell's text is missing");
      return text;
    }
    if (type === "b") return value === "" ? "" : value.trim() === "1" ? "TRUE" : "FALSE";
    if (type !== "n") return unescaped(value);
    if (value.trim() === "") return "";
    const number = Number(value);
    if (!Number.isFinite(number)) throw new Error("a cell's number is damaged");
    if (meaning === "percent") percents.push({ row, column });
    return meantText(number, meaning, from1904);
  };

  walkXml(xml, {
    opens: (name, attribute) => {
      inline.opens(name);
      inValue = name === "v";
      if (name === "row") {
        row = Number(attribute("r") ?? row + 1);
        column = -1;
        cells = rows.get(row) ?? new Map<number, string>();
        rows.set(row, cells);
        if (isTrue(attribute("hidden"))) hiddenRows.push(row);
      } else if (name === "c") {
        const letters = /^[A-Z]+/.exec(attribute("r") ?? "")?.[0];
        column = letters === undefined ? column + 1 : columnOfLetters(letters);
        type = attribute("t") ?? "n";
        meaning = meanings[Number(attribute("s") ?? 0)] ?? "number";
        isFormula = false;
        value = "";
      } else if (name === "f") isFormula = true;
      else if (name === "mergeCell") merged.push(attribute("ref") ?? "");
      else if (name === "col" && isTrue(attribute("hidden")))
        hiddenColumns.push([Number(attribute("min")) - 1, Number(attribute("max")) - 1]);
    },
    closes: (name) => {
      inline.closes(name);
      inValue = false;
      if (name !== "c") return;
      const text = cellText();
      if (isFormula) formulas += 1;
      if (isFormula && value === "" && type !== "str") withoutValue.push({ row, column });
      if (text !== "") cells.set(column, text);
    },
    text: (piece) => {
      if (inValue) value += piece;
      inline.text(piece);
    },
  });
  return { rows, merged, hiddenRows, hiddenColumns, percents, formulas, withoutValue };
};

/** Whether an attribute says yes. */
export const isTrue = (attribute: string | undefined): boolean =>
  attribute === "1" || attribute === "true";
