import { CallError } from "../errors.js";
import type { Figure } from "../figures/figure.js";
import { holdbookVersion } from "./version.js";

/** One word of a command line, or a file it names: the data, or a small text kept in the recipe. */
export type RecipeWord =
  string | Readonly<{ input: "data" }> | Readonly<{ input: "text"; name: string; text: string }>;

/** Which bytes a figure rests on. */
export type RecipeData = Readonly<{
  name: string;
  /** SHA-256 of the file, hexadecimal. */
  fingerprint: string;
}>;

/** What was asked for when a figure was made: the command with every setting, and the data. */
export type FigureJob = Readonly<{
  command: readonly RecipeWord[];
  /** Null where a figure rests on no file, as that of a single session. */
  data: RecipeData | null;
}>;

/** Everything needed to make one figure again and to see whether it came out the same. */
export type FigureRecipe = FigureJob &
  Readonly<{
    /** Version of this form. */
    recipe: 1;
    /** Version of the program that made the figure. */
    holdbook: string;
    figure: Readonly<{ id: string; title: string }>;
    /** The numbers plotted, a row each. */
    numbers: Figure["data"];
  }>;

/**
 * The recipe of a figure: data fingerprint, settings, version, and the numbers plotted.
 *
 * @param figure a figure as it was drawn
 * @param job    what was asked for
 */
export const figureRecipe = (figure: Figure, job: FigureJob): FigureRecipe => ({
  recipe: 1,
  holdbook: holdbookVersion,
  figure: { id: figure.id, title: figure.title },
  data: job.data,
  command: job.command,
  numbers: figure.data,
});

/** The recipe as the text of a file. */
export const recipeText = (recipe: FigureRecipe): string => `${JSON.stringify(recipe, null, 1)}\n`;

type Fields = Readonly<Record<string, unknown>>;

const isFields = (value: unknown): value is Fields =>
  typeof value === "object" && value !== null && !Array.isArray(value);

const isWord = (word: unknown): word is RecipeWord =>
  typeof word === "string" ||
  (isFields(word) &&
    (word["input"] === "data" ||
      (word["input"] === "text" &&
        typeof word["name"] === "string" &&
        typeof word["text"] === "string")));

const isNumbers = (value: unknown): value is Figure["data"] =>
  Array.isArray(value) &&
  value.every(
    (row) =>
      isFields(row) &&
      Object.values(row).every(
        (cell) => cell === null || typeof cell === "string" || typeof cell === "number",
      ),
  );

const isData = (value: unknown): value is RecipeData | null =>
  value === null ||
  (isFields(value) &&
    typeof value["name"] === "string" &&
    typeof value["fingerprint"] === "string" &&
    /^[0-9a-f]{64}$/.test(value["fingerprint"]));

const refused = (got: string): CallError =>
  new CallError({
    code: "not-a-recipe",
    where: "readRecipe",
    needs: "a recipe that was written beside a figure (figures/….recipe.json)",
    got,
  });

/**
 * A recipe out of the text of its file.
 *
 * @param text what `recipeText` wrote
 * @throws {CallError} "not-a-recipe", naming the part that is missing or of another form
 */
export const readRecipe = (text: string): FigureRecipe => {
  let value: unknown;
  try {
    value = JSON.parse(text);
  } catch {
    throw refused("text that is not JSON");
  }
  if (!isFields(value)) throw refused("JSON that is not an object");
  const { recipe, holdbook, figure, data, command, numbers } = value;
  if (recipe !== 1)
    throw refused(`an object whose "recipe" is ${JSON.stringify(recipe) ?? "absent"}`);
  if (typeof holdbook !== "string") throw refused('no version in "holdbook"');
  if (!isFields(figure) || typeof figure["id"] !== "string" || typeof figure["title"] !== "string")
    throw refused('no id and title in "figure"');
  if (!isData(data)) throw refused('no name and fingerprint in "data"');
  if (!Array.isArray(command) || command.length === 0 || !command.every(isWord))
    throw refused('no words in "command"');
  if (!isNumbers(numbers)) throw refused('no rows of numbers in "numbers"');
  return {
    recipe,
    holdbook,
    figure: { id: figure["id"], title: figure["title"] },
    data,
    command,
    numbers,
  };
};
