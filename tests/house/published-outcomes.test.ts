import { readFileSync } from "node:fs";
import { describe, expect, it, test } from "vitest";
import { questionIds } from "../../src/answers/question-list.js";
import { readingList } from "../../src/answers/reading-list.js";
import type { CsvTable } from "../../src/csv/csv-table.js";
import { readTable } from "../../src/csv/read-table.js";
import { doseAxisNames } from "../../src/dose/dose-axes.js";
import { columnOf, fieldNames } from "../../src/records/codebook.js";
import { outcomeFamilyNames } from "../../src/records/outcome-families.js";
import { readRecords } from "../../src/records/read-records.js";

const read = (name: string) =>
  readTable(readFileSync(new URL(`../../data/${name}`, import.meta.url), "utf8"));
const cellsOf = ({ header, rows }: CsvTable): readonly Readonly<Record<string, string>>[] =>
  rows.map(({ cells }) =>
    Object.fromEntries(header.map((column, index) => [column, cells[index] ?? ""])),
  );
const files = ["published-outcomes.csv", "published-outcomes-read-once.csv"].map((name) => {
  const table = read(name);
  return { name, table, rows: cellsOf(table) };
});
const rows = files.flatMap((file) => file.rows);
/** What a source prints can be seen without the reader: a spread, an exact test, an interval. */
const unweightable = (row: Readonly<Record<string, string>>): boolean => {
  const filled = (...names: readonly string[]) =>
    names.every((name) => /^-?[\d.]+$/.test(row[name] ?? ""));
  if (row.statistic === "effect computed elsewhere")
    return !filled("interval_low") && !filled("effect_standard_error");
  const directed =
    row.direction !== "" || filled("change_percent_mean") || filled("pre_mean", "post_mean");
  const weighted =
    filled("pre_spread", "post_spread") ||
    filled("change_spread") ||
    filled("change_percent_spread") ||
    filled("interval_low", "interval_high") ||
    (filled("p_value") && directed);
  // A standard error or an interval stands as printed, without a group size.
  const ownError = row.spread_kind === "standard error" || filled("interval_low");
  return !weighted || (!filled("n_start") && !filled("n_end") && !ownError);
};

describe.each(files)("$name", ({ table, rows }) => {
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

  it("names a study by its words alone, and one of an unknown year says so without jargon", () => {
    for (const { study } of rows) {
      expect(study).not.toMatch(/[()[\];]|seen/);
      expect(study).toMatch(/ \d{4}\b| abstract$|^[A-Z][a-z -]+, year not given$/);
    }
  });

  it("marks the rows that are printed without a spread", () => {
    for (const row of rows) {
      const spread =
        row.statistic === "means at both times"
          ? row.pre_spread
          : row.statistic === "percent change with spread"
            ? row.change_percent_spread
            : "0";
      const marked = /printed without a spread|Means without a spread/i.test(row.notes ?? "");
      expect(marked, `${row.study} ${row.arm} ${row.outcome}`).toBe(
        spread === "" || spread === "not reported",
      );
    }
  });

  it("writes a p that is printed as a bound as one, and never takes the bound for the p", () => {
    for (const row of rows) {
      if (/p (?:printed as )?below/.test(row.notes ?? "") && (row.p_value ?? "") !== "")
        expect(row.p_value, `${row.study} ${row.outcome}`).toMatch(/^<0\.\d+$/);
      expect(row.notes).not.toContain("the bound is entered");
    }
  });

  it("codes one outcome of one arm at one angle, side and time once", () => {
    const keys = rows.map((row) =>
      [
        row.study,
        row.arm,
        row.outcome,
        row.test_angle_degrees,
        row.test_side,
        row.week_measured,
      ].join("|"),
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
    expect(warned.map(({ line }) => line)).toEqual(
      rows.flatMap((row, index) => (unweightable(row) ? [index + 2] : [])),
    );
  });
});

describe("numbers as their sources print them", () => {
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

test("the reading list is in order, and names for each trial what it would decide and what to take", () => {
  const list = cellsOf(read("reading-list.csv"));
  expect(list.map(({ order }) => order)).toEqual(list.map((_row, index) => String(index + 1)));
  expect(list.length).toBeGreaterThan(15);
  for (const { trial, question, take_from_it, open_access } of list) {
    expect(trial).toMatch(/\b(?:19|20)\d\d\b/);
    expect([question, take_from_it].every((cell) => cell !== "")).toBe(true);
    expect(["yes", "not known"]).toContain(open_access);
  }
  // What answers name is this list, and no other.
  expect(list.map((row) => [row.trial, row.question, row.decides, row.outcomes])).toEqual(
    readingList,
  );
  const known: readonly string[] = [...doseAxisNames, ...questionIds];
  const words = (column: "decides" | "outcomes") =>
    list.flatMap((row) => row[column]!.split(" ").filter((word) => word !== ""));
  expect(words("decides").filter((word) => !known.includes(word))).toEqual([]);
  expect(
    words("outcomes").filter((word) => !(outcomeFamilyNames as readonly string[]).includes(word)),
  ).toEqual([]);
});
