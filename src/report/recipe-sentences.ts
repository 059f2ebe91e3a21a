import { formatCount } from "../tables/number-format.js";
import type { Table } from "../tables/table.js";
import type { FigureRecipe, RecipeData } from "./figure-recipe.js";
import type { RecipeComparison, RecipeDifference } from "./recipe-comparison.js";
import { holdbookVersion } from "./version.js";

/** Differences listed; the rest are counted. */
const mostListed = 20;

const shortFingerprint = ({ name, fingerprint }: RecipeData): string =>
  `${name} (SHA-256 ${fingerprint.slice(0, 12)}…)`;

const fileSentences = (recipe: FigureRecipe, data: RecipeData | null): readonly string[] => {
  if (recipe.data === null || data === null) return [];
  return recipe.data.fingerprint === data.fingerprint
    ? []
    : [
        `Another file: the recipe was made from ${shortFingerprint(recipe.data)}, and this is ${shortFingerprint(data)}.`,
      ];
};

const verdictSentence = (recipe: FigureRecipe, comparison: RecipeComparison): string => {
  const { verdict, values, rows, differences } = comparison;
  const place = `figure ${recipe.figure.id}`;
  if (verdict === "identical")
    return `Identical: all ${formatCount(values)} plotted values of ${place} are those of the recipe.`;
  if (verdict === "the same to nine digits")
    return `The same to nine digits: ${formatCount(differences.length)} of ${formatCount(values)} plotted values of ${place} differ beyond the ninth digit, as they may between machines.`;
  const length =
    rows.old === rows.new
      ? ""
      : ` The recipe has ${formatCount(rows.old)} rows, and now there are ${formatCount(rows.new)}.`;
  return `Different: ${formatCount(differences.length)} of ${formatCount(values)} plotted values of ${place} are not those of the recipe.${length}`;
};

/** What came out of a comparison, as sentences: the file, the verdict, the version. */
export const recipeSentences = (
  recipe: FigureRecipe,
  data: RecipeData | null,
  comparison: RecipeComparison,
): readonly string[] => [
  ...fileSentences(recipe, data),
  verdictSentence(recipe, comparison),
  ...(recipe.holdbook === holdbookVersion
    ? []
    : [`The recipe was written by Holdbook ${recipe.holdbook}; this is ${holdbookVersion}.`]),
];

const shown = (value: RecipeDifference["old"]): string =>
  value === undefined ? "absent" : value === null ? "none" : String(value);

/** The values that differ, old beside new, all digits. */
export const recipeTable = ({ differences }: RecipeComparison): Table => ({
  id: "recipe-differences",
  title: "What differs",
  columns: [
    { key: "row", label: "Row plotted", align: "right" },
    { key: "name", label: "Value", align: "left" },
    { key: "old", label: "In the recipe", align: "right" },
    { key: "new", label: "Now", align: "right" },
  ],
  rows: differences.slice(0, mostListed).map((difference) => ({
    row: String(difference.row),
    name: difference.name,
    old: shown(difference.old),
    new: shown(difference.new),
  })),
  notes:
    differences.length > mostListed
      ? [
          `${formatCount(differences.length - mostListed)} more; --json lists them all, and figures/….csv has every number plotted`,
        ]
      : [],
});
