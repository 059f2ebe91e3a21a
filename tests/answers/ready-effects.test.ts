import { describe, expect, test } from "vitest";
import fc from "fast-check";
import { readTable } from "../../src/csv/read-table.js";
import { readyEffects } from "../../src/answers/ready-effects.js";

const read = (text: string, moderators: readonly string[] = []) =>
  readyEffects(readTable(text), { moderators });

describe("readyEffects", () => {
  test("study, effect and variance are enough; a row is then named after its line", () => {
    const { effects, fates, usable, issues } = read(
      "study,effect,variance\nA,0.3,0.02\nB,-0.1,0.04\n",
    );
    expect(effects).toEqual([
      { effectId: "line 2", study: "A", estimate: 0.3, variance: 0.02, moderators: {} },
      { effectId: "line 3", study: "B", estimate: -0.1, variance: 0.04, moderators: {} },
    ]);
    expect(fates.map(({ fate }) => fate)).toEqual(["used", "used"]);
    expect(usable).toBe(true);
    expect(issues).toEqual([]);
  });

  test("a standard error is squared, arms, ids and moderators are carried along", () => {
    const { effects, moderators } = read(
      "effect_id;study;arm;effect;standard_error;weeks;measure\ne1;A;x;0.3;0.2;8;isometric\ne2;A;;0.1;0.1;;dynamic\n",
    );
    expect(effects[0]).toEqual({
      effectId: "e1",
      study: "A",
      arm: "x",
      estimate: 0.3,
      variance: 0.2 ** 2,
      moderators: { weeks: 8, measure: "isometric" },
    });
    expect(effects[1]).toEqual({
      effectId: "e2",
      study: "A",
      estimate: 0.1,
      variance: 0.1 ** 2,
      moderators: { measure: "dynamic" },
    });
    expect(moderators).toEqual([
      { name: "weeks", kind: "numeric", missing: 1 },
      { name: "measure", kind: "categorical", missing: 0 },
    ]);
  });

  test("rows that cannot be used are refused with line, column, value and mend", () => {
    const { effects, fates, issues } = read(
      "study,effect,variance\nA,abc,0.02\n,0.2,0.03\nC,0.2,0\nD,0.2,-1\nE,0.2,\nF,0.2,0.04\n",
    );
    expect(effects.map((effect) => effect.study)).toEqual(["F"]);
    expect(fates.map(({ fate }) => fate)).toEqual([
      "refused",
      "refused",
      "refused",
      "refused",
      "refused",
      "used",
    ]);
    expect(issues.map(({ line, column, value, code }) => [line, column, value, code])).toEqual([
      [2, "effect", "abc", "not-a-number"],
      [3, "study", "", "missing"],
      [4, "variance", "0", "not-positive"],
      [5, "variance", "-1", "not-positive"],
      [6, "variance", "", "missing"],
    ]);
    expect(issues.every(({ mend }) => mend.length > 5)).toBe(true);
  });

  test("a row without a moderator in use is set aside, and only then", () => {
    const text = "study,effect,variance,weeks\nA,0.3,0.02,8\nB,0.1,0.04,NR\n";
    expect(read(text).effects.length).toBe(2);
    const used = read(text, ["weeks"]);
    expect(used.effects.length).toBe(1);
    expect(used.fates[1]).toEqual({ line: 3, fate: "set aside", reason: "no value of weeks" });
  });

  test("missing or repeated columns are the table's own problem", () => {
    const missing = read("study,estimate\nA,0.2\n");
    expect(missing.usable).toBe(false);
    expect(missing.fates.map(({ fate }) => fate)).toEqual(["refused"]);
    expect(missing.issues.map(({ column }) => column)).toEqual(["effect", "variance"]);
    expect(
      readyEffects({ header: ["study", "effect", "effect", "variance"], rows: [] }).issues[0]!.code,
    ).toBe("repeated-column");
    expect(read("study,effect,variance\nA,0.2,0.1\n", ["dose"]).issues[0]!.column).toBe("dose");
  });

  test("a word among numbers, a decimal comma and errors that disagree are warned of", () => {
    const { issues, fates } = read(
      'study,effect,variance,standard_error,weeks\nA,"0,3",0.04,0.2,8\nB,0.2,0.04,0.4,8 wk\nC,0.1,0.01,0.1,10\nD,0.1,0.01,,10\n',
    );
    expect(issues.map(({ code, line }) => [code, line])).toEqual(
      expect.arrayContaining([
        ["word-among-numbers", 3],
        ["decimal-comma", 2],
        ["variance-and-error-disagree", 3],
      ]),
    );
    expect(fates.slice(0, 2).map(({ fate }) => fate)).toEqual([
      "used with a warning",
      "used with a warning",
    ]);
  });

  test("1,234 is refused where nothing tells thousands from decimals, with both readings", () => {
    const text =
      "study;effect;variance;dose\nA;1,234;4;1,500\nB;2;1,234;900\nC;1;4;800\nD;3;4;700\n";
    const { effects, issues, moderators } = read(text);
    expect(effects.map(({ study }) => study)).toEqual(["C", "D"]);
    const mend = "write 1234 or 1.2340, whichever is meant";
    expect(issues).toEqual([
      expect.objectContaining({ code: "ambiguous-number", line: 2, column: "dose" }),
      expect.objectContaining({ code: "ambiguous-number", severity: "error", line: 2, mend }),
      expect.objectContaining({ code: "ambiguous-number", severity: "error", line: 3, mend }),
    ]);
    expect(moderators).toEqual([{ name: "dose", kind: "categorical", missing: 0 }]);
  });

  test("1,234 is read by the file's own habit, and said so", () => {
    const thousands = read("study;effect;variance\nA;1,234;0.5\n");
    expect(thousands.effects[0]?.estimate).toBe(1234);
    expect(thousands.issues.map(({ code }) => code)).toEqual(["thousands-separators"]);
    const decimals = read("study;effect;variance\nA;1,234;0,5\n");
    expect(decimals.effects[0]?.estimate).toBe(1.234);
    expect(decimals.issues.map(({ code }) => code)).toEqual(["decimal-comma", "decimal-comma"]);
    // Both marks in one file: its habit says nothing.
    expect(read("study;effect;variance\nA;1,234;0,5\nB;0.5;1\n").effects).toHaveLength(1);
  });

  test("ids used in two studies, or twice in one, are noted", () => {
    const { notes } = read(
      "study,arm,effect_id,effect,variance\nA,x,1,0.3,0.02\nB,x,1,0.1,0.04\nB,y,2,0.1,0.04\nB,y,2,0.2,0.04\n",
    );
    expect(notes.map(({ code }) => code)).toEqual([
      "arm-shared-between-studies",
      "effect-id-shared-between-studies",
      "effect-id-repeated",
    ]);
  });

  test("property: any cells at all give as many fates as rows, and effects that are numbers", () => {
    const cell = fc.oneof(
      fc.constantFrom(
        "",
        "0.2",
        "−0.1",
        "1e-400",
        "1e400",
        "NaN",
        "Infinity",
        "0x10",
        "1,5",
        "1,234.5",
        "A",
        "=1+1",
      ),
      fc.string({ maxLength: 8 }),
    );
    fc.assert(
      fc.property(
        fc.array(fc.array(cell, { minLength: 0, maxLength: 7 }), { maxLength: 12 }),
        (cells) => {
          const table = {
            header: ["study", "effect", "variance", "standard_error", "weeks", "arm"],
            rows: cells.map((row, i) => ({ line: i + 2, cells: row })),
          };
          const { effects, fates } = readyEffects(table);
          expect(fates.length).toBe(cells.length);
          expect(fates.filter(({ fate }) => fate.startsWith("used")).length).toBe(effects.length);
          for (const { estimate, variance } of effects) {
            expect(Number.isFinite(estimate) && variance > 0 && variance < Infinity).toBe(true);
          }
        },
      ),
      { numRuns: 300, seed: 12 },
    );
  });
});
