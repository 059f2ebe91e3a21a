import { basename } from "node:path";
import { ask, questionIdOf } from "../answers/ask.js";
import type { Evidence } from "../answers/evidence.js";
import { figureOfRecipe, readRecipe, type ReadRecipe } from "../answers/figure-recipe.js";
import { recipeComparison, recipeSentences, recipeTable } from "../answers/recipe-comparison.js";
import type { Answer } from "../answers/answer.js";
import { holdbookVersion } from "../answers/version.js";
import { CallError } from "../errors.js";
import { readBytes } from "../host/read-bytes.js";
import { checkFolder, writeFolder } from "../host/write-whole.js";
import { wrapToWidth } from "../tables/display-width.js";
import { tableToText } from "../tables/table-to-text.js";
import { putAnswerFigures } from "./figure-files.js";
import { jsonText } from "./json-text.js";
import { placeOptions, withOutput, withSize, type TypedPlace } from "./output-place.js";
import { withFiles, type TypedFiles } from "./typed-files.js";
import { openTyped } from "./read-input.js";
import type { CommandRegistration, Terminal } from "./terminal.js";

/** The file that a recipe is followed on: the one that was typed, and no other. */
const evidenceFor = async (
  { file, figure }: ReadRecipe,
  path: string | undefined,
  typed: TypedFiles,
  terminal: Terminal,
): Promise<Evidence | undefined> => {
  if (file !== null && path !== undefined) return openTyped(path, typed, terminal);
  if (file === null && path === undefined) return undefined;
  throw new CallError({
    code: "no-file",
    where: "holdbook reproduce",
    needs:
      file === null
        ? `no file, as the figure ${figure.data.id} rests on none`
        : `the file ${file.name} after the recipe`,
    got: path === undefined ? "no file" : basename(path),
  });
};

type Options = TypedPlace & TypedFiles & Readonly<{ json?: true }>;

/** `holdbook reproduce RECIPE FILE`: asks a figure's question again and says whether the figure is the same. */
export const reproduceCommand: CommandRegistration = (program, terminal, finish) => {
  const command = program
    .command("reproduce")
    .description("make a figure again from its recipe, and say whether its numbers are the same")
    .argument("<recipe>", "figures/….recipe.json, written beside every figure")
    .argument("[file]", "the file the figure was made from")
    .option("--json", "print one JSON object, with every difference");
  withSize(withOutput(withFiles(command), "also draw the figure as it comes out now")).action(
    async (recipePath: string, path: string | undefined, options: Options) => {
      const { output } = options;
      const place =
        output === undefined
          ? {}
          : {
              ...placeOptions("figure", recipePath, output, options),
              reads: [recipePath, ...(path === undefined ? [] : [path])],
            };
      if (output !== undefined) await checkFolder(output, place);
      const recipe = await readRecipe(new TextDecoder().decode(await readBytes(recipePath)));
      const evidence = await evidenceFor(recipe, path, options, terminal);
      const { id, options: asked } = recipe.question;
      const answer = (await ask(
        questionIdOf(id),
        asked,
        evidence,
        terminal.progress,
      )) as unknown as Answer;
      const again = figureOfRecipe(recipe, answer);
      if (again === undefined)
        throw new CallError({
          code: "figure-not-made",
          where: "holdbook reproduce",
          needs: `a file on which holdbook ${id} draws the figure ${recipe.figure.data.id}`,
          got: `one on which it says: ${answer.headline}`,
        });
      const { headline } = answer;
      const { file } = answer.data;
      const comparison = recipeComparison(recipe.figure.data, again.drawn);
      const changed = recipe.headline !== null && recipe.headline !== headline;
      finish(comparison.verdict === "different" || changed ? 1 : 0);
      if (output !== undefined)
        await writeFolder(
          output,
          (draft) =>
            putAnswerFigures(draft, { ...answer, figures: [again.named] }, terminal, options),
          place,
        );
      if (options.json === true) {
        terminal.out(
          jsonText({
            figure: { name: again.named.name, id: recipe.figure.data.id },
            question: recipe.question,
            headline: { old: recipe.headline, new: headline },
            sameFile: recipe.file?.fingerprint === file?.fingerprint,
            recipeFile: recipe.file,
            file,
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
          ...recipeSentences(recipe, { headline, drawn: again.drawn, file }, comparison).map(
            (sentence) => wrapToWidth(sentence, width).join("\n"),
          ),
          ...(comparison.differences.length === 0
            ? []
            : [tableToText(recipeTable(comparison), { width }).trimEnd()]),
        ].join("\n\n"),
      );
    },
  );
};
