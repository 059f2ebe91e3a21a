import type { Figure } from "../figures/figure.js";
import type { FigureRecipe } from "./figure-recipe.js";

/** One plotted value that is not what the recipe has; undefined where there is none. */
export type RecipeDifference = Readonly<{
  /** Row of the plotted numbers, from 1. */
  row: number;
  name: string;
  old: string | number | null | undefined;
  new: string | number | null | undefined;
}>;

/** How a figure made again compares with its recipe. */
export type RecipeComparison = Readonly<{
  verdict: "identical" | "the same to nine digits" | "different";
  /** Values compared: every cell of the plotted rows. */
  values: number;
  rows: Readonly<{ old: number; new: number }>;
  /** Every difference; those below the ninth digit too. */
  differences: readonly RecipeDifference[];
  /** Largest difference of two numbers relative to their size; 0 when all are the same. */
  largestRelativeDifference: number;
}>;

/** Machines may differ in the last digit of a logarithm; nobody can see the ninth on a figure. */
const sameDigits = 1e-9;

/** Below this share of the largest value of its kind a number is measured against that share. */
const smallShare = 1e-6;

type Cell = string | number | null | undefined;

/** Largest absolute number of each plotted quantity, so that a rounding error near zero stays one. */
const sizes = (data: Figure["data"]): ReadonlyMap<string, number> => {
  const largest = new Map<string, number>();
  for (const row of data)
    for (const [name, value] of Object.entries(row))
      if (typeof value === "number")
        largest.set(name, Math.max(largest.get(name) ?? 0, Math.abs(value)));
  return largest;
};

const relativeDifference = (old: Cell, fresh: Cell, size: number): number =>
  typeof old === "number" && typeof fresh === "number"
    ? Math.abs(old - fresh) / Math.max(Math.abs(old), Math.abs(fresh), smallShare * size)
    : Infinity;

/**
 * The numbers of a figure made again beside those of its recipe: identical, or what differs.
 *
 * Rows are compared in their order. Numbers that agree to nine significant digits are told apart from real
 * differences, because two machines may round the last digit of a logarithm differently.
 *
 * @param recipe from `readRecipe`
 * @param figure the figure of the same id, made again
 */
export const recipeComparison = (recipe: FigureRecipe, figure: Figure): RecipeComparison => {
  const old = recipe.numbers;
  const fresh = figure.data;
  const size = sizes(old);
  const differences: RecipeDifference[] = [];
  let largest = 0;
  let values = 0;
  for (let index = 0; index < Math.max(old.length, fresh.length); index += 1) {
    const before = old[index] ?? {};
    const after = fresh[index] ?? {};
    for (const name of new Set([...Object.keys(before), ...Object.keys(after)])) {
      values += 1;
      const was: Cell = before[name];
      const is: Cell = after[name];
      if (was === is || (was === 0 && is === 0)) continue;
      differences.push({ row: index + 1, name, old: was, new: is });
      largest = Math.max(largest, relativeDifference(was, is, size.get(name) ?? 0));
    }
  }
  return {
    verdict:
      differences.length === 0
        ? "identical"
        : largest <= sameDigits
          ? "the same to nine digits"
          : "different",
    values,
    rows: { old: old.length, new: fresh.length },
    differences,
    largestRelativeDifference: largest,
  };
};
