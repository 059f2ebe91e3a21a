/** A recipe as a file: what goes in comes out, and what is no recipe is refused in words. */
import fc from "fast-check";
import { expect, test } from "vitest";
import { readRecipe, recipeText } from "../../src/report/figure-recipe.js";
import { recipeComparison } from "../../src/report/recipe-comparison.js";
import { figureOf, sampleRecipe } from "./sample-recipe.js";

// identity: writing and reading lose nothing, whatever the numbers
test("a recipe read back is the recipe that was written, to the last bit of every number", () => {
  const cell = fc.oneof(
    fc.double({ noNaN: true, noDefaultInfinity: true }).map((value) => (value === 0 ? 0 : value)),
    fc.string(),
    fc.constant(null),
  );
  fc.assert(
    fc.property(fc.array(fc.dictionary(fc.stringMatching(/^[a-z]{1,8}$/), cell)), (numbers) => {
      const recipe = { ...sampleRecipe(), numbers };
      const again = readRecipe(recipeText(recipe));
      expect(again).toEqual(recipe);
      expect(recipeComparison(again, figureOf(numbers)).verdict).toBe("identical");
    }),
    { numRuns: 60 },
  );
});

test("a recipe holds fingerprint, settings, version and numbers", () => {
  const recipe = sampleRecipe();
  expect(recipe.data?.fingerprint).toMatch(/^a{64}$/);
  expect(recipe.command).toEqual(["report", { input: "data" }, "--where", "weeks>=8"]);
  expect(recipe.holdbook).toMatch(/^\d+\.\d+\.\d+$/);
  expect(recipe.numbers).toHaveLength(2);
});

const with_ = (change: object): string => JSON.stringify({ ...sampleRecipe(), ...change });

test.each([
  ["{", /text that is not JSON/],
  ["[1]", /not an object/],
  ["{}", /"recipe" is absent/],
  [with_({ recipe: 2 }), /"recipe" is 2/],
  [with_({ holdbook: 1 }), /no version/],
  [with_({ figure: { id: "x" } }), /no id and title/],
  [with_({ data: { name: "a", fingerprint: "short" } }), /no name and fingerprint/],
  [with_({ command: [] }), /no words/],
  [with_({ command: ["report", { input: "elsewhere" }] }), /no words/],
  [with_({ numbers: [{ estimate: [1] }] }), /no rows of numbers/],
])("what is no recipe is refused, saying why: %s", (text, reason) => {
  expect(() => readRecipe(text)).toThrow(reason);
});
