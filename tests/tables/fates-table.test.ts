import { expect, test } from "vitest";
import type { RowFate } from "../../src/records/record-set.js";
import { fatesTable } from "../../src/tables/fates-table.js";
import { told } from "./told.js";

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

test("every count in its place; more rows first where the fate is the same", () => {
  expect(
    told(
      fatesTable([
        { line: 5, fate: "used", reason: "a" },
        { line: 6, fate: "refused", reason: "r" },
        { line: 7, fate: "used", reason: "b" },
        { line: 8, fate: "used with a warning", reason: "b" },
        { line: 9, fate: "used", reason: "b" },
        ...Array.from({ length: 8 }, (_, index) => ({
          line: 20 + index,
          fate: "set aside" as const,
          reason: "eight",
        })),
      ]),
    ),
  ).toEqual([
    "What became of the 13 rows [row-fates]",
    "Fate | >Rows | >Share | Reason | Lines",
    "used | 2 | 15.4% | b | 7, 9",
    "used | 1 | 7.7% | a | 5",
    "used with a warning | 1 | 7.7% | b | 8",
    "set aside | 8 | 61.5% | eight | 20, 21, 22, 23, 24, 25, 26, 27",
    "refused | 1 | 7.7% | r | 6",
    "* Every row of the file is counted once; lines are the file's own, with the header as line 1.",
    "fate,rows,reason,all_lines",
    "used,2,b,7 9",
    "used,1,a,5",
    "used with a warning,1,b,8",
    "set aside,8,eight,20 21 22 23 24 25 26 27",
    "refused,1,r,6",
  ]);
  const many = Array.from({ length: 1009 }, (_, index) => ({
    line: index + 2,
    fate: "used" as const,
    reason: "",
  }));
  expect(fatesTable(many).rows[0]?.["lines"]).toBe("2, 3, 4, 5, 6, 7, 8, 9 and 1,001 more");
  expect(fatesTable(many).title).toBe("What became of the 1,009 rows");
});
