import { mkdtemp, rm, writeFile } from "node:fs/promises";
import { tmpdir } from "node:os";
import { basename, join } from "node:path";
import { CallError } from "../errors.js";
import type { Figure } from "../figures/figure.js";
import { readBytes } from "../host/read-bytes.js";
import { writeWhole } from "../host/write-whole.js";
import { readRecipe, type FigureRecipe, type RecipeData } from "../report/figure-recipe.js";
import { recipeComparison } from "../report/recipe-comparison.js";
import { recipeSentences, recipeTable } from "../report/recipe-sentences.js";
import { holdbookVersion } from "../report/version.js";
import { wrapToWidth } from "../tables/display-width.js";
import { tableToText } from "../tables/table-to-text.js";
import type { CommandRegistration, RunWords } from "./commands.js";
import { figureFiles } from "./figure-files.js";
import { jsonText } from "./json-text.js";
import { fingerprintOf } from "./read-input.js";
import type { Terminal } from "./terminal.js";

/** The commands that draw figures. A recipe may come from a stranger, and asks for none but these. */
const drawingCommands: readonly unknown[] = [
  "start",
  "report",
  "dose",
  "variables",
  "project",
  "compare",
  "explore",
  "hold",
  "ramp",
];

const refusedRecipe = (needs: string, got: string): CallError =>
  new CallError({ code: "recipe-not-followed", where: "holdbook reproduce", needs, got });

const checkWords = ({ command }: FigureRecipe): void => {
  if (!drawingCommands.includes(command[0]))
    throw refusedRecipe("a recipe of a command that draws figures", JSON.stringify(command[0]));
  const output = command.find((word) => typeof word === "string" && /^(-o|--output)/.test(word));
  if (output !== undefined)
    throw refusedRecipe("a recipe that does not say where to write", JSON.stringify(output));
};

const mostNamed = 6;

const namesOf = (figures: readonly Figure[]): string =>
  figures.length === 0
    ? "none"
    : [
        ...figures.slice(0, mostNamed).map(({ id }) => id),
        ...(figures.length > mostNamed ? [`${figures.length - mostNamed} more`] : []),
      ].join(", ");

/** Runs the command of a recipe without drawing anything; the figure of the recipe's id. */
const figureAgain = async (
  recipe: FigureRecipe,
  path: string | undefined,
  terminal: Terminal,
  runWords: RunWords,
): Promise<Figure> => {
  checkWords(recipe);
  const folder = await mkdtemp(join(tmpdir(), "holdbook-"));
  try {
    const words: string[] = [];
    for (const [index, word] of recipe.command.entries()) {
      if (typeof word === "string") words.push(word);
      else if (word.input === "data") words.push(path ?? "");
      else {
        const file = join(folder, `${index}-${basename(word.name)}`);
        await writeFile(file, word.text);
        words.push(file);
      }
    }
    const figures: Figure[] = [];
    const complaints: string[] = [];
    const { progress, width, open } = terminal;
    await runWords([...words, "--output", join(folder, "output")], {
      out: () => undefined,
      err: (text) => complaints.push(text.trim()),
      progress,
      width,
      ...(open === undefined ? {} : { open }),
      takeFigures: (taken) => figures.push(...taken),
    });
    const figure = figures.find(({ id }) => id === recipe.figure.id);
    if (figure !== undefined) return figure;
    throw new CallError({
      code: "figure-not-made",
      where: "holdbook reproduce",
      needs: `a file on which holdbook ${String(recipe.command[0])} makes the figure ${recipe.figure.id}`,
      got:
        complaints.length > 0 ? complaints.join("\n") : `one on which it makes ${namesOf(figures)}`,
    });
  } finally {
    await rm(folder, { recursive: true, force: true });
  }
};

const dataOf = async (
  recipe: FigureRecipe,
  path: string | undefined,
): Promise<RecipeData | null> => {
  if (path === undefined) {
    if (recipe.data === null) return null;
    throw new CallError({
      code: "no-file",
      where: "holdbook reproduce",
      needs: `the file ${recipe.data.name} after the recipe`,
      got: "no file",
    });
  }
  if (recipe.data === null)
    throw refusedRecipe(`no file: the figure ${recipe.figure.id} rests on none`, basename(path));
  return { name: basename(path), fingerprint: fingerprintOf(await readBytes(path)) };
};

type Options = Readonly<{ json?: true; output?: string }>;

/** `holdbook reproduce RECIPE FILE`: makes a figure again and says whether it is the same. */
export const reproduceCommand: CommandRegistration = (program, terminal, finish, runWords) => {
  program
    .command("reproduce")
    .description("make a figure again from its recipe, and say whether its numbers are the same")
    .argument("<recipe>", "figures/….recipe.json, written beside every figure")
    .argument("[file]", "the table the figure was made from")
    .option("--json", "print one JSON object, with every difference")
    .option("-o, --output <directory>", "also draw the figure as it comes out now")
    .action(async (recipePath: string, path: string | undefined, options: Options) => {
      const recipe = readRecipe(new TextDecoder().decode(await readBytes(recipePath)));
      const data = await dataOf(recipe, path);
      if (data?.fingerprint !== recipe.data?.fingerprint)
        terminal.progress("another file than the recipe's");
      const figure = await figureAgain(recipe, path, terminal, runWords);
      const comparison = recipeComparison(recipe, figure);
      const sameFile = recipe.data?.fingerprint === data?.fingerprint;
      finish(comparison.verdict === "different" || !sameFile ? 1 : 0);
      if (options.output !== undefined)
        await writeWhole(
          options.output,
          await figureFiles([figure], {
            ...terminal,
            job: () => Promise.resolve({ command: recipe.command, data }),
          }),
        );
      if (options.json === true) {
        terminal.out(
          jsonText({
            figure: recipe.figure,
            sameFile,
            recipeFile: recipe.data,
            file: data,
            recipeVersion: recipe.holdbook,
            version: holdbookVersion,
            ...comparison,
          }),
        );
        return;
      }
      const { width } = terminal;
      terminal.out(
        [
          ...recipeSentences(recipe, data, comparison).map((sentence) =>
            wrapToWidth(sentence, width).join("\n"),
          ),
          ...(comparison.differences.length === 0 || comparison.verdict !== "different"
            ? []
            : [tableToText(recipeTable(comparison), { width }).trimEnd()]),
        ].join("\n\n"),
      );
    });
};
