import { strToU8, zipSync } from "fflate";

const escaped = (text: string): string =>
  text
    // What XML cannot hold is no part of a table either.
    .replace(/[^\t\n\r\u0020-\uD7FF\uE000-\uFFFD\u{10000}-\u{10FFFF}]/gu, "")
    .replace(
      /[&<>"]/g,
      (sign) => ({ "&": "&amp;", "<": "&lt;", ">": "&gt;", '"': "&quot;" })[sign]!,
    );

/** A cell as a number where that keeps every letter of it, else as text: no spreadsheet makes a date of 3–10. */
const cellXml = (text: string): string =>
  text === ""
    ? "<c/>"
    : String(Number(text)) === text && Number.isFinite(Number(text))
      ? `<c><v>${text}</v></c>`
      : `<c t="inlineStr"><is><t xml:space="preserve">${escaped(text)}</t></is></c>`;

const head = '<?xml version="1.0" encoding="UTF-8" standalone="yes"?>';
const office = "http://schemas.openxmlformats.org";

/**
 * A workbook (.xlsx) with one sheet: the header, kept in sight, and the rows. Numbers that are written as a machine would
 * write them are numbers; every other cell is text, exactly as it stands.
 *
 * @param name of the sheet, without the signs a workbook forbids
 * @source ECMA-376 (Office Open XML), part 1, SpreadsheetML
 */
export const writeWorkbook = (
  header: readonly string[],
  rows: readonly (readonly string[])[],
  name = "outcomes",
): Uint8Array<ArrayBuffer> => {
  const lines = [header, ...rows].map((cells) => `<row>${cells.map(cellXml).join("")}</row>`);
  const parts: Readonly<Record<string, string>> = {
    "[Content_Types].xml": `${head}<Types xmlns="${office}/package/2006/content-types"><Default Extension="rels" ContentType="application/vnd.openxmlformats-package.relationships+xml"/><Default Extension="xml" ContentType="application/xml"/><Override PartName="/xl/workbook.xml" ContentType="application/vnd.openxmlformats-officedocument.spreadsheetml.sheet.main+xml"/><Override PartName="/xl/worksheets/sheet1.xml" ContentType="application/vnd.openxmlformats-officedocument.spreadsheetml.worksheet+xml"/></Types>`,
    "_rels/.rels": `${head}<Relationships xmlns="${office}/package/2006/relationships"><Relationship Id="rId1" Type="${office}/officeDocument/2006/relationships/officeDocument" Target="xl/workbook.xml"/></Relationships>`,
    "xl/workbook.xml": `${head}<workbook xmlns="${office}/spreadsheetml/2006/main" xmlns:r="${office}/officeDocument/2006/relationships"><sheets><sheet name="${escaped(name)}" sheetId="1" r:id="rId1"/></sheets></workbook>`,
    "xl/_rels/workbook.xml.rels": `${head}<Relationships xmlns="${office}/package/2006/relationships"><Relationship Id="rId1" Type="${office}/officeDocument/2006/relationships/worksheet" Target="worksheets/sheet1.xml"/></Relationships>`,
    "xl/worksheets/sheet1.xml": `${head}<worksheet xmlns="${office}/spreadsheetml/2006/main"><sheetViews><sheetView workbookViewId="0"><pane ySplit="1" topLeftCell="A2" activePane="bottomLeft" state="frozen"/></sheetView></sheetViews><sheetData>${lines.join("")}</sheetData></worksheet>`,
  };
  const files = Object.fromEntries(
    Object.entries(parts).map(([path, text]) => [path, strToU8(text)] as const),
  );
  // The same table gives the same bytes: the date is the first that a zip holds wherever one is.
  return zipSync(files, { mtime: "1980-01-02" });
};
