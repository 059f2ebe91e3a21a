/** Kind of evidence: hand layout of small tables, character by character. */
import { describe, expect, test } from "vitest";
import { doseAxisOf } from "../../src/dose/dose-axes.js";
import { effectScales } from "../../src/effects/effect.js";
import { displayWidth, wrapToWidth } from "../../src/tables/display-width.js";
import { escapeHtml } from "../../src/tables/escape-html.js";
import {
  decimalsFor,
  formatCount,
  formatNumber,
  formatPercent,
  pValueCell,
  pValueText,
} from "../../src/tables/number-format.js";
import { probabilityCell, rangeText } from "../../src/tables/range-cells.js";
import { scaleDisplay, shownEstimate } from "../../src/tables/scale-display.js";
import { namedDose, shownDose } from "../../src/tables/shown-dose.js";
import { columnHeading, type Table } from "../../src/tables/table.js";
import { tableToCsv } from "../../src/tables/table-to-csv.js";
import { tableToHtml } from "../../src/tables/table-to-html.js";
import { escapeMarkdown, tableToMarkdown } from "../../src/tables/table-to-markdown.js";
import { tableToText } from "../../src/tables/table-to-text.js";
import { visibleText } from "../../src/tables/visible-text.js";

const table: Table = {
  id: "t",
  title: "A title of seven words, no more",
  columns: [
    { key: "study", label: "Study", align: "left" },
    { key: "gainPercent", label: "Mean gain seen", unit: "%", align: "right" },
    { key: "words", label: "In words", align: "left" },
  ],
  rows: [
    { study: "Elm", gainPercent: "12.5", words: "longer holds gained more" },
    { study: "Oak and others", gainPercent: "−3.0", words: "" },
  ],
  notes: ["first note", "second note of a table"],
};
const lines = (width: number, other: Partial<Table> = {}): readonly string[] =>
  tableToText({ ...table, ...other }, { width }).split("\n");

describe("as text", () => {
  test("wide enough: nothing wraps", () => {
    expect(lines(100)).toEqual([
      "A title of seven words, no more",
      "",
      "Study           Mean gain seen (%)  In words",
      "──────────────  ──────────────────  ────────────────────────",
      "Elm                           12.5  longer holds gained more",
      "Oak and others                −3.0",
      "",
      "* first note",
      "* second note of a table",
      "",
    ]);
    expect(tableToText(table)).toBe(tableToText(table, { width: 100 }));
  });

  test("headings give way first", () => {
    expect(lines(55)).toEqual([
      "A title of seven words, no more",
      "",
      "Study               Mean gain  In words",
      "                     seen (%)",
      "──────────────  ─────────────  ────────────────────────",
      "Elm                      12.5  longer holds gained more",
      "Oak and others           −3.0",
      "",
      "* first note",
      "* second note of a table",
      "",
    ]);
  });

  test("then columns of text, between words", () => {
    expect(lines(40)).toEqual([
      "A title of seven words, no more",
      "",
      "Study           Mean  In words",
      "                gain",
      "                seen",
      "                 (%)",
      "──────────────  ────  ──────────────────",
      "Elm             12.5  longer holds",
      "                      gained more",
      "Oak and others  −3.0",
      "",
      "* first note",
      "* second note of a table",
      "",
    ]);
  });

  test("then words are cut", () => {
    expect(
      lines(28, {
        columns: table.columns.map((column) => ({ ...column, align: "right" })),
        rows: [{ study: "Unbreakableness", gainPercent: "1234567890", words: "a" }],
      }),
    ).toEqual([
      "A title of seven words, no",
      "more",
      "",
      "    Study   Mean gain     In",
      "             seen (%)  words",
      "─────────  ──────────  ─────",
      "Unbreakab  1234567890      a",
      "   leness",
      "",
      "* first note",
      "* second note of a table",
      "",
    ]);
  });

  test("at last a list, a blank line between rows, blank cells left out", () => {
    expect(lines(20)).toEqual([
      "A title of seven",
      "words, no more",
      "",
      "Study: Elm",
      "Mean gain seen",
      "  (%): 12.5",
      "In words: longer",
      "  holds gained more",
      "",
      "Study: Oak and",
      "  others",
      "Mean gain seen",
      "  (%): −3.0",
      "",
      "* first note",
      "* second note of a",
      "  table",
      "",
    ]);
  });

  test("no rows, no notes", () => {
    expect(lines(100, { rows: [], notes: [] })).toEqual([
      "A title of seven words, no more",
      "",
      "(no rows)",
      "",
    ]);
    expect(() => tableToText(table, { width: 20.5 })).toThrow(
      "tableToText requires a width that is an integer from 20, got 20.5",
    );
  });
});

