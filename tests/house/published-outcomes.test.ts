import { readFileSync } from "node:fs";
import { describe, expect, it } from "vitest";
import { readTable } from "../../src/csv/read-table.js";
import { columnOf, fieldNames } from "../../src/records/codebook.js";
import { readRecords } from "../../src/records/read-records.js";

const file = new URL("../../data/published-outcomes.csv", import.meta.url);
const table = readTable(readFileSync(file, "utf8"));
const rows = table.rows.map(({ cells }) =>
  Object.fromEntries(table.header.map((column, index) => [column, cells[index] ?? ""])),
);

describe("starter file of published outcomes", () => {
  it("has only columns of the codebook", () => {
    const known = fieldNames.map(columnOf);
    for (const column of table.header) expect(known).toContain(column);
  });

  it("says of every row where its number stands, and gives the DOI or says it was not seen", () => {
    expect(rows.length).toBeGreaterThan(50);
    for (const row of rows) {
      expect(row.source_location).not.toBe("");
      expect(row.citation).not.toBe("");
      if (row.doi === "") expect(row.notes).toContain("DOI not seen");
      else expect(row.doi).toMatch(/^10\.\d{4,}\/\S+$/);
    }
  });

  it("marks the rows that cannot be used for weighting", () => {
    for (const row of rows) {
      const spread =
        row.statistic === "means at both times" ? row.pre_spread : row.change_percent_spread;
      const marked = row.notes?.includes("cannot be used for weighting") ?? false;
      expect(marked, `${row.study} ${row.arm} ${row.outcome}`).toBe(
        spread === "" || spread === "not reported",
      );
    }
  });

  it("codes one outcome of one arm at one angle and time once", () => {
    const keys = rows.map((row) =>
      [row.study, row.arm, row.outcome, row.test_angle_degrees, row.week_measured].join("|"),
    );
    expect(new Set(keys).size).toBe(keys.length);
  });

  it("passes through the reader: every row used, and just the unweightable ones warned of", () => {
    const records = readRecords(table);
    expect(records.usable).toBe(true);
    expect(records.issues).toEqual([]);
    const warned = records.fates.filter(({ fate }) => fate === "used with a warning");
    expect(warned.length + records.fates.filter(({ fate }) => fate === "used").length).toBe(
      rows.length,
    );
    const unweightable = rows.filter(
      (row) => row.notes?.includes("cannot be used for weighting") || row.n_end === "not reported",
    );
    expect(warned.length).toBe(unweightable.length);
  });

  // Arampatzis A, Karamanidis K, Albracht K (2007) J Exp Biol 210:2743, Table 1, as printed.
  it.each([
    ["low strain leg", "peak isometric torque", "114.4±12.7", "137.7±15.8"],
    ["high strain leg", "peak isometric torque", "109.5±15.2", "144.1±22.7"],
    ["control", "peak isometric torque", "135.0±38.3", "141.2±39.2"],
    ["low strain leg", "tendon stiffness", "186.7±38.3", "201.4±41.2"],
    ["high strain leg", "tendon stiffness", "167.7±36.8", "228.1±39.7"],
    ["control", "tendon stiffness", "180.2±42.5", "184.1±39.7"],
  ])("Arampatzis 2007, %s, %s", (arm, outcome, before, after) => {
    const row = rows.find(
      (each) => each.study === "Arampatzis 2007" && each.arm === arm && each.outcome === outcome,
    );
    expect(`${row?.pre_mean}±${row?.pre_spread}`).toBe(before);
    expect(`${row?.post_mean}±${row?.post_spread}`).toBe(after);
  });

  // Kubo K, Kanehisa H, Fukunaga T (2001) J Physiol 536:649, abstract point 3, as printed.
  it.each([
    ["short contractions", "peak isometric torque", "31.8 ± 17.2"],
    ["long contractions", "peak isometric torque", "33.9 ± 14.4"],
    ["short contractions", "muscle volume", "7.4 ± 3.9"],
    ["long contractions", "muscle volume", "7.6 ± 4.3"],
  ])("Kubo 2001, %s, %s", (arm, outcome, printed) => {
    const row = rows.find((each) => each.arm === arm && each.outcome === outcome);
    expect(`${row?.change_percent_mean} ± ${row?.change_percent_spread}`).toBe(printed);
  });
});
