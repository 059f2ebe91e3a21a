import { readFileSync } from "node:fs";
import { describe, expect, it } from "vitest";
import { readTable } from "../../src/csv/read-table.js";
import { writeTable } from "../../src/csv/write-table.js";
import { effectsFromRows } from "../../src/effects/effects-from-rows.js";
import { parseImportMap } from "../../src/records/import-map.js";
import { importRows } from "../../src/records/import-rows.js";
import type { OutcomeRow } from "../../src/records/outcome-row.js";
import { readRecords } from "../../src/records/read-records.js";
import { testModeMatters, testModeOf } from "../../src/records/test-mode.js";

const data = (name: string) => readFileSync(new URL(`../../data/${name}`, import.meta.url));

const historic = () => {
  const map = parseImportMap(JSON.parse(data("historic-isometric-map.json").toString("utf8")));
  const { csv } = importRows(readTable(data("historic_isometric_trials.csv")), map);
  return readRecords(readTable(writeTable(csv.header, csv.rows)));
};
const shipped = {
  "demo-register.csv": readRecords(readTable(data("demo-register.csv"))),
  "published-outcomes.csv": readRecords(readTable(data("published-outcomes.csv"))),
  "published-outcomes-read-once.csv": readRecords(
    readTable(data("published-outcomes-read-once.csv")),
  ),
  "historic-isometric-map.json": historic(),
};

const counted = (rows: readonly OutcomeRow[]) => {
  const counts: Record<string, number> = {};
  for (const row of rows) {
    const mode = row.testMode ?? (row.notReported.includes("test_mode") ? "not reported" : "blank");
    counts[mode] = (counts[mode] ?? 0) + 1;
  }
  return counts;
};

describe("the test mode of the shipped files", () => {
  // A stated reason is the cell "not reported", or a family for which the codebook asks for a blank.
  it.each(Object.entries(shipped))(
    "%s has it coded on every row, or says why not",
    (_, records) => {
      expect(records.rows.length).toBeGreaterThan(50);
      const open = records.rows.filter(
        (row) =>
          row.testMode === undefined &&
          !row.notReported.includes("test_mode") &&
          testModeMatters(row),
      );
      expect(open.map(({ line }) => line)).toEqual([]);
    },
  );

  it("tells the modes apart, as the words of the outcomes do", () => {
    // Counted by hand in the files: 189 rows of torque in the register.
    expect(counted(shipped["demo-register.csv"].rows)).toEqual({ isometric: 189, blank: 122 });
    for (const { outcome, testMode } of [
      ...shipped["published-outcomes.csv"].rows,
      ...shipped["published-outcomes-read-once.csv"].rows,
    ]) {
      if (outcome.startsWith("peak isometric")) expect(testMode).toBe("isometric");
      if (/isokinetic|eccentric/.test(outcome)) expect(testMode).toBe("moving at fixed speed");
    }
    for (const { outcome, testMode } of shipped["historic-isometric-map.json"].rows) {
      if (/repetition maximum|^repetitions to/.test(outcome)) expect(testMode).toBe("lifting");
      if (/^(peak|rate of) isometric|^time to/.test(outcome)) expect(testMode).toBe("isometric");
      if (/^(jump|run|sprint|agility)/.test(outcome)) expect(testMode).toBe("other");
    }
  });
});

describe("a blank test mode", () => {
  it("counts as isometric", () => {
    expect(testModeOf({})).toBe("isometric");
    expect(testModeOf({ testMode: "lifting" })).toBe("lifting");
  });

  // Two rows of rapid force and the two trained legs' voluntary activation say "not reported".
  it("is said once for a set of effects, with how many it concerns", () => {
    const { rows } = readRecords(readTable(data("../tests/first-wave/published-outcomes.csv")));
    const { notes, effects } = effectsFromRows(rows, { borrowedSpread: "none" });
    expect(notes.filter(({ code }) => code === "test-mode-blank").map((n) => n.message)).toEqual([
      `on 4 of ${effects.length} effects the test mode is not coded; it counts as isometric`,
    ]);
    const coded = rows.map((row): OutcomeRow => ({ ...row, testMode: "lifting" }));
    expect(effectsFromRows(coded).notes.map(({ code }) => code)).not.toContain("test-mode-blank");
  });

  it("in a cell that cannot be read refuses the row, which would stand in another headline", () => {
    const csv = "study,arm,outcome,test_mode,pre_mean,post_mean\nA,a,torque,isokinetc,1,2\n";
    const { issues, fates } = readRecords(readTable(csv));
    expect(issues[0]?.mend).toContain("moving at fixed speed");
    expect(fates[0]?.fate).toBe("refused");
  });
});
