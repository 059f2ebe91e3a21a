import { expect, test } from "vitest";
import { printedForm } from "../../src/records/printed-form.js";
import type { Draft } from "../../src/records/printed-form.js";

const base = { line: 2, notReported: [], study: "A", arm: "a", outcome: "t" };
const form = (fields: Partial<Draft>) => printedForm({ ...base, ...fields });

test("printedForm: each form is found by its columns", () => {
  const forms: readonly (readonly [Partial<Draft>, string])[] = [
    [{ preMean: 1, postMean: 2, preSpread: 1 }, "means at both times"],
    [{ changeMean: 1, changeSpread: 1 }, "change with spread"],
    [{ changePercentMean: 1, changePercentSpread: 1 }, "percent change with spread"],
    [{ changeMean: 1, intervalLow: 0, intervalHigh: 2 }, "change with interval"],
    [{ tValue: 2 }, "t value"],
    [{ fValue: 2 }, "F value"],
    [{ pValue: 0.1 }, "p value"],
    [
      { preMedian: 1, postMedian: 2, preQuartileLow: 0, preQuartileHigh: 2 },
      "medians with quartiles",
    ],
    [{ preMedian: 1, postMedian: 2, preMinimum: 0, preMaximum: 2 }, "medians with range"],
    [{ effect: 1, effectStandardError: 1 }, "effect computed elsewhere"],
  ];
  for (const [fields, statistic] of forms) {
    expect(form(fields)).toEqual({ kind: "weightable", statistic });
  }
});

test("printedForm: a form that can be weighted goes before one that cannot, the stated one before others", () => {
  expect(form({ preMean: 1, postMean: 2, tValue: 3 })).toEqual({
    kind: "weightable",
    statistic: "t value",
  });
  const two = { ...base, preMean: 1, postMean: 2, preSpread: 1, tValue: 3 };
  expect(printedForm(two).kind === "weightable" && printedForm(two, "t value")).toEqual({
    kind: "weightable",
    statistic: "t value",
  });
});

test("printedForm: no spread, and no change", () => {
  expect(form({ preMean: 1, postMean: 2 })).toEqual({
    kind: "no spread",
    statistic: "means at both times",
  });
  expect(form({ preMean: 1, preSpread: 1 })).toEqual({ kind: "no change" });
  expect(form({})).toEqual({ kind: "no change" });
});
