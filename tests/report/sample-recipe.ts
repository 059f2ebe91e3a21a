import type { Figure } from "../../src/figures/figure.js";
import { figureRecipe, type FigureRecipe } from "../../src/report/figure-recipe.js";

/** A small figure with the numbers a test gives it. */
export const figureOf = (data: Figure["data"]): Figure => ({
  id: "two-arms",
  title: "Two arms",
  caption: "",
  description: "",
  specification: { mark: "point", data: { values: [] } },
  data,
});

export const sampleData = [
  { study: "Ashdown 2019", estimate: 0.1 + 0.2, low: 0.1 },
  { study: "Brook 2020", estimate: 1e-17, low: null },
] as const;

export const sampleFile = { name: "mine.csv", fingerprint: "a".repeat(64) };

/** The recipe of that figure. */
export const sampleRecipe = (): FigureRecipe =>
  figureRecipe(figureOf(sampleData), {
    command: ["report", { input: "data" }, "--where", "weeks>=8"],
    data: sampleFile,
  });
