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
  const page = await apiPage();
  const about = (name: string) => page.split(`### ${name}\n`)[1]?.split("\n### ")[0] ?? "";
  // Parameters, errors and source as they stand above the function; units and defaults of its options.
  expect(about("openFile")).toContain("- Refuses (`DataError`) where the file cannot be read");
  expect(about("canBeHeld")).toContain("- Source: Frey Law & Avin (2010)");
  expect(about("canBeHeld")).toMatch(/- `spread\?`: `number` – Half-width .* Default: `0\.\d+`\./);
  expect(about("jointAngle")).toContain("Distances (degrees)");
  await expect(page).toMatchFileSnapshot("../../shared/api.md");
}, 300_000);
