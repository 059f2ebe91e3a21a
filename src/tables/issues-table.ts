import type { Issue } from "../errors.js";
import type { Column, Table } from "./table.js";

const columns = [
  { key: "severity", label: "Kind", align: "left" },
  { key: "line", label: "Line", align: "right" },
  { key: "column", label: "Column", align: "left" },
  { key: "value", label: "Value", align: "left" },
  { key: "message", label: "What is wrong", align: "left" },
  { key: "mend", label: "How to mend it", align: "left" },
  { key: "code", label: "Name", align: "left" },
] as const satisfies readonly Column[];

/** Every problem found in a file, in the file's own order, with its place, value and mend. */
export const issuesTable = (issues: readonly Issue[]): Table => {
  const errors = issues.filter((issue) => issue.severity === "error").length;
  const warnings = issues.length - errors;
  return {
    id: "issues",
    title: `Problems found: ${errors} to mend, ${warnings} to look at`,
    columns,
    rows: [...issues]
      .sort((first, second) => first.line - second.line)
      .map((issue) => ({
        severity: issue.severity === "error" ? "to mend" : "to look at",
        line: issue.line > 0 ? String(issue.line) : "",
        column: issue.column,
        value: issue.value,
        message: issue.message,
        mend: issue.mend,
        code: issue.code,
      })),
    notes: [
      "Lines are the file's own, with the header as line 1; a problem without a line is the whole file's.",
      "A doubt that was looked up and is no slip: write its name into the row's column confirmed.",
    ],
  };
};
