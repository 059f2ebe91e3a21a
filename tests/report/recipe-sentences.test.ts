import { expect, test } from "vitest";
import { recipeComparison } from "../../src/report/recipe-comparison.js";
import { recipeSentences, recipeTable } from "../../src/report/recipe-sentences.js";
import { figureOf, sampleData, sampleFile, sampleRecipe } from "./sample-recipe.js";

const recipe = sampleRecipe();
const [first, second] = sampleData;

test("the same file and the same numbers are said in one sentence", () => {
  expect(
    recipeSentences(recipe, sampleFile, recipeComparison(recipe, figureOf(sampleData))),
  ).toEqual(["Identical: all 6 plotted values of figure two-arms are those of the recipe."]);
});

test("another file, another version and lost rows are each said", () => {
  const other = { name: "mine.csv", fingerprint: "b".repeat(64) };
  const sentences = recipeSentences(
    { ...recipe, holdbook: "0.0.1" },
    other,
    recipeComparison(recipe, figureOf([first])),
  );
  expect(sentences[0]).toMatch(/^Another file: .*aaaaaaaaaaaa….*bbbbbbbbbbbb…/);
  expect(sentences[1]).toMatch(/^Different: 3 of 6 .* The recipe has 2 rows, and now there are 1/);
  expect(sentences[2]).toMatch(/written by Holdbook 0\.0\.1/);
});

test("the table shows old beside new with all digits, and counts what it leaves out", () => {
  const table = recipeTable(
    recipeComparison(
      recipe,
      figureOf([
        { ...first, estimate: 0.3 },
        { ...second, low: 2 },
      ]),
    ),
  );
  expect(table.rows).toEqual([
    { row: "1", name: "estimate", old: "0.30000000000000004", new: "0.3" },
    { row: "2", name: "low", old: "none", new: "2" },
  ]);
  expect(table.notes).toEqual([]);
  const many = recipeTable(
    recipeComparison(recipe, figureOf(Array.from({ length: 30 }, () => ({ estimate: 7 })))),
  );
  expect(many.rows).toHaveLength(20);
  expect(many.notes[0]).toMatch(/^\d+ more/);
});
