import { readFileSync } from "node:fs";
import { describe, expect, test } from "vitest";
import { readTable } from "../../src/csv/read-table.js";
import { writeTable } from "../../src/csv/write-table.js";
import { DataError } from "../../src/errors.js";
import { parseImportMap } from "../../src/records/import-map.js";
import { importRows } from "../../src/records/import-rows.js";
import { readRecords } from "../../src/records/read-records.js";
import type { OutcomeRow } from "../../src/records/outcome-row.js";
import { rowsThatMeet } from "../../src/records/row-filter.js";
import { checkedColumn, rowValue } from "../../src/records/row-value.js";

const text =
  "study,arm,outcome,pre_mean,post_mean,Coder mood,Load (kg),constructor,training_angle_degrees,,mixed\n" +
  "A,a,torque,10,12,good,20,x,30 / 60,p,7\n" +
  'B,a,torque,11,13,,"22,5",NR,,,high\n' +
  "C,a,torque,12,14,poor,not reported,,,,\n";
const { rows, unknownColumns, issues } = readRecords(readTable(text));

describe("columns the codebook does not know", () => {
  test("are kept with their rows: filled cells only, under the name in the codebook's spelling", () => {
    expect(unknownColumns).toEqual([
      "Coder mood",
      "Load (kg)",
      "constructor",
      "column 10",
      "mixed",
    ]);
    const kept: readonly OutcomeRow["more"][] = [
      { coder_mood: "good", load: 20, constructor: "x", column_10: "p", mixed: "7" },
      // A decimal comma beside plain numbers leaves the column one of numbers; a word makes it text.
      { load: 22.5, mixed: "high" },
      { coder_mood: "poor" },
    ];
    expect(rows.map(({ more }) => more)).toEqual(kept);
    expect(issues).toEqual([]);
  });

  test("do not make a repeated row another one", () => {
    const twice = readRecords(
      readTable("study,arm,outcome,pre_mean,post_mean,id\nA,a,t,1,2,1\nA,a,t,1,2,2\n"),
    );
    expect(twice.fates.map(({ fate }) => fate)).toEqual(["used with a warning", "set aside"]);
  });

  test("with one name twice keep both", () => {
    const { rows: both } = readRecords(
      readTable("study,arm,outcome,pre_mean,post_mean,load (kg),load (N)\nA,a,t,1,2,5,49\n"),
    );
    expect(both[0]?.more).toEqual({ load: 5, column_7: 49 });
  });
});

describe("rowValue", () => {
  test("gives codebook columns and the file's own, whatever the spelling", () => {
    const [first, second, third] = rows;
    expect(rowValue(first!, "pre_mean")).toBe(10);
    expect(rowValue(first!, "Training angle degrees")).toBe("30 / 60");
    expect(rowValue(first!, "coder mood")).toBe("good");
    expect(rowValue(second!, "load")).toBe(22.5);
    expect(rowValue(first!, "constructor")).toBe("x");
    for (const column of ["coder_mood", "constructor", "week_measured", "banana"]) {
      expect(rowValue(second!, column)).toBeUndefined();
    }
    expect(rowValue(third!, "load")).toBeUndefined();
  });

  test("lets a row filter name them, numbers as numbers", () => {
    const kept = (filter: string) => rowsThatMeet(rows, filter).map(({ study }) => study);
    expect(kept("load > 20")).toEqual(["B"]);
    expect(kept("load = 20, coder mood = GOOD")).toEqual(["A"]);
    expect(kept("Coder-mood != good")).toEqual(["B", "C"]);
    expect(() => rowsThatMeet(rows, "coder mod = good")).toThrow("did you mean coder_mood?");
  });
});

describe("checkedColumn", () => {
  test("lets pass what the codebook has or a row fills", () => {
    for (const column of ["hold_seconds", "Coder mood", "load"]) {
      expect(checkedColumn(column, rows)).toBe(column);
    }
  });

  test.each([
    ["coder_mod", "did you mean coder_mood?"],
    ["hold_secnds", "did you mean hold_seconds?"],
  ])("refuses %s with the nearest there is", (column, hint) => {
    expect(() => checkedColumn(column, rows)).toThrow(hint);
  });

  test("refuses a name that is near nothing without a guess", () => {
    expect(() => checkedColumn("banana", rows)).toThrow(/got "banana"$/);
  });
});

describe("an import map", () => {
  const about = { title: "Test", source: "made up", licence: "none" };

  test("carries columns of one's own through, for every arm of a row", () => {
    const map = parseImportMap({
      ...about,
      columns: {
        study: { column: "who" },
        outcome: { constant: "torque" },
        pre_mean: { column: "*_pre" },
        post_mean: { column: "*_post" },
      },
      more: { "body region": { column: "region" }, load: { column: "*_load", factor: 2 } },
      arms: [
        { prefix: "ex", columns: { arm: { constant: "trained" } } },
        { prefix: "con", columns: { arm: { constant: "control" } } },
      ],
    });
    const source = readTable(
      "who,region,ex_pre,ex_post,ex_load,con_pre,con_post,con_load\nA,upper,1,2,5,3,4,6\n",
    );
    const { csv, notes } = importRows(source, map);
    expect(csv.header.slice(-2)).toEqual(["body region", "load"]);
    expect(notes.map(({ code }) => code)).not.toContain("columns-left");
    const read = readRecords(readTable(writeTable(csv.header, csv.rows)));
    expect(read.rows.map(({ arm, more }) => [arm, more])).toEqual([
      ["trained", { body_region: "upper", load: 10 }],
      ["control", { body_region: "upper", load: 12 }],
    ]);
  });

  test("refuses a codebook column among them, and says where one's own belong", () => {
    const mends = (map: object): readonly string[] => {
      try {
        parseImportMap({ ...about, columns: {}, ...map });
      } catch (failure) {
        if (failure instanceof DataError) return failure.issues.map(({ mend }) => mend);
      }
      return [];
    };
    expect(mends({ more: { "Test mode": { constant: "x" } } })).toEqual(["move it to columns"]);
    expect(mends({ columns: { tendon_load: { constant: "x" } } })[0]).toMatch(/goes under more$/);
  });

  test("of the historic trials carries the body region, as the source has it", () => {
    const data = (name: string) => readFileSync(new URL(`../../data/${name}`, import.meta.url));
    const source = readTable(data("historic_isometric_trials.csv"));
    const map = parseImportMap(JSON.parse(data("historic-isometric-map.json").toString("utf8")));
    const { csv } = importRows(source, map);
    const read = readRecords(readTable(writeTable(csv.header, csv.rows)));
    const place = source.header.indexOf("region");
    const measured = source.rows.filter(
      ({ cells }) => cells[source.header.indexOf("measure")] !== "",
    );
    const upper = measured.filter(({ cells }) => cells[place] === "upper").length;
    expect(upper).toBe(156);
    expect(read.rows.filter((row) => rowValue(row, "body_region") === "upper")).toHaveLength(upper);
  });
});
