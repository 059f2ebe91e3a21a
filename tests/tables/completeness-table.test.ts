import { expect, test } from "vitest";
import { completenessTable } from "../../src/tables/completeness-table.js";
import { told } from "./told.js";

test("blank and not reported are counted apart", () => {
  const table = completenessTable([
    { column: "hold_seconds", coded: 6, notReported: 1, blank: 1, unusable: 2 },
    { column: "weeks", coded: 0, notReported: 0, blank: 0, unusable: 0 },
  ]);
  expect(table.rows[0]).toEqual({
    column: "hold_seconds",
    coded: "6",
    notReported: "1",
    blank: "1",
    unusable: "2",
    share: "60%",
  });
  expect(table.rows[1]?.["share"]).toBe("");
});

test("every count in its place", () => {
  // 41 of 41 + 23 + 15 + 8 = 87 cells is 47.1%
  expect(
    told(
      completenessTable([
        { column: "hold_seconds", coded: 41, notReported: 23, blank: 15, unusable: 8 },
        { column: "weeks", coded: 0, notReported: 0, blank: 0, unusable: 0 },
      ]),
    ),
  ).toEqual([
    "How completely each field is coded [completeness]",
    "Column | >Coded | >Not reported | >Blank | >Unusable | >Coded share",
    "hold_seconds | 41 | 23 | 15 | 8 | 47%",
    "weeks | 0 | 0 | 0 | 0 | ",
    '* Blank means not coded yet; "not reported" means looked for and not in the source. The two are counted apart.',
    "column,coded,not_reported,blank,unusable",
    "hold_seconds,41,23,15,8",
    "weeks,0,0,0,0",
  ]);
});
