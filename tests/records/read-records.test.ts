import fc from "fast-check";
import { describe, expect, test } from "vitest";
import * as z from "zod";
import { readTable } from "../../src/csv/read-table.js";
import { writeTable } from "../../src/csv/write-table.js";
import { codebookFields, columnOf, fieldNames } from "../../src/records/codebook.js";
import type { FieldName } from "../../src/records/codebook.js";
import { readRecords } from "../../src/records/read-records.js";
import { codesOf, recordsOf, soundRow, tableText } from "./record-table.js";
import type { Cells } from "./record-table.js";

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

describe("readRecords: a sound row", () => {
  test("is used, typed, and without remark", () => {
    const records = recordsOf({});
    expect(records.issues).toEqual([]);
    expect(records.notes).toEqual([]);
    expect(records.usable).toBe(true);
    expect(records.fates).toEqual([{ line: 2, fate: "used", reason: "" }]);
    expect(records.rows[0]).toEqual({
      line: 2,
      notReported: [],
      ...soundRow,
      nStart: 15,
      nEnd: 14,
      intensityPercent: 80,
      holdSeconds: 5,
      repetitions: 6,
      sets: 4,
      sessionsPerWeek: 3,
      weeks: 8,
      trainingAngleDegrees: [60],
      preMean: 182.4,
      preSpread: 31.2,
      postMean: 201.7,
      postSpread: 33,
    });
  });

  test("blank fields are absent, not undefined", () => {
    expect(Object.keys(recordsOf({ unit: "" }).rows[0] ?? {})).not.toContain("unit");
  });
});

describe("readRecords: cells that are refused or set aside, each with its mend", () => {
  const cases: readonly (readonly [FieldName, string, string, RegExp])[] = [
    ["holdSeconds", "03-Oct", "spreadsheet-date", /3–10/],
    ["holdSeconds", "Oct-03", "spreadsheet-date", /3–10/],
    ["repetitions", "2024-10-03", "spreadsheet-date", /3–10/],
    ["repetitions", "03/10/2024", "spreadsheet-date", /3–10/],
    ["repetitions", "45568", "out-of-range", /day number/],
    ["changePercentMean", "9–14", "range-for-number", /several rows/],
    ["intensityPercent", "12 RM", "unexpected-unit", /repetition maximum/],
    ["holdSeconds", "2 min", "unexpected-unit", /write 120/],
    ["intensityPercent", "0.7", "fraction-for-percentage", /write 70/],
    ["intensityPercent", "131", "out-of-range", /130/],
    ["intensityPercent", "85-70", "range-reversed", /70–85/],
    ["preMean", "182 ± 31", "two-numbers", /write 31 into pre_spread/],
    ["preMean", "182 (31)", "two-numbers", /leave 182 here/],
    ["tValue", "<2.1", "inexact-number", /notes/],
    ["preMean", "#DIV/0!", "spreadsheet-error", /formula/],
    ["preMean", "high", "not-a-number", /182\.4/],
    ["preSpread", "-31", "out-of-range", /from 0/],
    ["pValue", "1.2", "out-of-range", /from 0 to 1/],
    ["prePostCorrelation", "1.3", "out-of-range", /-1/],
    ["nEnd", "13.5", "not-whole", /whole/],
    ["armKind", "isometrc", "unknown-choice", /did you mean "isometric"/],
    ["design", "cohort of sheep", "unknown-choice", /allowed: randomised groups/],
    ["trainingAngleDegrees", "30 / wide", "not-a-number", /type/],
  ];
  for (const [name, typed, code, mend] of cases) {
    test(`${columnOf(name)} "${typed}": ${code}`, () => {
      const { issue, fate, value } = cell(name, typed);
      expect(issue?.code).toBe(code);
      expect(issue?.line).toBe(2);
      expect(issue?.value).toBe(typed);
      expect(`${issue?.message ?? ""}; ${issue?.mend ?? ""}`).toMatch(mend);
      const field = codebookFields[name];
      const essential = "essential" in field && field.essential === true;
      expect(fate).toBe(essential ? "refused" : "used with a warning");
      expect(issue?.severity).toBe(essential ? "error" : "warning");
      expect(value).toBeUndefined();
    });
  }

  test("required cells", () => {
    for (const name of ["study", "arm", "outcome"] as const) {
      for (const blank of ["", "  ", "NR"]) {
        const { fate, issue } = cell(name, blank);
        expect(fate).toBe("refused");
        expect(issue?.code).toBe("missing");
      }
    }
  });

  test("all problems are told at once", () => {
    const records = recordsOf(
      { preMean: "high", postMean: "higher", holdSeconds: "03-Oct" },
      { armKind: "isometrc", study: "" },
    );
    expect(records.issues.map(({ line, column }) => `${line} ${column}`).sort()).toEqual([
      "2 hold_seconds",
      "2 post_mean",
      "2 pre_mean",
      "3 arm_kind",
      "3 study",
    ]);
  });
});

