/** Kind of evidence: hand arithmetic. */
import { expect, test } from "vitest";
import {
  probabilityCell,
  rangeCell,
  rangeLimits,
  rangeMiddle,
} from "../../src/tables/range-cells.js";
import { confidenceWords, counted } from "../../src/tables/number-format.js";

test("log ratios stand as percent: ln 1.10 is 10%, ln 0.95 is −5%", () => {
  const range = { estimate: Math.log(1.1), low: Math.log(0.95), high: Math.log(1.3) };
  expect(rangeMiddle(range)).toBe("10.0");
  expect(rangeLimits(range)).toBe("−5.0 to 30.0");
  expect(rangeCell(range)).toBe("10.0 (−5.0 to 30.0)");
});

test("no probability is shown as certain", () => {
  expect([0, 0.004, 0.006, 0.5, 0.994, 0.996, 1].map(probabilityCell)).toEqual([
    "under 1%",
    "under 1%",
    "1%",
    "50%",
    "99%",
    "over 99%",
    "over 99%",
  ]);
});

test("a share is written without the dust of binary fractions", () => {
  expect([0.95, 0.9, 0.999, 0.29].map(confidenceWords)).toEqual(["95%", "90%", "99.9%", "29%"]);
});

test("one is singular", () => {
  expect([counted(1, "week"), counted(0, "week"), counted(2, "study", "studies")]).toEqual([
    "1 week",
    "0 weeks",
    "2 studies",
  ]);
});
