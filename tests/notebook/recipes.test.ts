/** Twenty recipes of at most six lines: each runs, says what the page says, and draws the picture on it. */
import { beforeAll, expect, test } from "vitest";
import { pictureWords } from "../../src/answers/answer-card.js";
import { pictureName, recipesPage, runRecipes, type Recipe } from "./recipes.js";

let done: readonly Recipe[] = [];
beforeAll(async () => {
  done = await runRecipes();
}, 300_000);

test("there are twenty, of at most six lines of a hundred letters, each with a picture under its title", () => {
  expect(done.map(({ number }) => number)).toEqual(Array.from({ length: 20 }, (_, at) => at + 1));
  for (const { title, code, pictures } of done) {
    const lines = code.split("\n");
    expect(lines.length, title).toBeLessThanOrEqual(6);
    expect(Math.max(...lines.map(({ length }) => length)), title).toBeLessThanOrEqual(105);
    const [own = ""] = /(?<=title: "|own, ")[^"]+(?=" ?[,}]|"\);$)/.exec(code) ?? [];
    expect(pictureWords(pictures[0] ?? ""), title).toContain(own.replaceAll(" ", ""));
  }
});

test("what they say is on the page (npm run recipes writes it)", async () => {
  await expect(recipesPage(done)).toMatchFileSnapshot("../../shared/recipes.md");
});

test("what they draw is on the page", async () => {
  for (const recipe of done)
    await expect(recipe.pictures[0]).toMatchFileSnapshot(
      `../../shared/pictures/${pictureName(recipe)}`,
    );
});
