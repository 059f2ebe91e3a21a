/** shared/api.md says of every public name what its docstring says today. */
import { expect, test } from "vitest";
import { apiPage, modules } from "./api-page.js";
import { exportedNames } from "./public-surface.js";
import { readProject } from "./source-tree.js";

// Read by the compiler alone, without the generator.
const names = exportedNames(Object.values(modules));

test("no public name lacks a docstring, and every one has a place on the page", () => {
  expect(names.length).toBeGreaterThan(150);
  expect(names.filter(({ summary }) => summary.trim().length < 10).map(({ name }) => name)).toEqual(
    [],
  );
  const headings = [...readProject("shared/api.md").matchAll(/^### (\w+)$/gm)].map(
    ([, name]) => name,
  );
  expect(headings.toSorted()).toEqual(names.map(({ name }) => name).toSorted());
});

test("the page is made from the docstrings of today (npm run api writes it)", async () => {
  await expect(await apiPage()).toMatchFileSnapshot("../../shared/api.md");
}, 300_000);
