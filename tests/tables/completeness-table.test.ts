import { expect, test } from "vitest";
import { completenessTable } from "../../src/tables/completeness-table.js";

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
