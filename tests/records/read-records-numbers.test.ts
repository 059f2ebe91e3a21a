import { describe, expect, test } from "vitest";
import { readTable } from "../../src/csv/read-table.js";
import { columnOf } from "../../src/records/codebook.js";
import type { FieldName } from "../../src/records/codebook.js";
import { readRecords } from "../../src/records/read-records.js";
import { codesOf, recordsOf, tableText } from "./record-table.js";

/** One row with one changed cell: its fate, the cell's issue, and what the field became. */
const cell = (name: FieldName, value: string) => {
  const records = recordsOf({ [name]: value });
  return {
    fate: records.fates[0]?.fate,
    issue: records.issues.find(({ column }) => column === columnOf(name)),
    value: records.rows[0]?.[name],
    row: records.rows[0],
    records,
  };
};

describe("readRecords: numbers as people type them", () => {
  const cases: readonly (readonly [FieldName, string, unknown])[] = [
    ["intensityPercent", "71%", 71],
    ["intensityPercent", "85%", 85],
    ["intensityPercent", "85\u00a0%", 85],
    ["intensityPercent", "70% MVC", 70],
    ["repetitions", "12 RM", 12],
    ["holdSeconds", "5 s", 5],
    ["holdSeconds", "5 sec.", 5],
    ["preMean", " 182,4 ", 182.4],
    ["changeMean", "\u221219.3", -19.3],
    ["changeMean", "–19.3", -19.3],
    ["preMean", "1 234.5", 1234.5],
    ["preMean", "1\u202f234,5", 1234.5],
    ["preMean", "1,234.5", 1234.5],
    ["preMean", "1.234,5", 1234.5],
    ["preMean", "1,234,567", 1234567],
    ["preMean", "1.82E2", 182],
    ["trainingAngleDegrees", "30 / 60 / 90", [30, 60, 90]],
    ["trainingAngleDegrees", "30°; 60°", [30, 60]],
  ];
  for (const [name, typed, value] of cases) {
    test(`${columnOf(name)} "${typed}" is ${JSON.stringify(value)}`, () => {
      const read = cell(name, typed);
      expect(read.issue?.severity === "error").toBe(false);
      expect(read.value).toEqual(value);
    });
  }

  test.each(["1e150", "-1e300", "5e-324"])("%s was never measured", (typed) => {
    const read = cell("changeMean", typed);
    expect([read.fate, read.issue?.code]).toEqual(["refused", "out-of-range"]);
    expect(read.issue?.message).toMatch(/too (?:large|near to zero) to be a measurement/);
  });

  test("a range is its two ends where the codebook has a place for both", () => {
    const row = cell("intensityPercent", "70-75").row;
    expect([row?.intensityPercent, row?.intensityPercentHigh]).toEqual([70, 75]);
    const hold = recordsOf({ holdSeconds: "3–10 s" }, {}).rows;
    expect([hold[0]?.holdSeconds, hold[0]?.holdSecondsHigh]).toEqual([3, 10]);
    expect([hold[1]?.holdSeconds, hold[1]?.holdSecondsHigh]).toEqual([5, undefined]);
  });

  test("a file with semicolons and decimal commas", () => {
    const text = tableText([{ preMean: "182,4", preSpread: "31,25" }], ";");
    const records = readRecords(readTable(text));
    expect(records.rows[0]?.preMean).toBe(182.4);
    expect(records.rows[0]?.preSpread).toBe(31.25);
    expect(records.usable).toBe(true);
  });

  test("a comma before three digits is read as the file's other cells say, or refused", () => {
    const comma = recordsOf({
      preMean: "1,234",
      preSpread: "0,5",
      postMean: "1,5",
      postSpread: "1",
    });
    expect(comma.rows[0]?.preMean).toBe(1.234);
    const point = recordsOf({ preMean: "1,234", preSpread: "300.5", postMean: "1300" });
    expect(point.rows[0]?.preMean).toBe(1234);
    const neither = recordsOf({
      preMean: "1,234",
      preSpread: "300",
      postMean: "1300",
      postSpread: "310",
    });
    expect(codesOf(neither.issues)).toEqual(["ambiguous-number@2"]);
    expect(neither.fates[0]?.fate).toBe("refused");
  });
});
