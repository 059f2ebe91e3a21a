import { readFileSync } from "node:fs";
import { describe, expect, test } from "vitest";
import { readTable } from "../../src/csv/read-table.js";
import { writeTable } from "../../src/csv/write-table.js";
import { contrasts, effectScales } from "../../src/effects/effect.js";
import { effectsFromRows } from "../../src/effects/effects-from-rows.js";
import {
  effectsChoices,
  effectsDefaults,
  resolvedEffectsOptions,
} from "../../src/effects/effects-options.js";
import type { EffectsOptions } from "../../src/effects/effects-options.js";
import { CallError } from "../../src/errors.js";
import { parseImportMap } from "../../src/records/import-map.js";
import { importRows } from "../../src/records/import-rows.js";
import { readRecords } from "../../src/records/read-records.js";

const data = (name: string) => readFileSync(new URL(`../../data/${name}`, import.meta.url));
const historic = () => {
  const map = parseImportMap(JSON.parse(data("historic-isometric-map.json").toString("utf8")));
  const { csv } = importRows(readTable(data("historic_isometric_trials.csv")), map);
  return readRecords(readTable(writeTable(csv.header, csv.rows))).rows;
};
const files = {
  demonstration: readRecords(readTable(data("demo-register.csv"))).rows,
  published: readRecords(readTable(data("../tests/first-wave/published-outcomes.csv"))).rows,
  historic: historic(),
};
const asJson = (value: unknown): unknown => JSON.parse(JSON.stringify(value));

describe("sets of effects are plain data", () => {
  // JSON makes null of NaN and infinities and drops what is undefined, so equality leaves room for none of them.
  describe.each(contrasts)("%s", (contrast) => {
    test.each(effectScales)("%s: every row has its use, and nothing is lost in JSON", (scale) => {
      for (const [name, rows] of Object.entries(files)) {
        const set = effectsFromRows(rows, { contrast, scale });
        expect(set.rowUses.map(({ line }) => line)).toEqual(rows.map(({ line }) => line));
        if (name === "demonstration" && contrast !== "against-other-limb") {
          expect(set.effects.length).toBeGreaterThan(10);
        }
        expect(asJson(set)).toStrictEqual(set);
        expect(structuredClone(set)).toStrictEqual(set);
      }
    });
  });

  test("and so are the options, their defaults and the values they may take", () => {
    const rows = files.demonstration;
    const defaults = asJson(effectsDefaults) as EffectsOptions;
    expect(effectsFromRows(rows, defaults)).toStrictEqual(effectsFromRows(rows));
    expect(asJson(effectsChoices)).toStrictEqual(effectsChoices);
    for (const [name, values] of Object.entries(effectsChoices)) {
      const isList = Array.isArray(effectsDefaults[name as "armKinds"]) || name.endsWith("ies");
      for (const value of values) {
        const chosen = isList ? [value] : value;
        const resolved = resolvedEffectsOptions({ [name]: chosen });
        expect(resolved[name as keyof EffectsOptions]).toEqual(chosen);
      }
      expect(() => resolvedEffectsOptions({ [name]: isList ? ["banana"] : "banana" })).toThrow(
        CallError,
      );
    }
  });
});

describe("the historic trials", () => {
  const of = (contrast: EffectsOptions["contrast"] & string) =>
    effectsFromRows(files.historic, { contrast });

  // The eleven control limbs of the source, each beside the trained limb of its arm in the last week.
  test("set a limb against the other limb of the same people, and never among other people's controls", () => {
    const limbs = of("against-other-limb");
    expect(
      limbs.effects.map(({ study, arm, row, comparatorRow, participants }) => [
        `${study}, ${arm}`,
        row.preMean,
        comparatorRow?.preMean,
        participants,
      ]),
    ).toEqual([
      ["Bonde Petersen 1960, 85", 500, 420, 5],
      ["Bonde Petersen 1960, 85", 1328, 1084, 5],
      ["Bonde Petersen 1960, 86", 460, 413, 4],
      ["Bonde Petersen 1960, 86", 1128, 1140, 4],
      ["Bonde Petersen 1960, 88", 790, 890, 5],
      ["Bonde Petersen 1960, 88", 1964, 1936, 5],
      ["Bonde Petersen 1960, 89", 829, 813, 6],
      ["Bonde Petersen 1960, 89", 1993, 1887, 6],
      ["Brodin 1963, 101", 1107, 1126, 41],
      ["Coleman 1969, 149", 37.07, 37.21, 21],
      ["Coleman 1969, 149", 45.33, 45.85, 21],
    ]);
    expect(limbs.notes.map(({ code }) => code)).toContain("other-limb-gains");
    for (const { comparatorRow } of of("against-control").effects) {
      expect(comparatorRow?.testSide).not.toBe("untrained");
    }
  });

  // Bonde Petersen 1960 has arms of four and five people.
  test("say of every effect of fewer than six people with a spread of its own that its variance is widened", () => {
    const effects = of("change-within-arm").effects.filter(
      ({ borrowed }) => borrowed === undefined,
    );
    const few = effects.filter(({ row }) => (row.nEnd ?? row.nStart ?? 0) < 6);
    expect(few.length).toBeGreaterThan(0);
    for (const { row, notes } of effects) {
      const people = row.nEnd ?? row.nStart ?? 0;
      expect(notes.some(({ code }) => code === "few-people")).toBe(people < 6);
    }
  });
});
