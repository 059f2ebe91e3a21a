import { expect, test } from "vitest";
import { readAnyTable } from "../../src/workbook/read-any-table.js";
import { writeWorkbook } from "../../src/workbook/write-workbook.js";

const header = ["study", "hold_seconds", "notes"];
const rows = [
  ["Ash & Birch 2001", "3–10", '<b>"first"</b>'],
  ["Cedar 2003", "0.30", " spaces kept "],
  ["Dogwood 2004", "12.5", "=1+1"],
  ["Elm 2005", "", "two\nlines"],
];

test("a workbook read again has every cell as it stood: no date is made, no zero lost, nothing run", async () => {
  const table = await readAnyTable(writeWorkbook(header, rows));
  expect(table.header).toEqual(header);
  expect(table.rows.map(({ cells }) => header.map((_, at) => cells[at] ?? ""))).toEqual(rows);
  expect(table.issues).toEqual([]);
});

test("the same table gives the same bytes", () => {
  expect(writeWorkbook(header, rows)).toEqual(writeWorkbook(header, rows));
});
