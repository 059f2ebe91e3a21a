import { describe, expect, test } from "vitest";
import { readRecords } from "../../src/records/read-records.js";
import { readWorkbook } from "../../src/workbook/read-workbook.js";
import { packed, textRow, workbookOf, workbookParts } from "./workbook-under-test.js";

const cellsOf = (bytes: Uint8Array) =>
  readWorkbook(bytes).rows.map(({ line, cells }) => [line, ...cells]);
/** The one cell under a header, by its XML. */
const cell = (xml: string, options: Parameters<typeof workbookOf>[1] = {}) => {
  const rows = `${textRow(1, "a", "b")}<row r="2">${xml}<c r="B2"><v>5</v></c></row>`;
  return readWorkbook(workbookOf([{ name: "S", rows }], options)).rows[0]?.cells[0];
};
const messages = (bytes: Uint8Array) => readWorkbook(bytes).notes.map(({ message }) => message);
const refused = (bytes: Uint8Array) => {
  const { rows, issues } = readWorkbook(bytes);
  expect(rows).toEqual([]);
  expect(issues).toHaveLength(1);
  return `${issues[0]?.code}: ${issues[0]?.message}; ${issues[0]?.mend}`;
};

describe("a cell's text", () => {
  test.each([
    ["all digits of 0.1 + 0.2", '<c r="A2"><v>0.30000000000000004</v></c>', "0.30000000000000004"],
    ["the seventeen digits that some write", '<c r="A2"><v>18.399999999999999</v></c>', "18.4"],
    ["an exponent", '<c r="A2"><v>1.5E-3</v></c>', "0.0015"],
    ["a formula's stored result", '<c r="A2"><f>B2*2</f><v>10</v></c>', "10"],
    ["a formula's text", '<c r="A2" t="str"><f>"x"&amp;"y"</f><v>x&amp;y</v></c>', "x&y"],
    ["an error by its name", '<c r="A2" t="e"><f>NA()</f><v>#N/A</v></c>', "#N/A"],
    ["yes", '<c r="A2" t="b"><v>1</v></c>', "TRUE"],
    ["no", '<c r="A2" t="b"><v>0</v></c>', "FALSE"],
    ["a date written out", '<c r="A2" t="d"><v>2024-10-03</v></c>', "2024-10-03"],
    ["text in place", '<c r="A2" t="inlineStr"><is><t> knee </t></is></c>', " knee "],
    ["characters XML cannot hold", '<c r="A2" t="inlineStr"><is><t>a_x0009_b</t></is></c>', "a\tb"],
  ])("%s", (_what, xml, text) => expect(cell(xml)).toBe(text));

  test("text kept once for many cells, in runs of different looks, without readings above it", () => {
    const strings = [
      "<t>plain</t>",
      "<r><rPr><b/></rPr><t>kg</t></r><r><t>·m²</t></r><rPh sb='0' eb='1'><t>reading</t></rPh>",
    ];
    expect(cell('<c r="A2" t="s"><v>0</v></c>', { strings })).toBe("plain");
    expect(cell('<c r="A2" t="s"><v>1</v></c>', { strings })).toBe("kg·m²");
  });

  // 45,000 and 1 are 15 March 2023 and 1 January 1900 in the standard's count; 1904's begins 1,462 days later.
  test.each([
    ["a built-in date", 14, "45000", "2023-03-15"],
    ["a date of one's own", "[$-809]d\\ mmm\\ yyyy;@", "45000", "2023-03-15"],
    ["the first day", 14, "1", "1900-01-01"],
    ["the day after the leap day that never was", 14, "61", "1900-03-01"],
    ["a leap day", 14, "45351", "2024-02-29"],
    ["a date with a time", 22, "45000.75", "2023-03-15T18:00:00"],
    ["a time", 20, "0.5625", "13:30:00"],
    ["hours beyond a day", "[h]:mm", "1.25", "30:00:00"],
    ["a percentage without the error of × 100", 9, "0.07", "7%"],
    ["a percentage of one's own", "0.0%", "0.705", "70.5%"],
    ["a unit in quotation marks is no date", '0.0"days"', "3.5", "3.5"],
    ["a colour is no date", "[Red]0.00", "2.25", "2.25"],
  ])("%s", (_what, format, value, text) =>
    expect(cell(`<c r="A2" s="1"><v>${value}</v></c>`, { formats: [format] })).toBe(text),
  );

  test("a date counted from 1904", () =>
    expect(cell('<c r="A2" s="1"><v>43538</v></c>', { formats: [14], from1904: true })).toBe(
      "2023-03-15",
    ));
});

