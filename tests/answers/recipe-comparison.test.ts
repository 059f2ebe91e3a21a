/** Drawings made again beside a recipe's; every difference here was put in by hand. */
import { describe, expect, test } from "vitest";
import {
  recipeComparison,
  recipeSentences,
  recipeTable,
} from "../../src/answers/recipe-comparison.js";
import type { ReadRecipe } from "../../src/answers/figure-recipe.js";
import { holdbookVersion } from "../../src/answers/version.js";

const ashdown = { study: "Ashdown 2019", label: "long, knee", estimate: 0.1 + 0.2, low: 0.1 };
const brook = { study: "Brook 2020", label: "short, knee", estimate: 1e-17, low: null };
const drawn = {
  id: "estimates-strength",
  scale: "log-ratio-of-means",
  pooled: { estimate: Math.log(1.196), interval: { low: 0.1, high: 0.26 } },
  effects: [ashdown, brook],
};

describe("the same", () => {
  test("whatever the order of rows, the last digits, and rounding near zero", () => {
    const again = {
      ...drawn,
      effects: [
        { ...brook, estimate: -1e-17 },
        { ...ashdown, estimate: 0.3 },
      ],
    };
    // 2 of the figure, 3 of its average, 4 of each effect
    expect(recipeComparison(drawn, again)).toEqual({
      verdict: "the same",
      values: 13,
      differences: [],
    });
  });

  test("rows called alike are told apart by what they hold, in any order", () => {
    const rows = [
      { study: "A", low: 1 },
      { study: "A", low: 2 },
    ];
    expect(recipeComparison({ rows }, { rows: rows.toReversed() }).verdict).toBe("the same");
    expect(recipeComparison({ rows }, { rows: [rows[0], { study: "A", low: 3 }] })).toMatchObject({
      differences: [{ name: "rows, A (2), low", old: 2, new: 3 }],
    });
  });
});

describe("different", () => {
  const differences = (change: object) =>
    recipeComparison(drawn, { ...drawn, ...change }).differences;

  test("the eighth digit, named by what it belongs to", () => {
    // 3e-8 in 0.3 is a tenth of a millionth of it
    expect(differences({ effects: [{ ...ashdown, estimate: 0.3 + 3e-8 }, brook] })).toEqual([
      {
        name: "effects, Ashdown 2019 long, knee, estimate",
        old: 0.1 + 0.2,
        new: 0.3 + 3e-8,
      },
    ]);
  });

  test("gaps, lost rows and new values, each old beside new", () => {
    expect(differences({ effects: [ashdown, { ...brook, low: 0 }] })).toEqual([
      { name: "effects, Brook 2020 short, knee, low", old: null, new: 0 },
    ]);
    expect(differences({ effects: [ashdown] }).map(({ new: is }) => is)).toEqual(
      Array.from({ length: 4 }, () => undefined),
    );
    expect(differences({ range: 7 })).toEqual([{ name: "range", old: undefined, new: 7 }]);
  });
});

describe("in words", () => {
  const file = { name: "mine.csv", fingerprint: "a".repeat(64) };
  const headline =
    "Strength: 19.6% (95% interval 10.5 to 29.7%; 12 effects in 8 studies) on average.";
  const recipe: ReadRecipe = {
    holdbook: holdbookVersion,
    question: { id: "pool", options: {} },
    file,
    headline,
    figure: { name: "estimates", data: drawn },
  };
  const said = (fresh: object, now = headline, from = file) =>
    recipeSentences(
      recipe,
      { headline: now, drawn: { ...drawn, ...fresh }, file: from },
      recipeComparison(drawn, { ...drawn, ...fresh }),
    );

  test("the same numbers are one sentence, of whatever file", () => {
    const one = [
      `The same: all 13 values of figure estimates-strength are those of the recipe. ${headline}`,
    ];
    expect(said({})).toEqual(one);
    expect(said({}, headline, { name: "turned.csv", fingerprint: "b".repeat(64) })).toEqual(one);
  });

  test("the average leads, then the headline with what changed in it, then the file", () => {
    const pooled = { estimate: Math.log(1.213), interval: { low: 0.1, high: 0.28 } };
    const sentences = said(
      { pooled },
      "Strength: 21.3% (95% interval 10.5 to 32.3%; 12 effects in 7 studies) on average.",
      { name: "mine.csv", fingerprint: "b".repeat(64) },
    );
    expect(sentences).toEqual([
      "Different: average 19.6% → 21.3%.",
      "Strength: 19.6% → 21.3% (95% interval 10.5 to 29.7% → 32.3%; 12 effects in 8 → 7 studies) on average.",
      "2 of 13 values of figure estimates-strength are not those of the recipe.",
      `The file has changed: the recipe was made from mine.csv (SHA-256 ${"a".repeat(12)}…), and this is mine.csv (SHA-256 ${"b".repeat(12)}…).`,
    ]);
  });

  test("a headline of other words stands beside the old one; another version is said", () => {
    const sentences = recipeSentences(
      { ...recipe, holdbook: "0.0.1" },
      { headline: "Strength: no average.", drawn: { ...drawn, pooled: null }, file },
      recipeComparison(drawn, { ...drawn, pooled: null }),
    );
    expect(sentences[0]).toBe("Different: figure estimates-strength.");
    expect(sentences[1]).toBe(`It said: ${headline} Now: Strength: no average.`);
    expect(sentences.at(-1)).toBe(
      `The recipe was written by Holdbook 0.0.1; this is ${holdbookVersion}.`,
    );
  });

  test("the table shows old beside new with all digits, and counts what it leaves out", () => {
    const fresh = { ...drawn, effects: [ashdown, { ...brook, low: 2 }] };
    expect(recipeTable(recipeComparison(drawn, fresh)).rows).toEqual([
      { name: "effects, Brook 2020 short, knee, low", old: "none", new: "2" },
    ]);
    const many = recipeTable(
      recipeComparison({}, { rows: Array.from({ length: 30 }, (_, low) => ({ low })) }),
    );
    expect(many.rows).toHaveLength(20);
    expect(many.notes).toEqual(["10 more; --json lists them all"]);
  });
});
