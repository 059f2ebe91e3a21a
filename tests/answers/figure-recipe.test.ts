/** A recipe as a file: what goes in comes out, and what is no recipe is refused in one sentence. */
import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { ask } from "../../src/answers/ask.js";
import {
  figureOfRecipe,
  figureRecipe,
  readRecipe,
  recipeText,
} from "../../src/answers/figure-recipe.js";
import { recipeComparison } from "../../src/answers/recipe-comparison.js";
import { drawnFigures } from "../../src/figures/figure-list.js";
import { firstWave, shippedEvidence } from "./evidence-under-test.js";

const file = shippedEvidence(firstWave);
const answer = await ask("pool", { outcome: "strength", where: "weeks>=4" }, file);
const [figure] = answer.figures;
const recipe = figureRecipe(answer, figure!);

test("a recipe holds the question with every option, the file's fingerprint, the headline and all that is drawn", async () => {
  expect(recipe.question).toMatchObject({
    id: "pool",
    options: { outcome: "strength", where: "weeks>=4", confidence: 0.95, seed: 1 },
  });
  expect(recipe.file).toEqual(file.source);
  expect(recipe.headline).toBe(answer.headline);
  // The words around the drawing are not what is drawn, and are not compared.
  const { sentence, source, ...drawn } = figure!.data;
  expect(recipe.figure).toEqual({ name: figure!.name, data: drawn });
  expect([sentence, source].every((one) => typeof one === "string")).toBe(true);
  const { recipe: _version, ...rest } = JSON.parse(recipeText(recipe)) as Record<string, unknown>;
  const { recipe: _same, ...read } = (await readRecipe(recipeText(recipe))) as object as Record<
    string,
    unknown
  >;
  expect(read).toEqual(rest);
});

// identity: writing and reading lose nothing, whatever is drawn
test("a recipe read back draws what was written, to the last bit of every number", async () => {
  const cell = fc.oneof(
    fc.double({ noNaN: true, noDefaultInfinity: true }).map((value) => (value === 0 ? 0 : value)),
    fc.string().filter((text) => !text.includes("\0")),
    fc.constant(null),
  );
  await fc.assert(
    fc.asyncProperty(
      fc.array(fc.dictionary(fc.stringMatching(/^[a-z]{1,8}$/), cell)),
      async (rows) => {
        const drawn = { id: "x", rows };
        const written = { ...recipe, figure: { name: "estimates", data: drawn } };
        const again = await readRecipe(recipeText(written));
        expect(again.figure.data).toEqual(drawn);
        expect(recipeComparison(again.figure.data, drawn).verdict).toBe("the same");
      },
    ),
    { numRuns: 60 },
  );
});

describe("recipes of the first form", () => {
  const old = (change: object = {}): string =>
    JSON.stringify({
      recipe: 1,
      holdbook: "0.1.0",
      figure: { id: figure!.data.id, title: "Estimates" },
      data: { name: "published-outcomes.csv", fingerprint: "a".repeat(64) },
      command: [
        "report",
        { input: "data" },
        "--where",
        "weeks>=4",
        "--scale",
        "log-ratio-of-means",
      ],
      numbers: drawnFigures(figure!).flatMap(({ data }) => data),
      ...change,
    });

  test("a figure of the report becomes the question that draws it now, and its numbers are compared", async () => {
    const read = await readRecipe(old());
    expect(read.question).toEqual({
      id: "pool",
      options: {
        outcome: "strength",
        contrast: "change-within-arm",
        where: "weeks>=4",
        scale: "log-ratio-of-means",
      },
    });
    const again = figureOfRecipe(read, await ask("pool", read.question.options, file));
    expect(recipeComparison(read.figure.data, again?.drawn).differences).toEqual([]);
  });

  test("of a session: operands and options keep their names", async () => {
    const words = ["hold", "4 x 20 s at 70%, rest 60 s", "--joint", "knee"];
    const read = await readRecipe(
      old({ command: words, data: null, figure: { id: "hold-strip", title: "" } }),
    );
    expect(read.question).toEqual({
      id: "hold",
      options: { protocol: "4 x 20 s at 70%, rest 60 s", joint: "knee" },
    });
    expect(read.file).toBeNull();
  });

  test.each([
    ["dose-size-hold-seconds", { id: "dose", options: { outcome: "size", on: "hold-seconds" } }],
    ["joint-angle-strength", { id: "joint-angle", options: { outcome: "strength" } }],
    ["time-course-tendon", { id: "time", options: { outcome: "tendon" } }],
    ["equal-tension-hold-length-size", { id: "equal-tension", options: { outcome: "size" } }],
  ])("the report's %s too", async (id, question) => {
    const read = await readRecipe(
      old({ figure: { id, title: "" }, command: ["report", { input: "data" }] }),
    );
    expect(read.question).toEqual(question);
  });

  test("questions that were asked through variables are their own now, without each other's options", async () => {
    const words = ["--question", "joint-angle", "--equal", "tension-time", "--confidence", "0.9"];
    const command = ["variables", { input: "data" }, ...words];
    const figure = { id: "joint-angle-strength", title: "" };
    expect((await readRecipe(old({ figure, command }))).question).toEqual({
      id: "joint-angle",
      options: { confidence: "0.9" },
    });
  });

  test.each([
    [
      old({ figure: { id: "frontier", title: "" } }),
      /the figure frontier, which no question draws/,
    ],
    [old({ command: ["pool", "--bayes"] }), /the option --bayes, which pool has no more/],
    [old({ command: ["notebook", "here"] }), /one of check, .*got "notebook"/],
    [old({ command: [] }), /"command"/],
    [old({ command: ["report", { input: "elsewhere" }] }), /"command\.1"/],
    [old({ numbers: [{ estimate: [1] }] }), /"numbers\.0\.estimate"/],
  ])("what no question asks any more is refused with the reason", async (text, reason) => {
    await expect(readRecipe(text)).rejects.toThrow(reason);
  });
});

const with_ = (change: object): string => JSON.stringify({ ...recipe, ...change });
const deep = (levels: number): string =>
  `{"recipe":2,"a":${"[".repeat(levels)}${"]".repeat(levels)}}`;

test.each([
  ["{", /text that is not JSON/],
  ["[1]", /"recipe" is absent/],
  ["null", /not an object/],
  ["{}", /"recipe" is absent/],
  [with_({ recipe: 3 }), /"recipe" is 3/],
  [with_({ holdbook: 1 }), /"holdbook"/],
  [with_({ figure: { name: "x", data: {} } }), /"figure\.data\.id"/],
  [with_({ file: { name: "a", fingerprint: "short", invented: false } }), /"file\.fingerprint"/],
  [with_({ question: { id: "pool" } }), /"question\.options"/],
  [with_({ more: "/etc/passwd" }), /unrecognized key/],
  [`${with_({})}\0`, /a NUL character/],
  [deep(100), /nested more than 40 deep/],
  [deep(200_000), /nested more than 40 deep/],
  [`{"recipe":2,"__proto__":{"holdbook":"1"}}`, /"/],
])("what is no recipe is refused in one sentence", async (text, reason) => {
  const failure = await readRecipe(text).then(
    () => undefined,
    (error: unknown) => error as Error,
  );
  expect(failure?.message).toMatch(reason);
  expect(failure?.message).not.toContain("\n");
});
