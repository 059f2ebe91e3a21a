import fc from "fast-check";
import { expect, test } from "vitest";
import { guardFormula, unguardFormula } from "../../src/csv/formula-guard.js";

test("guardFormula: formulas are shown, numbers stay numbers", () => {
  for (const cell of ["=1+1", "+cmd", "-a1", "@sum", "\tx", "\r=x"]) {
    expect(guardFormula(cell)).toBe(`'${cell}`);
  }
  for (const cell of ["-3", "+0.5", "-1,5", "-2e-5", "-12%", "plain", "", "3-10"]) {
    expect(guardFormula(cell)).toBe(cell);
  }
});

test("guardFormula: unguarding returns every cell, guarded or not", () => {
  const cell = fc.oneof(fc.string(), fc.stringMatching(/^'{0,3}[=+\-@]?[a-z0-9]{0,4}$/));
  fc.assert(
    fc.property(cell, (text) => {
      expect(unguardFormula(guardFormula(text))).toBe(text);
    }),
    { seed: 11, numRuns: 500 },
  );
});
