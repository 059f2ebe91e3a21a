import { expect, test } from "vitest";
import { escapeMarkdown, tableToMarkdown } from "../../src/tables/table-to-markdown.js";
import { sampleTable } from "./sample-table.js";

test("a pipe table with escaped cells and aligned columns", () => {
  const lines = tableToMarkdown(sampleTable).split("\n");
  expect(lines[0]).toBe("**Gains &amp; losses &lt;by arm&gt;**");
  expect(lines[2]).toBe("| Study | Gain \\(%\\) | Comment |");
  expect(lines[3]).toBe("| :--- | ---: | :--- |");
  expect(lines[5]).toContain("&lt;script&gt;");
  expect(lines[6]).toContain("a\\|b\\*c\\_d\\`e");
});

test("every row has as many cells as columns, whatever the cells hold", () => {
  const rows = tableToMarkdown(sampleTable)
    .split("\n")
    .filter((line) => line.startsWith("|"));
  expect(rows).toHaveLength(5);
  for (const row of rows) expect(row.replace(/\\\|/g, "").split("|")).toHaveLength(5);
});

test("a text that begins like a list or a heading stays a text", () => {
  expect(["- a", "1. a", "# a"].map(escapeMarkdown)).toEqual(["\\- a", "1\\. a", "\\# a"]);
});
