import { readFileSync } from "node:fs";
import { describe, expect, it } from "vitest";
import { readTable } from "../../src/csv/read-table.js";
import { demoColumns, demoRegisterCsv } from "../../src/demo/demo-register-csv.js";
import { demoRegister } from "../../src/demo/demo-register.js";
import { columnOf, fieldNames } from "../../src/records/codebook.js";
import { readRecords } from "../../src/records/read-records.js";

const committed = readFileSync(new URL("../../data/demo-register.csv", import.meta.url), "utf8");

describe("the invented register as a file", () => {
  it("data/demo-register.csv is what the generator writes", () => {
    expect(demoRegisterCsv() === committed).toBe(true);
  });

  it("has the codebook's columns in the codebook's order, and drops no cell", () => {
    const order = fieldNames
      .map(columnOf)
      .filter((column) => (demoColumns as readonly string[]).includes(column));
    expect([...demoColumns]).toEqual(order);
    for (const row of demoRegister().rows)
      for (const column of Object.keys(row)) expect(demoColumns).toContain(column);
  });

  it("is read back cell for cell", () => {
    const table = readTable(committed);
    const { rows } = demoRegister();
    expect(table.issues).toEqual([]);
    expect(table.rows.length).toBe(rows.length);
    table.rows.forEach(({ cells }, index) => {
      expect(cells).toEqual(demoColumns.map((column) => rows[index]?.[column] ?? ""));
    });
  });

  it("passes through the reader: every row used, the planted faults warned of", () => {
    const records = readRecords(readTable(committed));
    const { rows } = demoRegister();
    expect(records.usable).toBe(true);
    expect(records.fates.length).toBe(rows.length);
    expect(records.unknownColumns).toEqual([]);
    expect(records.fates.filter(({ fate }) => fate === "refused" || fate === "set aside")).toEqual(
      [],
    );
    const warned = records.fates.filter(({ fate }) => fate === "used with a warning");
    const spreadless = rows.filter((row) => row.pre_spread === "not reported").length;
    expect(warned.filter(({ reason }) => reason.startsWith("no spread")).length).toBe(spreadless);
    // the pair of papers that does not say it shares its people is found by its numbers
    expect(records.issues.length).toBeGreaterThan(0);
    for (const issue of records.issues) {
      expect(issue.code).toBe("same-people-twice");
      expect(issue.message).toContain("Invented 21");
      expect(rows[issue.line - 2]?.study).toBe("Invented 22");
    }
    // the pair that says so is noted
    const shared = records.notes.filter((note) => note.code === "shared-cohort");
    expect(shared.map((note) => note.message).join()).toContain("Invented 09, Invented 10");
  });
});
