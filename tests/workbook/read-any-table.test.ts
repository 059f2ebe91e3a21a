import { expect, test } from "vitest";
import { readAnyTable } from "../../src/workbook/read-any-table.js";
import { textRow, workbookOf } from "./workbook-under-test.js";

const text = new TextEncoder().encode("study;weeks\nAsh;8\n");
const workbook = workbookOf([
  { name: "First", rows: textRow(1, "study", "weeks") + textRow(3, "Birch", "12") },
  { name: "Second", rows: textRow(1, "study", "weeks") + textRow(4, "Cedar", "20") },
]);

test("a delimited text and a workbook are told apart by their bytes", async () => {
  expect((await readAnyTable(text)).rows).toEqual([{ line: 2, cells: ["Ash", "8"] }]);
  expect((await readAnyTable(workbook)).rows).toEqual([{ line: 3, cells: ["Birch", "12"] }]);
  expect((await readAnyTable(workbook, { sheet: "Second" })).rows).toEqual([
    { line: 4, cells: ["Cedar", "20"] },
  ]);
});

test("a sheet of a text is refused", async () =>
  expect(readAnyTable(text, { sheet: "Second" })).rejects.toThrow(
    "--sheet requires a workbook (.xlsx), got a file that has no sheets",
  ));
