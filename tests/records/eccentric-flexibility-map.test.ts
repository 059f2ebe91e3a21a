import { readFileSync } from "node:fs";
import { describe, expect, test } from "vitest";
import { readTable } from "../../src/csv/read-table.js";
import { writeTable } from "../../src/csv/write-table.js";
import type { Effect } from "../../src/effects/effect.js";
import { effectsFromRows } from "../../src/effects/effects-from-rows.js";
import { parseImportMap } from "../../src/records/import-map.js";
import { importRows } from "../../src/records/import-rows.js";
import { readRecords } from "../../src/records/read-records.js";
import { rowValue } from "../../src/records/row-value.js";
import { jsonOf, runHere } from "../command/run-here.js";
import { fileOf } from "../command/test-folder.js";

const foreign = "tests/published/eccentric_flexibility_diong2022_prepost.csv";
const map = "data/eccentric-flexibility-map.json";
const source = readTable(readFileSync(foreign));
const cell = (row: readonly string[], column: string) => row[source.header.indexOf(column)] ?? "";
const imported = importRows(source, parseImportMap(JSON.parse(readFileSync(map, "utf8"))));
const records = readRecords(readTable(writeTable(imported.csv.header, imported.csv.rows)));

/** The author's settings: the difference of the changes over the deviation after training. */
const effectsOf = (contrast: "against-control" | "between-arms"): readonly Effect[] =>
  effectsFromRows(records.rows, {
    scale: "standardised-mean-difference",
    contrast,
    armKinds: contrast === "between-arms" ? ["dynamic", "other exercise"] : ["dynamic"],
    armPairs: "every-pair",
    standardisedDifferenceOf: "changes",
    standardisedVarianceForm: "factor-squared",
    smallSampleFactor: "approximate",
  }).effects;

describe("a foreign table of two arms side by side", () => {
  test("becomes two rows of every comparison, none left out", () => {
    expect(imported.fates.map(({ fate }) => fate)).toEqual(source.rows.map(() => "used"));
    expect(records.rows).toHaveLength(2 * 44);
    expect(new Set(records.rows.map(({ study }) => study)).size).toBe(
      new Set(source.rows.map(({ cells }) => /^.* (?:19|20)\d\d/.exec(cells[0]!)![0])).size,
    );
    expect(records.unknownColumns).toEqual([
      "comparison",
      "compared_with",
      "outcome_code",
      "printed_g",
      "printed_g_variance",
    ]);
  });

  // Printed in the source beside each comparison: Diong et al. 2022, columns hedges_g and variance.
  test("gives the printed effects and variances, 44 of 44", () => {
    const all = [...effectsOf("against-control"), ...effectsOf("between-arms")];
    const own = (effect: Effect, column: string) => rowValue(effect.row, column);
    const found = source.rows.map(({ cells }) => {
      const name = cell(cells, "study");
      const effect = all.find(({ row, comparatorRow }) =>
        [row, comparatorRow].every(
          (one) => one !== undefined && rowValue(one, "comparison") === name,
        ),
      );
      return [
        name,
        Math.abs(
          Math.abs(effect?.estimate ?? Number.NaN) - Math.abs(Number(cell(cells, "hedges_g"))),
        ) < 1e-4,
        Math.abs((effect?.variance ?? Number.NaN) - Number(cell(cells, "variance"))) < 1e-4,
        Number(own(effect!, "printed_g")) === Number(cell(cells, "hedges_g")),
      ];
    });
    expect(found.filter((one) => one.slice(1).includes(false))).toEqual([]);
    expect(found).toHaveLength(44);
  });

  test("in one command, and its own columns filter and group", async () => {
    const { out } = await runHere("import", foreign, "--map", map);
    const asked = ["pool", fileOf("flexibility.csv", out), "--arm-kinds", "dynamic"];
    const against = [...asked, "--contrast", "against-control"];
    const passive = source.rows.filter(
      ({ cells }) => cell(cells, "comparison") === "none" && cell(cells, "outcome") === "prom",
    );
    const some = await jsonOf<{ effects: number }>(...against, "--where", "outcome_code=prom");
    expect(some.effects).toBe(passive.length);
    const grouped = await runHere(...against, "--by", "outcome_code");
    expect(grouped.out).toContain("outcome_code prom");
    expect(grouped.out).toContain("outcome_code lfas");
  });
});