describe("as HTML, Markdown and CSV", () => {
  test("HTML", () => {
    expect(tableToHtml(table).split("\n")).toEqual([
      '<div class="table-block" data-table="t">',
      "<table>",
      "<caption>A title of seven words, no more</caption>",
      '<thead><tr><th scope="col">Study</th><th scope="col" class="number tabular-nums">Mean gain seen (%)</th><th scope="col">In words</th></tr></thead>',
      "<tbody>",
      '<tr><th scope="row">Elm</th><td class="number tabular-nums">12.5</td><td>longer holds gained more</td></tr>',
      '<tr><th scope="row">Oak and others</th><td class="number tabular-nums">−3.0</td><td></td></tr>',
      "</tbody>",
      "</table>",
      '<ul class="table-notes"><li>first note</li><li>second note of a table</li></ul>',
      "</div>",
      "",
    ]);
    expect(tableToHtml({ ...table, notes: [] })).not.toContain("<ul");
    expect(escapeHtml("\"&<>'")).toBe("&quot;&amp;&lt;&gt;&#39;");
  });

  test("Markdown", () => {
    expect(tableToMarkdown(table).split("\n")).toEqual([
      "**A title of seven words, no more**",
      "",
      "| Study | Mean gain seen \\(%\\) | In words |",
      "| :--- | ---: | :--- |",
      "| Elm | 12\\.5 | longer holds gained more |",
      "| Oak and others | −3.0 |  |",
      "",
      "- first note",
      "- second note of a table",
      "",
    ]);
    expect(tableToMarkdown({ ...table, notes: [] }).split("\n")).toHaveLength(7);
    expect(
      ["\\`*_{}[]()#+!|~$^=", "a & b", "<i>", " - x", ".5", "12. x", "a-b. c", "x 1."].map(
        escapeMarkdown,
      ),
    ).toEqual([
      "\\\\\\`\\*\\_\\{\\}\\[\\]\\(\\)\\#\\+\\!\\|\\~\\$\\^\\=",
      "a &amp; b",
      "&lt;i&gt;",
      "\\- x",
      "\\.5",
      "12\\. x",
      "a-b. c",
      "x 1.",
    ]);
  });

  test("CSV: numbers only in columns of numbers", () => {
    const cells = (text: string): string => {
      const row = { study: text, gainPercent: text, words: "" };
      return tableToCsv({ ...table, rows: [row] }).split("\n")[1] ?? "";
    };
    expect(
      ["1,234", "−1,234.5", "12,34", "−0.5", "1234567", "4.85e10", "1.5 to 2", "1,234,567"].map(
        cells,
      ),
    ).toEqual([
      '"1,234",1234,',
      '"−1,234.5",-1234.5,',
      '"12,34","12,34",',
      "−0.5,-0.5,",
      "1234567,1234567,",
      "4.85e10,4.85e10,",
      "1.5 to 2,1.5 to 2,",
      '"1,234,567",1234567,',
    ]);
  });

  test("a heading has its unit in brackets", () => {
    const column = { key: "k", label: "Gain", align: "right" } as const;
    expect([column, { ...column, unit: "" }, { ...column, unit: "%" }].map(columnHeading)).toEqual([
      "Gain",
      "Gain",
      "Gain (%)",
    ]);
  });
});

describe("cells of a terminal", () => {
  test("the edges of the wide ranges", () => {
    const width = (code: number): number => displayWidth(String.fromCodePoint(code));
    for (const [low, high] of [
      [0x1100, 0x115f],
      [0x2e80, 0x303e],
      [0x3400, 0x4dbf],
      [0x4e00, 0x9fff],
      [0xa000, 0xa4cf],
      [0xac00, 0xd7a3],
      [0xf900, 0xfaff],
      [0xfe30, 0xfe6f],
      [0xff00, 0xff60],
      [0xffe0, 0xffe6],
      [0x1f300, 0x1f64f],
      [0x1f680, 0x1f6ff],
      [0x1f900, 0x1f9ff],
      [0x20000, 0x3fffd],
    ] as const)
      expect([width(low), width(high)]).toEqual([2, 2]);
    for (const code of [
      0x41, 0x2ff, 0x1160, 0xa4d0, 0xd7a4, 0xfb00, 0xff61, 0xffe7, 0x1f650, 0x1fa00,
    ])
      expect(width(code), code.toString(16)).toBe(1);
  });

  test("wrapping: exact fit, one too many, long words, spaces in a row", () => {
    expect(wrapToWidth("one two", 7)).toEqual(["one two"]);
    expect(wrapToWidth("one two", 6)).toEqual(["one", "two"]);
    expect(wrapToWidth("a abcdef g", 4)).toEqual(["a", "abcd", "ef g"]);
    expect(wrapToWidth("  a   b  ", 5)).toEqual(["a b"]);
    expect(wrapToWidth("筋力筋", 5)).toEqual(["筋力", "筋"]);
  });

  test("a text from a stranger's file", () => {
    expect(visibleText("  a\t\n\u2028b\u202e\u0007c\u00a0d ")).toBe("a bc\u00a0d");
  });
});

