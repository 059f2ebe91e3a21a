import { expect, test } from "vitest";
import type { Issue } from "../../src/errors.js";
import { issuesTable } from "../../src/tables/issues-table.js";
import { told } from "./told.js";

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
    code: "not-a-number",
  });
});

test("every field in its place", () => {
  expect(
    told(
      issuesTable([
        { ...issue, line: 12 },
        {
          ...issue,
          severity: "warning",
          line: 1,
          column: "c",
          value: "v",
          message: "m",
          mend: "n",
        },
      ]),
    ),
  ).toEqual([
    "Problems found: 1 to mend, 1 to look at [issues]",
    "Kind | >Line | Column | Value | What is wrong | How to mend it | Name",
    "to look at | 1 | c | v | m | n | not-a-number",
    "to mend | 12 | hold_seconds | 3-Oct | a date where a number is needed | write 3–10 as hold_seconds 3 and hold_seconds_high 10 | not-a-number",
    "* Lines are the file's own, with the header as line 1; a problem without a line is the whole file's.",
    "* A doubt that was looked up and is no slip: write its name into the row's column confirmed.",
  ]);
});
