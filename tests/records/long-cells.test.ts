import { expect, test } from "vitest";
import type { CsvTable } from "../../src/csv/csv-table.js";
import { readTable } from "../../src/csv/read-table.js";
import { writeTable } from "../../src/csv/write-table.js";
import { parseImportMap } from "../../src/records/import-map.js";
import { importRows } from "../../src/records/import-rows.js";
import { parseRowFilter } from "../../src/records/row-filter.js";
import { CallError } from "../../src/errors.js";
import { readRecords } from "../../src/records/read-records.js";
import { soundRow } from "./record-table.js";
import { columnOf } from "../../src/records/codebook.js";
import type { FieldName } from "../../src/records/codebook.js";

const megabyte = 1_000_000;
const contents = [
  "1",
  " ",
  "{",
  "}",
  "(",
  "[",
  "a",
  "±",
  ".",
  ",",
  "1,",
  "1.",
  "1 ",
  "_",
  "-",
  '"',
  "'",
  "=",
  "%",
  " %",
  "é ",
  "/",
  "\n",
  "\n1,",
  "not reported ",
  "5 to ",
  "Jan ",
  "5-",
  "\u00a0",
  "\u200b",
];
const filled = (content: string) =>
  `1${content.repeat(Math.ceil(megabyte / content.length)).slice(0, megabyte)}x`;

const names = Object.keys(soundRow) as FieldName[];
const header = [...names.map(columnOf), "notes", "mood"];

/** A sound row with one cell changed, and another sound row. */
const tableWith = (column: string, cell: string): CsvTable => {
  const cells = (changes: Readonly<Record<string, string>>) =>
    header.map((name, i) => changes[name] ?? soundRow[names[i] as keyof typeof soundRow] ?? "");
  return {
    ...readTable(writeTable(header, [])),
    rows: [
      { line: 2, cells: cells({ [column]: cell }) },
      { line: 3, cells: cells({ arm: "short holds", pre_mean: "180.2" }) },
    ],
  };
};

/** Time of the processor, so that a busy machine does not pass for a slow reader. */
const secondsOf = (work: () => unknown): number => {
  const before = process.cpuUsage();
  work();
  return process.cpuUsage(before).user / 1e6;
};

test("a megabyte of anything in one cell of a file is parsed in under a second", () => {
  for (const content of contents) {
    const text = writeTable(["study", "arm", "notes"], [["A", "a", filled(content)]]);
    expect([content, secondsOf(() => readTable(text)) < 1]).toEqual([content, true]);
  }
});

// A number, a list, a choice, a name, a sentence and a column of one's own take different ways.
test.each([
  "pre_mean",
  "hold_seconds",
  "training_angle_degrees",
  "spread_kind",
  "study",
  "notes",
  "mood",
])("a megabyte of anything in %s costs under a second, and only its own row or cell", (column) => {
  for (const content of contents) {
    const table = tableWith(column, filled(content));
    let records = readRecords(readTable(""));
    const seconds = secondsOf(() => (records = readRecords(table)));
    expect([content, seconds < 1]).toEqual([content, true]);
    const lives = records.rows.map(({ arm }) => arm);
    expect([content, lives.includes("short holds")]).toEqual([content, true]);
    expect(Math.max(...records.issues.map(({ value }) => value.length))).toBeLessThan(100);
  }
});

test("a long cell is told in one sentence with its line, its column and the limit", () => {
  const told = (column: string, cell: string) => {
    const { issues, fates } = readRecords(tableWith(column, cell));
    return [issues.map((i) => [i.line, i.column, i.severity, i.message]), fates[0]?.fate];
  };
  expect(told("study", "A".repeat(201))).toEqual([
    [
      [
        2,
        "study",
        "error",
        "the cell holds more than 200 characters, which are the most that are read",
      ],
    ],
    "refused",
  ]);
  expect(told("pre_mean", "1".repeat(300))).toEqual([
    [
      [
        2,
        "pre_mean",
        "error",
        "the cell holds more than 200 characters, which are the most that are read",
      ],
    ],
    "refused",
  ]);
  const aside = ", so the cell is set aside";
  for (const column of ["notes", "mood"])
    expect(told(column, "no ".repeat(4000))).toEqual([
      [
        [
          2,
          column,
          "warning",
          `the cell holds more than 10,000 characters, which are the most that are read${aside}`,
        ],
      ],
      "used with a warning",
    ]);
  // As long as it may be.
  expect(told("study", "A".repeat(200))).toEqual([[], "used"]);
  expect(told("notes", "A".repeat(10_000))).toEqual([[], "used"]);
});

test("a megabyte in the header costs under a second and is told once", () => {
  for (const content of ["(", "[", "_", "-", " ", ".", "aB"]) {
    const text = writeTable(["study", "arm", "outcome", filled(content)], [["A", "a", "t", "1"]]);
    let issues = readRecords(readTable("")).issues;
    const seconds = secondsOf(() => (issues = readRecords(readTable(text)).issues));
    expect([content, seconds < 1]).toEqual([content, true]);
    const told = issues.filter(({ code }) => code === "long-cell");
    expect([content, told.length]).toEqual([content, 1]);
  }
});

test("a megabyte in a source cell, an import map or a row filter costs under a second", () => {
  const map = (text: string) =>
    parseImportMap({
      title: "t",
      source: "s",
      licence: "l",
      columns: { study: { text }, arm: { column: "b", factor: 2 }, outcome: { text: "{b} {c}" } },
    });
  const short = readTable("a,b,c\nA,1,t\n");
  for (const content of contents) {
    const long = filled(content);
    const table = { ...short, rows: [{ line: 2, cells: ["A", long, "t"] }] };
    const costs = [
      secondsOf(() => importRows(table, map("{a} in {b}"))),
      secondsOf(() => importRows(short, map(long))),
      secondsOf(() => refused(() => parseRowFilter(`weeks${long}`))),
    ];
    expect([content, costs.every((seconds) => seconds < 1)]).toEqual([content, true]);
  }
});

const refused = (work: () => unknown): void => {
  try {
    work();
  } catch (error) {
    if (!(error instanceof CallError)) throw error;
  }
};