describe("numbers", () => {
  test("edges", () => {
    expect(
      [1e9, 999_999_999, -1e9, 123_456_789_012].map((value) => formatNumber(value, { digits: 0 })),
    ).toEqual(["1.00e9", "999999999", "−1.00e9", "1.23e11"]);
    expect([0.001, 0.0009999, 0.999, 0.9991, 1].map(pValueCell)).toEqual([
      "0.001",
      "<0.001",
      "0.999",
      ">0.999",
      ">0.999",
    ]);
    expect([0.0001, 0.5].map(pValueText)).toEqual(["p < 0.001", "p = 0.500"]);
    expect([0, -1, 1, 9.9, 10, 0.00001].map(decimalsFor)).toEqual([2, 2, 1, 1, 0, 6]);
    expect([0.004, 0.005, 0.994, 0.995].map(probabilityCell)).toEqual([
      "under 1%",
      "1%",
      "99%",
      "over 99%",
    ]);
    expect(formatPercent(12.345, { digits: 2 })).toBe("12.35%");
    expect(formatNumber(1.23456789, { digits: 12 })).toBe("1.234567890000");
    expect(rangeText({ estimate: Math.log(1.04), low: Math.log(0.98), high: Math.log(1.11) })).toBe(
      "4.0% (−2.0 to 11.0%)",
    );
  });

  test("refusals say what was needed and what was got", () => {
    expect(() => formatNumber(Infinity)).toThrow(
      "formatNumber requires a finite number, got Infinity",
    );
    expect(() => formatNumber(1, { digits: 13 })).toThrow(
      "formatNumber requires digits as an integer from 0 to 12, got 13",
    );
    expect(() => formatCount(-1)).toThrow("formatCount requires an integer from 0, got -1");
    expect(() => pValueCell(-0.1)).toThrow(
      "pValueCell requires a probability from 0 to 1, got -0.1",
    );
    expect(() => decimalsFor(NaN)).toThrow("decimalsFor requires a finite number, got NaN");
  });

  test("scales", () => {
    expect(
      effectScales.map((scale) => {
        const { heading, unit, label, sign, logHeading, spacing, toShown, fromShown } =
          scaleDisplay(scale);
        const shown = toShown(0.25);
        expect(fromShown(shown)).toBeCloseTo(0.25, 12);
        return [heading, unit, label, sign, logHeading, spacing, shown.toFixed(4)].join(" | ");
      }),
    ).toEqual([
      "Change | % | Change, % | % | Log ratio | ratio | 28.4025",
      "Change | baseline standard deviations | Change, baseline standard deviations |  |  | even | 0.2500",
      "Change | standard deviations after training | Change, standard deviations after training |  |  | even | 0.2500",
      "Change | standard deviations of before and after | Change, standard deviations of before and after |  |  | even | 0.2500",
      "Change | standard deviations of the changes | Change, standard deviations of the changes |  |  | even | 0.2500",
      "Difference | pooled standard deviations | Difference, pooled standard deviations |  |  | even | 0.2500",
      "Difference | outcome's unit | Difference, outcome's unit |  |  | even | 0.2500",
      "Change in standard deviation | % | Change in standard deviation, % | % | Log ratio | ratio | 28.4025",
      "Change in coefficient of variation | % | Change in coefficient of variation, % | % | Log ratio | ratio | 28.4025",
    ]);
    expect(shownEstimate(Math.log(10_000), "log-ratio-of-means", 1)).toBe("999900.0");
    expect(shownEstimate(Math.log(10_001), "log-ratio-of-means", 1)).toBe("over 999,999");
  });

  test("doses", () => {
    const written = (
      [
        ["intensityPercent", 66.66],
        ["holdSeconds", 6.5],
        ["sets", 8],
        ["muscleLength", 0],
        ["muscleLength", 1],
        ["muscleLength", 0.5],
        ["holdSeconds", 1234],
        ["holdSeconds", 0.123456],
      ] as const
    ).map(
      ([name, dose]) =>
        `${shownDose(dose, doseAxisOf(name))} / ${namedDose(dose, doseAxisOf(name))}`,
    );
    expect(written).toEqual([
      "66.7% of MVC / 66.7% of MVC",
      "6.5 s / 6.5 s",
      "8 / 8 sets",
      "short length / short length",
      "long length / long length",
      "0.5 / 0.5",
      "1,230 s / 1,230 s",
      "0.123 s / 0.123 s",
    ]);
    expect(shownDose(30.5, { kind: "number", unit: "°" })).toBe("30.5°");
  });
});
