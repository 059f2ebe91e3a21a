import { expect, test } from "vitest";
import type { Issue } from "../../src/errors.js";
import { issuesTable } from "../../src/tables/issues-table.js";

const issue: Issue = {
  code: "not-a-number",
  severity: "error",
  line: 7,
  column: "hold_seconds",
  value: "3-Oct",
  message: "a date where a number is needed",
  mend: "write 3–10 as hold_seconds 3 and hold_seconds_high 10",
};

test("problems in the file's order, with place, value and mend", () => {
  const table = issuesTable([
    issue,
    { ...issue, line: 3, severity: "warning" },
    { ...issue, line: 0 },
  ]);
  expect(table.title).toBe("Problems found: 2 to mend, 1 to look at");
  expect(table.rows.map((row) => row["line"])).toEqual(["", "3", "7"]);
  expect(table.rows[2]).toEqual({
    severity: "to mend",
    line: "7",
    column: "hold_seconds",
    value: "3-Oct",
    message: "a date where a number is needed",
    mend: "write 3–10 as hold_seconds 3 and hold_seconds_high 10",
  });
});