describe("readRecords: words", () => {
  test("choices whatever their case, hyphens, spaces and -ize", () => {
    expect(cell("design", "Randomized groups").value).toBe("randomised groups");
    expect(cell("design", "within person limbs").value).toBe("within-person limbs");
    expect(cell("intensityBasis", "effort rating 0-10").value).toBe("effort rating 0–10");
    expect(cell("spreadKind", "SD").value).toBe("standard deviation");
  });

  test("not reported is counted apart from blank, in every way people write it", () => {
    const words = ["not reported", "Not Reported", "NR", "n/a", "NA", "–"];
    const records = recordsOf(...words.map((word, i) => ({ ageMeanYears: word, notes: `${i}` })), {
      ageMeanYears: "",
    });
    const age = records.completeness.find(({ column }) => column === "age_mean_years");
    expect(age).toEqual({
      column: "age_mean_years",
      coded: 0,
      notReported: words.length,
      blank: 1,
      unusable: 0,
    });
    expect(records.rows[0]?.notReported).toEqual(["age_mean_years"]);
  });

  test("headers in any order, case and joining; unknown columns are kept in a list", () => {
    const text =
      "Post-Mean,OUTCOME,pre mean,Arm,study,preSpread,n end,intensty_percent,coder mood\n" +
      "201,torque,182,a,S,31,14,80,good\n";
    const records = readRecords(readTable(text));
    expect(records.rows[0]).toMatchObject({ postMean: 201, preMean: 182, preSpread: 31, nEnd: 14 });
    expect(records.unknownColumns).toEqual(["intensty_percent", "coder mood"]);
    expect(records.issues.map(({ mend }) => mend)).toEqual([
      "did you mean intensity_percent? rename it if so",
    ]);
  });

  test("a required column that is missing, and a column given twice", () => {
    const missing = readRecords(readTable("study,outcome,pre_mean\nS,torque,1\nS,torque,2\n"));
    expect(missing.issues.map(({ code, column }) => `${code} ${column}`)).toEqual([
      "missing-column arm",
    ]);
    expect(missing.fates.map(({ fate }) => fate)).toEqual(["refused", "refused"]);
    const twice = readRecords(
      readTable("study,arm,outcome,pre_mean,Pre mean,post_mean\nS,a,t,1,1,2\nS,a,u,1,3,2\n"),
    );
    expect(twice.fates.map(({ fate }) => fate)).toEqual(["used with a warning", "refused"]);
    expect(twice.usable).toBe(false);
  });
});

describe("readRecords: fates", () => {
  test("set aside: blank rows, rows with no change, rows said twice", () => {
    const none: Cells = { preMean: "", preSpread: "", postMean: "", postSpread: "" };
    const records = recordsOf({}, none, { ...none, preMean: "182.4" }, {});
    expect(records.fates.map(({ fate }) => fate)).toEqual([
      "used",
      "set aside",
      "set aside",
      "set aside",
    ]);
    expect(records.fates[3]?.reason).toBe("repeats line 2 in every column of the codebook");
    expect(records.rows).toHaveLength(1);
    const blank = readRecords(readTable("study,arm,outcome\n,,\n"));
    expect(blank.fates).toEqual([{ line: 2, fate: "set aside", reason: "the row is blank" }]);
  });

  test("rows without a spread or without people are kept and say what they cannot have", () => {
    const records = recordsOf({ preSpread: "", postSpread: "" }, { nStart: "", nEnd: "" });
    expect(records.rows).toHaveLength(2);
    for (const { fate, reason } of records.fates) {
      expect(fate).toBe("used with a warning");
      expect(reason).toMatch(/cannot be weighted|has no weight of its own/);
    }
  });

  test("a p value without a direction says so", () => {
    const records = recordsOf({
      statistic: "p value",
      pValue: "0.03",
      preMean: "",
      preSpread: "",
      postMean: "",
      postSpread: "",
    });
    expect(records.fates[0]?.reason).toMatch(/no direction/);
  });

  test("a blank statistic is taken from the filled columns, a wrong one corrected, and both are told", () => {
    const inferred = recordsOf({ statistic: "" }, { statistic: "", notes: "second" });
    expect(inferred.rows.map(({ statistic }) => statistic)).toEqual([
      "means at both times",
      "means at both times",
    ]);
    expect(inferred.notes.map(({ message }) => message)).toEqual([
      "on 2 rows statistic is blank and was taken from the columns that are filled",
    ]);
    const wrong = recordsOf({ statistic: "t value" });
    expect(wrong.rows[0]?.statistic).toBe("means at both times");
    expect(codesOf(wrong.issues)).toEqual(["statistic-not-filled@2"]);
  });

  test("a ragged line is refused and the others are read", () => {
    const lines = tableText([{}, { notes: "x" }]).split("\n");
    lines[1] = lines[1]?.replace("randomised groups,", "") ?? "";
    const records = readRecords(readTable(lines.join("\n")));
    expect(records.fates.map(({ fate }) => fate)).toEqual(["refused", "used"]);
    expect(records.usable).toBe(false);
  });

  test("empty and header-only files are answered, not usable", () => {
    for (const text of ["", "study,arm,outcome\n"]) {
      const records = readRecords(readTable(text));
      expect(records.usable).toBe(false);
      expect(records.rowsInFile).toBe(0);
      expect(records.fates).toEqual([]);
    }
  });
});

