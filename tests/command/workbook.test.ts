import { readFileSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { inflateRawSync } from "node:zlib";
import { beforeAll, describe, expect, test } from "vitest";
import * as spreadsheet from "xlsx";
import { readTable } from "../../src/csv/read-table.js";
import { openFile } from "../../src/notebook/ask.js";
import { dataId } from "../../src/page/page-data.js";
import { textRow, workbookOf } from "../workbook/workbook-under-test.js";
import { jsonOf, runHere } from "./run-here.js";
import { holdbook } from "./run-holdbook.js";
import { testFolder } from "./test-folder.js";

const library = "data/published-outcomes.csv";
const fileIn = (name: string, bytes: Uint8Array | string): string => {
  const path = join(testFolder, name);
  writeFileSync(path, bytes);
  return path;
};

/** A table of the library as a spreadsheet would keep it, written by a writer that is not ours: numbers as numbers. */
const asWorkbook = (path: string): Uint8Array => {
  const { header, rows } = readTable(new Uint8Array(readFileSync(path)));
  const cells = rows.map(({ cells }) =>
    cells.map((cell) =>
      /^-?\d+(?:\.\d+)?$/.test(cell) ? Number(cell) : cell === "" ? null : cell,
    ),
  );
  const book = spreadsheet.utils.book_new();
  spreadsheet.utils.book_append_sheet(
    book,
    spreadsheet.utils.aoa_to_sheet([[...header], ...cells]),
    "Outcomes",
  );
  spreadsheet.utils.book_append_sheet(
    book,
    spreadsheet.utils.aoa_to_sheet([["a"], ["b"]]),
    "Read me",
  );
  return new Uint8Array(
    spreadsheet.write(book, { type: "array", bookType: "xlsx", compression: true }) as ArrayBuffer,
  );
};

/** What an answer says but for which file it rests on and what is noted of its form. */
const withoutFile = ({
  file: _file,
  fingerprint: _bytes,
  notes: _notes,
  ...data
}: Record<string, unknown>) => data;

describe("the library as a workbook", () => {
  let path = "";
  let once = "";
  beforeAll(() => {
    path = fileIn("published-outcomes.xlsx", asWorkbook(library));
    once = fileIn("once.xlsx", asWorkbook("data/published-outcomes-read-once.csv"));
  });

  test.each(["pool", "dose"])("gives %s to the last digit", async (question) => {
    const [csv, workbook] = [
      await jsonOf<Record<string, unknown>>(question, library),
      await jsonOf<Record<string, unknown>>(question, path),
    ];
    expect(Object.keys(withoutFile(csv)).length).toBeGreaterThan(3);
    // Compared as text, so that a failure does not print both whole.
    expect(JSON.stringify(withoutFile(workbook)) === JSON.stringify(withoutFile(csv))).toBe(true);
    expect(workbook.file).toMatchObject({ name: "published-outcomes.xlsx (sheet Outcomes)" });
  });

  test("has the same fates, row by row, and says which sheet was read", async () => {
    type Checked = Record<"fates" | "issues" | "completeness", unknown> & {
      notes: readonly Record<"code" | "message", string>[];
    };
    const csv = await jsonOf<Checked>("check", library);
    const workbook = await jsonOf<Checked>("check", path);
    expect(workbook.fates).toEqual(csv.fates);
    expect(workbook.issues).toEqual(csv.issues);
    expect(workbook.completeness).toEqual(csv.completeness);
    expect(workbook.notes.slice(0, -csv.notes.length).map(({ message }) => message)).toEqual([
      'the sheet "Outcomes" was read, and its row numbers are the line numbers here; the workbook also has "Read me"',
    ]);
  });

  test("is one with another workbook, or with a delimited text", async () => {
    const pooled = async (...words: readonly string[]) =>
      withoutFile(await jsonOf<Record<string, unknown>>("pool", ...words));
    const csv = await pooled(library, "--with", "data/published-outcomes-read-once.csv");
    expect(await pooled(path, "--with", once)).toEqual(csv);
    expect(await pooled(path, "--with", "data/published-outcomes-read-once.csv")).toEqual(csv);
    expect(await pooled(library, "--with", once, "--sheet", "outcomes")).toEqual(csv);
  });

  test("is opened in a notebook, by its sheet", async () => {
    expect((await openFile(path)).records.rowsInFile).toBe(173);
    expect((await openFile(path, [], ["Read me"])).records.rowsInFile).toBe(1);
    expect((await openFile(library, [once], ["Outcomes"])).files?.map(({ name }) => name)).toEqual([
      "published-outcomes.csv",
      "once.xlsx (sheet Outcomes)",
    ]);
  });

  test("a sheet without the codebook's columns names the others", async () => {
    const { err, exitCode } = await runHere("pool", path, "--sheet", "Read me");
    expect(exitCode).toBe(1);
    expect(err).toContain("the header has no column study");
    expect(err).toContain('or read another sheet: "Outcomes"');
  });

  test("a sheet that is not there, or of a file without sheets, is refused", async () => {
    expect((await runHere("pool", path, "--sheet", "Sizes")).err).toContain(
      '--sheet requires a sheet of the workbook: "Outcomes", "Read me", got "Sizes"',
    );
    expect((await runHere("pool", library, "--sheet", "Outcomes")).err).toContain(
      'requires a workbook (.xlsx) for each sheet that is named, got "Outcomes" without one',
    );
  });

  test("travels in the page with another file, by its sheet", () => {
    const page = join(testFolder, "page.html");
    const written = holdbook("page", path, "--sheet", "outcomes", "--with", once, "-o", page);
    expect(written.exitCode).toBe(0);
    const packed = new RegExp(`id="${dataId}">([^<]*)<`).exec(readFileSync(page, "utf8"))![1]!;
    const { open } = JSON.parse(
      new TextDecoder().decode(inflateRawSync(Buffer.from(packed, "base64"))),
    ) as { open: Record<string, unknown> };
    expect(open).toMatchObject({
      name: "published-outcomes.xlsx",
      sheet: "outcomes",
      others: [{ name: "once.xlsx", base64: readFileSync(once).toString("base64") }],
    });
    expect(holdbook("page", path, "--sheet", "Sizes", "-o", page).err).toContain(
      "a sheet of the workbook",
    );
  });

  test("gives its reading list", async () => {
    const [csv, workbook] = [
      await runHere("references", library),
      await runHere("references", path),
    ];
    expect(workbook.out).toBe(csv.out);
    expect(csv.out.length).toBeGreaterThan(1000);
  });
});

describe("a workbook by hand", () => {
  const header = textRow(
    2,
    "study",
    "arm",
    "arm_kind",
    "outcome",
    "outcome_family",
    "intensity_percent",
    "n_end",
    "change_percent_mean",
    "change_percent_spread",
  );
  const row = (at: number, study: string, load: string, gain: string) =>
    `<row r="${at}">${["t", "isometric", "peak torque", "strength"].reduce(
      (cells, text) => `${cells}<c t="inlineStr"><is><t>${text}</t></is></c>`,
      `<c t="inlineStr"><is><t>${study}</t></is></c>`,
    )}${load}<c><v>12</v></c>${gain}<c><v>9.5</v></c></row>`;
  const bytes = () =>
    workbookOf(
      [
        {
          name: "Trials",
          rows: [
            textRow(1, "Table 2"),
            header,
            row(3, "Ash 2001", '<c s="1"><v>0.7</v></c>', "<c><v>11</v></c>"),
            row(6, "Birch 2002", '<c s="2"><v>45000</v></c>', "<c><v>17</v></c>"),
            row(8, "Cedar 2003", "<c><v>60</v></c>", '<c t="e"><v>#N/A</v></c>'),
          ].join(""),
        },
      ],
      { formats: [9, 14] },
    );

  test("its doubts name the rows of the sheet, the column and the value", async () => {
    const { out } = await runHere("check", fileIn("trials.xlsx", bytes()));
    const { issues, fates } = JSON.parse(
      (await runHere("check", join(testFolder, "trials.xlsx"), "--json")).out,
    ) as Record<"issues" | "fates", readonly Record<string, unknown>[]>;
    expect(issues.map(({ code, line, column, value }) => [code, line, column, value])).toEqual(
      expect.arrayContaining([
        ["spreadsheet-date", 6, "intensity_percent", "2023-03-15"],
        ["spreadsheet-error", 8, "change_percent_mean", "#N/A"],
      ]),
    );
    expect(fates.map(({ line }) => line)).toEqual([3, 6, 8]);
    expect(out).toContain(
      "One cell is shown as a percentage and read as shown: F3 holds 0.7 and was read as 70%",
    );
  });

  test("is imported by a map", async () => {
    const map = fileIn(
      "map.json",
      JSON.stringify({
        title: "A workbook",
        source: "typed for this test",
        licence: "none",
        columns: {
          study: { column: "study" },
          arm: { column: "arm" },
          arm_kind: { column: "arm_kind" },
          outcome: { column: "outcome" },
          intensity_percent: { column: "intensity_percent", factor: 1 },
          change_percent_mean: { column: "change_percent_mean" },
        },
      }),
    );
    const { out, err } = await runHere("import", fileIn("foreign.xlsx", bytes()), "--map", map);
    expect(readTable(out).rows.map(({ cells }) => [cells[0], cells[3], cells.at(-1)])).toEqual([
      ["Ash 2001", "70", "11"],
      ["Birch 2002", "2023-03-15", "17"],
      ["Cedar 2003", "60", "#N/A"],
    ]);
    expect(err).toContain('the sheet "Trials" was read');
  });

  test("of the old form is refused in one sentence with its mend", async () => {
    const { exitCode, err } = await runHere(
      "pool",
      fileIn("old.xls", Uint8Array.from([0xd0, 0xcf, 0x11, 0xe0, 0xa1, 0xb1, 0x1a, 0xe1, 0, 0])),
    );
    expect(exitCode).toBe(1);
    expect(err.trim()).toBe(
      "file: the file is a workbook of the old form (.xls); open it in the spreadsheet and save it as .xlsx, or the sheet as CSV (UTF-8)",
    );
  });
});
