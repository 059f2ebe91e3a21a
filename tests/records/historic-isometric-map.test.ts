import { readFileSync } from "node:fs";
import { describe, expect, test } from "vitest";
import { readTable } from "../../src/csv/read-table.js";
import { writeTable } from "../../src/csv/write-table.js";
import { parseImportMap } from "../../src/records/import-map.js";
import { importRows } from "../../src/records/import-rows.js";
import { prescriptionOf } from "../../src/records/prescription-of.js";
import { readRecords } from "../../src/records/read-records.js";

const data = (name: string) => readFileSync(new URL(`../../data/${name}`, import.meta.url));

describe("the historic isometric trials", () => {
  const source = readTable(data("historic_isometric_trials.csv"));
  const map = parseImportMap(JSON.parse(data("historic-isometric-map.json").toString("utf8")));
  const imported = importRows(source, map);
  const records = readRecords(readTable(writeTable(imported.csv.header, imported.csv.rows)));
  const place = (column: string) => source.header.indexOf(column);
  const sourceRows = (test: (cell: (column: string) => string) => boolean) =>
    source.rows.filter(({ cells }) => test((column) => cells[place(column)] ?? "")).length;

  test("468 rows, 25 studies: every row has a fate and none is lost", () => {
    expect(source.rows).toHaveLength(468);
    expect(imported.fates).toHaveLength(468);
    const used = imported.fates.filter(({ fate }) => fate === "used");
    expect(used).toHaveLength(imported.csv.rows.length);
    expect(records.fates).toHaveLength(imported.csv.rows.length);
    expect(records.issues.filter(({ severity }) => severity === "error")).toEqual([]);
    expect(new Set(records.rows.map(({ study }) => study)).size).toBe(25);
  });

  // Counted from the source's own columns, not through the map.
  test("spreads at both times, t and p are where the source has them", () => {
    const both = sourceRows(
      (cell) =>
        (cell("pre_sd") !== "" && cell("post_sd") !== "") ||
        (cell("pre_se") !== "" && cell("post_se") !== ""),
    );
    const rows = records.rows.filter(
      (r) => r.preSpread !== undefined && r.postSpread !== undefined,
    );
    expect(rows).toHaveLength(both);
    const t = sourceRows((cell) => cell("delta_t_value") !== "" && cell("measure") !== "");
    expect(records.rows.filter((r) => r.tValue !== undefined)).toHaveLength(t);
    const p = sourceRows((cell) => cell("delta_p_value") !== "" && cell("measure") !== "");
    expect(records.rows.filter((r) => r.pValue !== undefined)).toHaveLength(p);
  });

  // Six arm codes are people whose other limb is the source's control; it is no arm of other people.
  const limbs = ["85", "86", "88", "89", "101", "149"];

  test("control arms did no exercise, and a control limb is the untrained side of its arm", () => {
    const controls = sourceRows(
      (cell) =>
        cell("group") === "CON" && cell("measure") !== "" && !limbs.includes(cell("arm_code")),
    );
    const sides = sourceRows((cell) => cell("group") === "CON" && limbs.includes(cell("arm_code")));
    expect(sides).toBe(11);
    const untrained = records.rows.filter(({ testSide }) => testSide === "untrained");
    expect(untrained.map(({ arm }) => arm).filter((arm) => !limbs.includes(arm))).toEqual([]);
    expect(untrained).toHaveLength(sides);
    const rows = records.rows.filter(({ armKind }) => armKind === "no exercise");
    expect(rows).toHaveLength(controls);
    for (const { arm } of rows) expect(arm).toMatch(/ control$/);
    expect(records.issues.filter(({ code }) => code === "rows-disagree")).toEqual([]);
  });

  test("arms that move are never isometric, and their load is a share of the greatest lift", () => {
    const kinds = { CON_ECC: "dynamic", ECC: "dynamic", CON_ECC_isometric: "other exercise" };
    for (const [contraction, kind] of Object.entries(kinds)) {
      const arms = new Set(
        source.rows
          .filter(({ cells }) => cells[place("contraction_type")] === contraction)
          .map(({ cells }) => cells[place("arm_code")]),
      );
      expect(arms.size).toBeGreaterThan(1);
      const rows = records.rows.filter(({ arm }) => arms.has(arm));
      expect(new Set(rows.map(({ armKind }) => armKind))).toEqual(new Set([kind]));
      for (const { intensityPercent, intensityBasis } of rows)
        expect(intensityBasis).toBe(
          intensityPercent === undefined ? undefined : "percent of one-repetition maximum",
        );
    }
    const moving = sourceRows((cell) => /ECC/.test(cell("contraction_type")));
    expect(moving).toBe(101);
    expect(records.rows.filter(({ armKind }) => armKind === "isometric")).toHaveLength(
      sourceRows((cell) => cell("contraction_type") === "isometric" && cell("measure") !== "") +
        sourceRows((cell) => cell("group") === "CON" && limbs.includes(cell("arm_code"))),
    );
  });

  test("known slips of the source are found", () => {
    const codes = records.issues.map(({ code }) => code);
    expect(codes).toContain("implied-mean-negative");
    expect(codes).toContain("same-people-twice");
    expect(codes).toContain("turned-sign");
  });

  test("complete prescriptions are nearly all at maximal effort, as the data's README says", () => {
    const full = records.rows.flatMap((row) => prescriptionOf(row) ?? []);
    const maximal = full.filter(({ intensityPercent }) => intensityPercent === 100);
    expect(full.length).toBeGreaterThan(50);
    expect(maximal.length / full.length).toBeGreaterThan(0.8);
  });
});
