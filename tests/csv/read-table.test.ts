import { describe, expect, test } from "vitest";
import { readTable } from "../../src/csv/read-table.js";

const cellsOf = (text: string | Uint8Array) => readTable(text).rows.map(({ cells }) => cells);
const codesOf = (text: string | Uint8Array) =>
  readTable(text).issues.map(({ code, line }) => `${code}@${line}`);

describe("readTable: forms in use", () => {
  const expected = [
    ["1", "x y"],
    ["2", ""],
  ];
  for (const delimiter of [",", ";", "\t", "|"]) {
    for (const [name, end] of Object.entries({ LF: "\n", CRLF: "\r\n", CR: "\r" })) {
      test(`delimiter ${JSON.stringify(delimiter)}, lines ended by ${name}`, () => {
        const lines = [`a${delimiter}b`, `1${delimiter}"x y"`, `2${delimiter}`];
        const table = readTable(lines.join(end) + end);
        expect(table.delimiter).toBe(delimiter);
        expect(table.header).toEqual(["a", "b"]);
        expect(table.rows.map(({ cells }) => cells)).toEqual(expected);
        expect(table.rows.map(({ line }) => line)).toEqual([2, 3]);
        expect(table.issues).toEqual([]);
      });
    }
  }

  test("cells are never cast: digits, blanks and words stay as they stand", () => {
    expect(cellsOf("a,b,c\n007,1e3,TRUE\n")).toEqual([["007", "1e3", "TRUE"]]);
  });

  test("a quoted cell may hold the delimiter, quotes and line breaks", () => {
    expect(cellsOf('a,b\n"1,5","say ""hold"""\n"two\nlines",x\n')).toEqual([
      ["1,5", 'say "hold"'],
      ["two\nlines", "x"],
    ]);
  });

  test("the spreadsheet's hint sep=; is obeyed and counted as a line", () => {
    const table = readTable("sep=;\na;b\n1;2\n");
    expect(table.delimiter).toBe(";");
    expect(table.rows).toEqual([{ line: 3, cells: ["1", "2"] }]);
  });
});

describe("readTable: lines are those of the file", () => {
  test("after empty lines and after cells with line breaks, for every line ending", () => {
    const text = 'a,b\n\n1,"x\ny"\n\n\n3,4\n5,"p\nq\nr"\n7,8';
    const expected = [3, 7, 8, 11];
    for (const end of ["\n", "\r\n", "\r"]) {
      const table = readTable(text.replaceAll("\n", end));
      expect(table.rows.map(({ line }) => line)).toEqual(expected);
    }
  });
});

describe("readTable: broken form is located and the rest is read", () => {
  test("an empty file and a file of empty lines", () => {
    expect(codesOf("")).toEqual(["empty-file@0"]);
    expect(codesOf("\n\r\n")).toEqual(["empty-file@0"]);
    expect(codesOf(new Uint8Array([0xef, 0xbb, 0xbf]))).toEqual(["empty-file@0"]);
  });

  test("a header and no rows is a note", () => {
    const table = readTable("a,b\n");
    expect(table.issues).toEqual([]);
    expect(table.notes.map(({ code }) => code)).toEqual(["header-only"]);
  });

  test("rows with too few and too many cells", () => {
    expect(codesOf("a,b\n1\n1,2\n1,2,3\n1,2,,\n")).toEqual(["ragged-row@2", "ragged-row@4"]);
  });

  test("a quote that never closes spoils its own line only", () => {
    const table = readTable('a,b\n1,2\n3,"4\n5,6\n7,8\n');
    expect(table.issues.map(({ code, line }) => `${code}@${line}`)).toEqual(["open-quote@3"]);
    expect(table.rows.map(({ cells }) => cells[0])).toEqual(["1", "3", "5", "7"]);
  });

  test("two stray quotes that swallow the rows between them", () => {
    const table = readTable('a,b,c,d,e,f\n1,"2,x,x,x,x\n3,4,x,x,x,x\n5,6",x,x,x,x\n7,8,x,x,x,x\n');
    expect(table.issues.map(({ code, line }) => `${code}@${line}`)).toEqual(["open-quote@2"]);
    expect(table.rows.map(({ line, cells }) => [line, cells[0]])).toEqual([
      [2, "1"],
      [3, "3"],
      [4, "5"],
      [5, "7"],
    ]);
  });

  test("a quoted text of several lines with a comma is a text", () => {
    const table = readTable('a,b,c\n1,"one, two\nthree, four",x\n');
    expect(table.issues).toEqual([]);
    expect(table.rows[0]?.cells[1]).toBe("one, two\nthree, four");
  });

  test("many quotes that are not closed cost no row", () => {
    const lines = Array.from({ length: 40 }, (_, i) => (i % 4 === 0 ? `${i},"x,z` : `${i},y,z`));
    const table = readTable(`a,b,c\n${lines.join("\n")}\n`);
    expect(table.rows).toHaveLength(40);
    expect(table.issues.map(({ line }) => line).slice(0, 5)).toEqual([2, 6, 10, 14, 18]);
  });

  test("two columns of one name", () => {
    expect(codesOf("a,b,a\n1,2,3\n")).toEqual(["duplicate-header@1"]);
  });

  test("a workbook under the wrong name", () => {
    expect(codesOf(new Uint8Array([0x50, 0x4b, 0x03, 0x04, 0, 0]))).toEqual(["not-a-table@0"]);
  });
});
