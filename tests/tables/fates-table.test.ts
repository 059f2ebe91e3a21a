import { expect, test } from "vitest";
import type { RowFate } from "../../src/records/record-set.js";
import { fatesTable } from "../../src/tables/fates-table.js";

const fates: readonly RowFate[] = [
  { line: 2, fate: "refused", reason: "no outcome" },
  ...Array.from({ length: 10 }, (_, index) => ({
    line: index + 3,
    fate: "used" as const,
    reason: "complete",
  })),
  { line: 13, fate: "set aside", reason: "no spread" },
];

test("rows grouped by fate and reason, best fate first, adding up to the file", () => {
  const table = fatesTable(fates);
  expect(table.title).toBe("What became of the 12 rows");
  expect(table.rows.map((row) => [row["fate"], row["rows"], row["share"]])).toEqual([
    ["used", "10", "83.3%"],
    ["set aside", "1", "8.3%"],
    ["refused", "1", "8.3%"],
  ]);
  expect(table.rows.reduce((sum, row) => sum + Number(row["rows"]), 0)).toBe(fates.length);
});

test("a few lines are shown, all of them are in the CSV's cell", () => {
  const [first] = fatesTable(fates).rows;
  expect(first?.["lines"]).toBe("3, 4, 5, 6, 7, 8, 9, 10 and 2 more");
  expect(first?.["allLines"]).toBe("3 4 5 6 7 8 9 10 11 12");
});
