/** Numbers made again beside a recipe's; every difference here was put in by hand. */
import { expect, test } from "vitest";
import { recipeComparison } from "../../src/report/recipe-comparison.js";
import { figureOf, sampleData, sampleRecipe } from "./sample-recipe.js";

const [first, second] = sampleData;
const compared = (data: Parameters<typeof figureOf>[0]) =>
  recipeComparison(sampleRecipe(), figureOf(data));

test("the same numbers are identical", () => {
  expect(compared(sampleData)).toEqual({
    verdict: "identical",
    values: 6,
    rows: { old: 2, new: 2 },
    differences: [],
    largestRelativeDifference: 0,
  });
});

test("a last digit is no difference that anybody sees, and is counted", () => {
  const { verdict, differences } = compared([{ ...first, estimate: 0.3 }, second]);
  expect(verdict).toBe("the same to nine digits");
  expect(differences).toEqual([{ row: 1, name: "estimate", old: 0.1 + 0.2, new: 0.3 }]);
});

test("rounding near zero is measured against the size of the quantity", () => {
  expect(compared([first, { ...second, estimate: -1e-17 }]).verdict).toBe(
    "the same to nine digits",
  );
});

test("a difference in the eighth digit is one", () => {
  // 3e-8 in 0.3 is a tenth of a millionth of it
  const { verdict, largestRelativeDifference } = compared([
    { ...first, estimate: 0.3 + 3e-8 },
    second,
  ]);
  expect(verdict).toBe("different");
  expect(largestRelativeDifference).toBeCloseTo(1e-7, 12);
});

test("names, gaps, lost rows and new columns are differences, each old beside new", () => {
  expect(compared([{ ...first, study: "Ashdown 2018" }, second]).differences).toEqual([
    { row: 1, name: "study", old: "Ashdown 2019", new: "Ashdown 2018" },
  ]);
  expect(compared([first, { ...second, low: 0 }]).differences).toEqual([
    { row: 2, name: "low", old: null, new: 0 },
  ]);
  const lost = compared([first]);
  expect(lost.rows).toEqual({ old: 2, new: 1 });
  expect(lost.differences.map(({ row, new: is }) => [row, is])).toEqual([
    [2, undefined],
    [2, undefined],
    [2, undefined],
  ]);
  expect(compared([first, { ...second, high: 1 }]).differences).toEqual([
    { row: 2, name: "high", old: undefined, new: 1 },
  ]);
});
