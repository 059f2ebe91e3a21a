import { readFileSync } from "node:fs";
import { describe, expect, it } from "vitest";
import { readTable } from "../../src/csv/read-table.js";
import { demoColumns, demoRegisterCsv } from "../../src/demo/demo-register-csv.js";
import { demoRegister } from "../../src/demo/demo-register.js";
import { columnOf, fieldNames } from "../../src/records/codebook.js";

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
});