describe("a sheet's rows", () => {
  test("have the numbers of the sheet; blank rows, blank columns and titles above are left out", () => {
    const rows = [
      textRow(1, "Supplementary table 2"),
      '<row r="3"><c r="B3" t="inlineStr"><is><t>study</t></is></c><c r="D3" t="inlineStr"><is><t>weeks</t></is></c></row>',
      '<row r="5"><c r="B5" t="inlineStr"><is><t>Ash</t></is></c><c r="C5" s="0"/><c r="D5"><v>8</v></c></row>',
      '<row r="9"><c r="D9"><v>12</v></c></row>',
    ].join("");
    const bytes = workbookOf([{ name: "Data", rows }]);
    expect(readWorkbook(bytes)).toMatchObject({ header: ["study", "weeks"], headerLine: 3 });
    // What the header lacks is told at its own line.
    const missing = readRecords(readWorkbook(bytes)).issues.filter(
      ({ code }) => code === "missing-column",
    );
    expect(missing.map(({ line, column }) => `${line} ${column}`)).toEqual(["3 arm", "3 outcome"]);
    expect(cellsOf(bytes)).toEqual([
      [5, "Ash", "8"],
      [9, "", "12"],
    ]);
    expect(messages(bytes)).toEqual([
      'the sheet "Data" was read, and its row numbers are the line numbers here',
      'above the header were left out: "Supplementary table 2"',
    ]);
  });

  test("need no places written: cells and rows follow each other", () => {
    const rows =
      "<row><c><v>1</v></c><c><v>2</v></c></row><row><c><v>3</v></c><c><v>4</v></c></row>";
    expect(cellsOf(workbookOf([{ name: "S", rows }]))).toEqual([[2, "3", "4"]]);
  });

  test("tell what was merged, hidden, in percent and worked out", () => {
    const rows = [
      textRow(1, "study", "load", "weeks", "gain"),
      '<row r="2"><c t="inlineStr"><is><t>Ash</t></is></c><c s="1"><v>0.7</v></c><c><v>6</v></c><c><f>1+2</f><v>3</v></c></row>',
      '<row r="3" hidden="1"><c r="B3" s="1"><v>0.85</v></c><c r="C3"><v>9</v></c><c r="D3"><f>1+3</f></c></row>',
    ].join("");
    const sheet = {
      name: "S",
      rows,
      before: '<cols><col min="3" max="3" hidden="1"/></cols>',
      after: '<mergeCells><mergeCell ref="A2:A3"/></mergeCells>',
    };
    const bytes = workbookOf([sheet], { formats: [10] });
    expect(cellsOf(bytes)).toEqual([
      [2, "Ash", "70%", "6", "3"],
      [3, "", "85%", "9", ""],
    ]);
    expect(messages(bytes).slice(1)).toEqual([
      "merged cells hold their value in the first cell and were read as empty in the others: A2:A3; unmerge them and fill the value down if it belongs to every row",
      "hidden rows were read like the others: 3",
      "hidden columns were read like the others: C",
      "2 cells are shown as a percentage and read as shown: B2 holds 0.7 and was read as 70%",
      "2 cells hold formulas: the result stored in the workbook was read, and nothing was worked out anew",
    ]);
    expect(readWorkbook(bytes).issues).toMatchObject([
      { code: "formula-without-value", line: 3, column: "gain", value: "D3" },
    ]);
  });

  test("come from the first sheet that is not hidden, or from the one that is named", () => {
    const sheets = [
      { name: "Codes", rows: textRow(1, "x", "y"), state: "hidden" as const },
      { name: "Strength", rows: textRow(1, "a", "b") + textRow(2, "1", "2") },
      { name: "Size &amp; tendon", rows: textRow(1, "c", "d") + textRow(4, "3", "4") },
    ];
    const bytes = workbookOf(sheets);
    expect(readWorkbook(bytes)).toMatchObject({
      header: ["a", "b"],
      sheet: { name: "Strength", names: ["Codes", "Strength", "Size & tendon"] },
    });
    expect(messages(bytes)[0]).toContain('the workbook also has "Codes" (hidden), "Size & tendon"');
    expect(readWorkbook(bytes, { sheet: "size & Tendon" }).rows).toEqual([
      { line: 4, cells: ["3", "4"] },
    ]);
    expect(() => readWorkbook(bytes, { sheet: "Gain" })).toThrow(
      '--sheet requires a sheet of the workbook: "Codes", "Strength", "Size & tendon", got "Gain"',
    );
  });
});

