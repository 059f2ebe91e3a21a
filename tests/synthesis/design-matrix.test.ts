import { describe, expect, test } from "vitest";
import { CallError } from "../../src/errors.js";
import { moderatorDesign } from "../../src/synthesis/design-matrix.js";
import type { Matrix } from "../../src/numeric/matrix.js";
import type { SynthesisEffect } from "../../src/synthesis/synthesis-input.js";

const rowOf = ({ columns, values }: Matrix, row: number) =>
  values.slice(row * columns, (row + 1) * columns);

const rows: readonly SynthesisEffect[] = [
  { weeks: 6, measure: "isometric" },
  { weeks: 8, measure: "dynamic" },
  { weeks: 12, measure: "rapid" },
  { weeks: 8, measure: "isometric" },
  { measure: "dynamic" },
].map((moderators, i) => ({
  effectId: `e${i}`,
  study: "s",
  estimate: 0,
  variance: 1,
  moderators: moderators,
}));

describe("moderatorDesign", () => {
  test("no moderators: an intercept over every row", () => {
    const design = moderatorDesign(rows, {}, "test");
    expect(design.columnNames).toEqual(["intercept"]);
    expect(Array.from(design.matrix.values)).toEqual([1, 1, 1, 1, 1]);
  });

  test("numeric as it stands, categorical against the first level in text order, which is stated", () => {
    const design = moderatorDesign(rows, { moderators: ["weeks", "measure"] }, "test");
    expect(design.columnNames).toEqual([
      "intercept",
      "weeks",
      "measure: isometric",
      "measure: rapid",
    ]);
    expect(Array.from(rowOf(design.matrix, 0))).toEqual([1, 6, 1, 0]);
    expect(Array.from(rowOf(design.matrix, 2))).toEqual([1, 12, 0, 1]);
    expect(design.references).toEqual({ measure: "dynamic" });
    expect(design.used).toEqual([0, 1, 2, 3]);
    expect(design.notes.map((note) => note.code)).toEqual(["moderator-missing", "reference-level"]);
  });

  test("a reference can be chosen", () => {
    const design = moderatorDesign(
      rows,
      { moderators: ["measure"], references: { measure: "rapid" } },
      "test",
    );
    expect(design.columnNames).toEqual(["intercept", "measure: dynamic", "measure: isometric"]);
    expect(design.terms).toEqual([{ name: "measure", columns: [1, 2] }]);
  });

  test("an interaction is the product of its parts, which are added when missing", () => {
    const design = moderatorDesign(rows, { moderators: [["weeks", "measure"]] }, "test");
    expect(design.columnNames).toEqual([
      "intercept",
      "weeks",
      "measure: isometric",
      "measure: rapid",
      "weeks × measure: isometric",
      "weeks × measure: rapid",
    ]);
    expect(Array.from(rowOf(design.matrix, 2))).toEqual([1, 12, 0, 1, 0, 12]);
    expect(design.notes.map((note) => note.code)).toContain("main-effects-added");
    expect(design.terms.at(-1)).toEqual({ name: "weeks × measure", columns: [4, 5] });
  });

  test("names that are properties of every object are no moderators", () => {
    expect(() => moderatorDesign(rows, { moderators: ["constructor"] }, "test")).toThrow(CallError);
    expect(() => moderatorDesign(rows, { moderators: ["__proto__"] }, "test")).toThrow(CallError);
  });

  test.each([
    ["unknown-moderator", { moderators: ["dose"] }],
    ["repeated-moderator", { moderators: [["weeks", "weeks"]] }],
    ["unknown-reference", { moderators: ["measure"], references: { measure: "slow" } }],
  ] as const)("refuses: %s", (code, options) => {
    let thrown: unknown;
    try {
      moderatorDesign(rows, options, "test");
    } catch (error) {
      thrown = error;
    }
    expect((thrown as CallError).code).toBe(code);
  });

  test("refuses: a moderator with one value", () => {
    const same = rows.slice(0, 1).concat(rows.slice(3, 4));
    expect(() => moderatorDesign(same, { moderators: ["measure"] }, "test")).toThrow(
      /measure with the single value "isometric"/,
    );
  });
});