/** Independent of the reader: the same fields through zod alone. */
const rowSchema = z.strictObject({
  line: z.int().positive(),
  notReported: z.array(z.string()),
  ...Object.fromEntries(
    fieldNames.map((name) => {
      const required = name === "study" || name === "arm" || name === "outcome";
      const { schema } = codebookFields[name];
      return [name, required ? schema : schema.exactOptional()];
    }),
  ),
});

const word = fc.constantFrom("", "NR", "not reported", "x", "Ashdown", "3–10", "1,5", "=1+1", "−4");
const number = fc.oneof(
  fc.double({ min: -50, max: 400, noNaN: true }).map((value) => value.toFixed(2)),
  fc.integer({ min: 0, max: 150 }).map(String),
  word,
);
const cells: fc.Arbitrary<Cells> = fc.record({
  study: fc.constantFrom("A", "B", "C", ""),
  arm: fc.constantFrom("a", "b", "B"),
  nEnd: number,
  preMean: number,
  preSpread: number,
  postMean: number,
  postSpread: number,
  tValue: number,
  intensityPercent: number,
  holdSeconds: number,
  trainingAngleDegrees: number,
  statistic: fc.constantFrom("", "t value", "means at both times", "means"),
  armKind: fc.constantFrom("isometric", "no exercise", "Isometric ", "?", "stretch"),
});

describe("readRecords: whatever the cells", () => {
  test("every row has one fate, counts add up, and every row used is as the codebook says", () => {
    fc.assert(
      fc.property(fc.array(cells, { maxLength: 12 }), (changes) => {
        const records = recordsOf(...changes);
        expect(records.fates.map(({ line }) => line)).toEqual(changes.map((_, i) => i + 2));
        const used = records.fates.filter(({ fate }) => fate.startsWith("used"));
        expect(records.rows.map(({ line }) => line)).toEqual(used.map(({ line }) => line));
        for (const { coded, notReported, blank, unusable } of records.completeness) {
          expect(coded + notReported + blank + unusable).toBe(records.rowsInFile);
          expect(blank).toBeGreaterThanOrEqual(0);
        }
        for (const row of records.rows) expect(rowSchema.safeParse(row).error).toBeUndefined();
        for (const { fate, reason } of records.fates) expect(reason === "").toBe(fate === "used");
      }),
      { seed: 21, numRuns: 150 },
    );
  });

  test("the order of rows changes neither the rows nor which of them are refused", () => {
    const inOrder = fc.array(cells, { minLength: 2, maxLength: 8 });
    fc.assert(
      fc.property(inOrder, (changes) => {
        const named = changes.map((change, i) => ({ ...change, notes: `row ${i}` }));
        const read = (list: readonly Cells[]) => {
          const records = recordsOf(...list);
          return {
            rows: records.rows.map((row) => ({ ...row, line: 0 })).sort(byNotes),
            refused: records.fates.filter(({ fate }) => fate === "refused").length,
          };
        };
        expect(read([...named].reverse())).toEqual(read(named));
      }),
      { seed: 22, numRuns: 100 },
    );
  });

  test("the order of columns changes nothing", () => {
    const table = readTable(
      tableText([{ holdSeconds: "3–10" }, { preMean: "high" }, { study: "" }]),
    );
    const places = table.header.map((_, i) => i).reverse();
    const turned = writeTable(
      places.map((i) => table.header[i] ?? ""),
      table.rows.map(({ cells: row }) => places.map((i) => row[i] ?? "")),
    );
    const [one, other] = [readRecords(table), readRecords(readTable(turned))];
    expect(other.rows).toEqual(one.rows);
    expect(other.fates).toEqual(one.fates);
  });

  test("writing a used row and reading it again returns it", () => {
    fc.assert(
      fc.property(fc.array(cells, { minLength: 1, maxLength: 6 }), (changes) => {
        const { rows } = recordsOf(...changes);
        const names = fieldNames;
        const text = writeTable(
          names.map(columnOf),
          rows.map((row) =>
            names.map((name) => {
              const value = row[name];
              if (value === undefined) return row.notReported.includes(columnOf(name)) ? "NR" : "";
              return Array.isArray(value) ? value.join(" / ") : String(value);
            }),
          ),
        );
        const back = readRecords(readTable(text)).rows;
        expect(back.map((row) => ({ ...row, line: 0 }))).toEqual(
          rows.map((row) => ({ ...row, line: 0, notReported: byColumn(row.notReported) })),
        );
      }),
      { seed: 23, numRuns: 100 },
    );
  });
});

const byNotes = (a: Readonly<{ notes?: string }>, b: Readonly<{ notes?: string }>): number =>
  (a.notes ?? "").localeCompare(b.notes ?? "");

const byColumn = (columns: readonly string[]): readonly string[] =>
  fieldNames.map(columnOf).filter((column) => columns.includes(column));
