/** Workbooks put together by hand, part for part, as the open standard has them. */
import { strToU8, zipSync } from "fflate";

export type SheetParts = Readonly<{
  name: string;
  /** Inside `sheetData`. */
  rows: string;
  state?: "hidden" | "veryHidden";
  /** Before and after `sheetData`. */
  before?: string;
  after?: string;
}>;

const space = "http://schemas.openxmlformats.org/spreadsheetml/2006/main";
const related = "http://schemas.openxmlformats.org/officeDocument/2006/relationships";
const relation = (id: string, kind: string, target: string): string =>
  `<Relationship Id="${id}" Type="${related}/${kind}" Target="${target}"/>`;
const relations = (inside: string): string =>
  `<?xml version="1.0"?><Relationships xmlns="http://schemas.openxmlformats.org/package/2006/relationships">${inside}</Relationships>`;

/** Bytes of a package of named texts. */
export const packed = (parts: Readonly<Record<string, string>>): Uint8Array =>
  zipSync(Object.fromEntries(Object.entries(parts).map(([name, text]) => [name, strToU8(text)])));

/** The parts of a workbook: styles are formats by their number, s="0" being general. */
export const workbookParts = (
  sheets: readonly SheetParts[],
  {
    strings = [],
    formats = [],
    from1904 = false,
  }: Readonly<{
    strings?: readonly string[];
    /** Numbers of built-in formats, or texts of own ones. */
    formats?: readonly (number | string)[];
    from1904?: boolean;
  }> = {},
): Readonly<Record<string, string>> => ({
  "_rels/.rels": relations(relation("rId1", "officeDocument", "xl/workbook.xml")),
  "xl/workbook.xml": `<workbook xmlns="${space}" xmlns:r="${related}"><workbookPr${from1904 ? ' date1904="1"' : ""}/><sheets>${sheets
    .map(
      ({ name, state }, at) =>
        `<sheet name="${name}" sheetId="${at + 7}"${state === undefined ? "" : ` state="${state}"`} r:id="rId${at + 1}"/>`,
    )
    .join("")}</sheets></workbook>`,
  "xl/_rels/workbook.xml.rels": relations(
    [
      ...sheets.map((_, at) =>
        relation(`rId${at + 1}`, "worksheet", `worksheets/sheet${at + 1}.xml`),
      ),
      relation("rId98", "styles", "styles.xml"),
      relation("rId99", "sharedStrings", "/xl/sharedStrings.xml"),
    ].join(""),
  ),
  "xl/styles.xml": `<styleSheet xmlns="${space}"><numFmts>${formats
    .map((format, at) =>
      typeof format === "string"
        ? `<numFmt numFmtId="${164 + at}" formatCode="${format.replaceAll('"', "&quot;")}"/>`
        : "",
    )
    .join(
      "",
    )}</numFmts><cellStyleXfs><xf numFmtId="9"/></cellStyleXfs><cellXfs><xf numFmtId="0"/>${formats
    .map((format, at) => `<xf numFmtId="${typeof format === "string" ? 164 + at : format}"/>`)
    .join("")}</cellXfs></styleSheet>`,
  "xl/sharedStrings.xml": `<sst xmlns="${space}">${strings.map((inside) => `<si>${inside}</si>`).join("")}</sst>`,
  ...Object.fromEntries(
    sheets.map(({ rows, before = "", after = "" }, at) => [
      `xl/worksheets/sheet${at + 1}.xml`,
      `<worksheet xmlns="${space}">${before}<sheetData>${rows}</sheetData>${after}</worksheet>`,
    ]),
  ),
});

/** Bytes of a workbook. */
export const workbookOf = (...given: Parameters<typeof workbookParts>): Uint8Array =>
  packed(workbookParts(...given));

/** A row of inline texts from its first column on. */
export const textRow = (row: number, ...texts: readonly string[]): string =>
  `<row r="${row}">${texts.map((text) => `<c t="inlineStr"><is><t>${text}</t></is></c>`).join("")}</row>`;