describe("refused in one sentence", () => {
  const utf16 = (text: string) => [...text].flatMap((letter) => [letter.charCodeAt(0), 0]);
  const older = (inside: string) =>
    Uint8Array.from([0xd0, 0xcf, 0x11, 0xe0, ...Array<number>(600).fill(0), ...utf16(inside)]);

  test("the old form", () =>
    expect(refused(older("Workbook"))).toBe(
      "not-a-table: the file is a workbook of the old form (.xls); open it in the spreadsheet and save it as .xlsx, or the sheet as CSV (UTF-8)",
    ));
  test("a locked workbook", () =>
    expect(refused(older("EncryptedPackage"))).toContain("locked with a password"));
  test.each([
    ["a binary workbook", "xl/workbook.bin", "a binary workbook (.xlsb)"],
    ["OpenDocument", "content.xml", "an OpenDocument file"],
    ["a text document", "word/document.xml", "a text document"],
    ["any other package", "trials.csv", "a packed folder (zip)"],
  ])("%s", (_what, part, words) => expect(refused(packed({ [part]: "x" }))).toContain(words));

  const whole = workbookOf([{ name: "S", rows: textRow(1, "a", "b") + textRow(2, "1", "2") }]);
  test.each([10, 60, 200, whole.length - 30])("cut off after %i bytes", (length) =>
    expect(refused(whole.slice(0, length))).toContain("damaged or cut off"),
  );
  test("bytes changed anywhere give a table or a refusal", () => {
    for (let at = 4; at < whole.length; at += 3) {
      const bytes = whole.slice();
      bytes[at] = (bytes[at]! + 97) % 256;
      expect(readWorkbook(bytes).issues.length + readWorkbook(bytes).header.length).toBeGreaterThan(
        0,
      );
    }
  });
  test("a sheet that does not end", () => {
    const parts = { ...workbookParts([{ name: "S", rows: "" }]) };
    parts["xl/worksheets/sheet1.xml"] = "<worksheet><sheetData><row><c><v>1</v></c>";
    expect(refused(packed(parts))).toContain("damaged");
  });
  test("a workbook that unpacks to far more than it is", () => {
    const rows = `${textRow(1, "a", "b")}<!--${" ".repeat(100_000_001)}-->`;
    const bytes = workbookOf([{ name: "S", rows }]);
    expect(bytes.length).toBeLessThan(200_000);
    expect(refused(bytes)).toContain("unpacks to far more than a table of trials holds");
  });
  test("cells far apart that would make a table of milliards", () => {
    const row = (at: number) =>
      `<row r="${at}"><c r="A${at}"><v>1</v></c><c r="${letters(at)}${at}"><v>1</v></c></row>`;
    const letters = (at: number) =>
      String.fromCharCode(
        65 + (Math.floor(at / 676) % 26),
        65 + (Math.floor(at / 26) % 26),
        65 + (at % 26),
      );
    const rows = Array.from({ length: 3000 }, (_, at) => row(at + 1)).join("");
    expect(refused(workbookOf([{ name: "S", rows }]))).toContain("unpacks to far more");
  });
  test("an empty sheet, with the others to choose from", () =>
    expect(
      refused(
        workbookOf([
          { name: "Empty", rows: "" },
          { name: "Data", rows: textRow(1, "a", "b") },
        ]),
      ),
    ).toBe('empty-file: the sheet "Empty" holds no rows; choose another: "Empty", "Data"'));
});
