import { describe, expect, test } from "vitest";
import { displayWidth } from "../../src/tables/display-width.js";
import { tableToText } from "../../src/tables/table-to-text.js";
import { sampleTable } from "./sample-table.js";

describe("tableToText", () => {
  test("columns align, numbers to the right", () => {
    expect(
      tableToText({
        ...sampleTable,
        title: "Gains",
        rows: [
          { study: "Elm 2011", gainPercent: "12.5", comment: "calm" },
          { study: "筋力", gainPercent: "\u22123.0", comment: "" },
        ],
        notes: ["invented"],
      }),
    ).toBe(
      [
        "Gains",
        "",
        "Study     Gain (%)  Comment",
        "────────  ────────  ───────",
        "Elm 2011      12.5  calm",
        "筋力          \u22123.0",
        "",
        "* invented",
        "",
      ].join("\n"),
    );
  });

  test.each([20, 30, 40, 60, 100])(
    "no line is wider than %d cells, and every cell is there",
    (width) => {
      const long = "isometric knee extension at long muscle length ".repeat(4).trim();
      const text = tableToText(
        { ...sampleTable, rows: [{ study: long, gainPercent: "12.5", comment: long }] },
        { width },
      );
      for (const line of text.split("\n")) expect(displayWidth(line)).toBeLessThanOrEqual(width);
      expect(text.match(/muscle/g)).toHaveLength(8);
      expect(text).toContain("12.5");
    },
  );

  test("escape sequences do not reach the terminal", () => {
    expect(tableToText(sampleTable)).not.toMatch(/\u001b/);
    expect(tableToText(sampleTable)).toContain("two lines[31m red");
  });

  test("an empty table says so", () => {
    expect(tableToText({ ...sampleTable, rows: [] })).toContain("(no rows)");
  });

  test("a hundred thousand rows are drawn", () => {
    const rows = Array.from({ length: 100_000 }, (_, index) => ({ study: `Study ${index}` }));
    expect(tableToText({ ...sampleTable, rows }).split("\n").length).toBeGreaterThan(100_000);
  });
});

describe("refuses", () => {
  test("a width too small to read", () => {
    expect(() => tableToText(sampleTable, { width: 10 })).toThrow(/integer from 20, got 10/);
  });
});
