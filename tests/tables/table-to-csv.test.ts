import { expect, test } from "vitest";
import { readTable } from "../../src/csv/read-table.js";
import { tableToCsv } from "../../src/tables/table-to-csv.js";
import { sampleTable } from "./sample-table.js";

const csv = tableToCsv(sampleTable);

test("keys in snake case head the columns; title and footnotes stay out", () => {
  expect(csv.split("\n")[0]).toBe("study,gain_percent,comment");
  expect(csv).not.toContain("Gains");
});

test("numbers are plain: hyphen for minus, no commas between thousands", () => {
  expect(csv.split("\n")[2]).toContain(",-3.0,");
  expect(csv).toContain(",1234.5,");
});

test("a text that a spreadsheet would run is made harmless", () => {
  expect(csv).toContain(",'=1+1");
  for (const start of ["=", "+", "-", "@", "\t", "\r"]) {
    const out = tableToCsv({ ...sampleTable, rows: [{ study: `${start}cmd|' /C calc'!A0` }] });
    expect(out.split("\n")[1]?.replace(/^"/, "").charAt(0)).toBe("'");
  }
});

test("round trip: what is written is read back cell for cell", () => {
  const back = readTable(csv);
  expect(back.rows.map((row) => row.cells[0])).toEqual(sampleTable.rows.map((row) => row["study"]));
  expect(back.issues).toEqual([]);
});

test("columns meant for the CSV replace those shown", () => {
  const out = tableToCsv({
    ...sampleTable,
    csvColumns: [{ key: "exactGain", align: "right" }],
    rows: [{ study: "Elm", gainPercent: "0.1", exactGain: "0.123456789" }],
  });
  expect(out).toBe("exact_gain\n0.123456789\n");
});
