import { basename } from "node:path";
import { answerCard, cardOfRecipe, pictureWords, recipeInCard } from "../answers/answer-card.js";
import { ask, questionIdOf } from "../answers/ask.js";
import type { Evidence } from "../answers/evidence.js";
import { figureOfRecipe, readRecipe, type ReadRecipe } from "../answers/figure-recipe.js";
import {
  isSameHeadline,
  recipeComparison,
  recipeSentences,
  recipeTable,
} from "../answers/recipe-comparison.js";
import { isAskedOnce } from "../answers/option.js";
import { questionList } from "../answers/question-list.js";
import type { Answer } from "../answers/answer.js";
import { holdbookVersion } from "../answers/version.js";
import { CallError } from "../errors.js";
import { drawnCard } from "../figures/figure-list.js";
import { unframed } from "../figures/frame.js";
import { drawSvg } from "../host/draw-figure.js";
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

/** How a recipe comes to a command: in a file of its own, or inside a card. */
type Way = Readonly<{
  name: "reproduce" | "verify";
  description: string;
  argument: readonly [string, string];
  file: string;
  /** What is missing where there is a file too many or too few. */
  thing: (recipe: ReadRecipe) => string;
}>;

const ways: Readonly<Record<"recipe" | "card", Way>> = {
  recipe: {
    name: "reproduce",
    description: "make a figure again from its recipe, and say whether its numbers are the same",
    argument: ["<recipe>", "figures/….recipe.json, written beside every figure"],
    file: "the file the figure was made from",
    thing: ({ figure }) => `figure ${figure.data.id}`,
  },
  card: {
    name: "verify",
    description:
      "ask the question of an answer card again, and say whether its numbers are the same",
    argument: ["<card>", "an answer card (.svg), as --card or the page saved it"],
    file: "the file the answer was made from",
    thing: () => "card",
  },
};

/** The file that a recipe is followed on: the one that was typed, and no other. */
const evidenceFor = async (
  recipe: ReadRecipe,
  way: Way,
  path: string | undefined,
  typed: TypedFiles,
  terminal: Terminal,
): Promise<Evidence | undefined> => {
  const { file } = recipe;
  if (file !== null && path !== undefined) return openTyped(path, typed, terminal);
  if (file === null && path === undefined) return undefined;
  throw new CallError({
    code: "no-file",
    where: `holdbook ${way.name}`,
    needs:
      file === null
        ? `no file, as the ${way.thing(recipe)} rests on none`
        : `the file ${file.name} after the ${way === ways.card ? "card" : "recipe"}`,
    got: path === undefined ? "no file" : basename(path),
  });
};

/** Whether a card's picture says what its recipe holds; another version may lay it out otherwise. */
const isPictureOf = async (svg: string, recipe: ReadRecipe): Promise<boolean> => {
  if (recipe.holdbook !== holdbookVersion)
    return pictureWords(svg, { seen: true }).includes((recipe.headline ?? "").replace(/\s/g, ""));
  try {
    return pictureWords(await drawSvg(drawnCard(await cardOfRecipe(recipe)))) === pictureWords(svg);
  } catch {
    // A recipe that no longer draws was changed by hand.
    return false;
  }
};

const changedPicture =
  "The picture does not say what the card holds inside: it was changed after it was made.";

type Options = TypedPlace & TypedFiles & Readonly<{ json?: true }>;

/** Asks the question of a recipe again and says whether what it shows is the same. */
const follow = async (
  way: Way,
  [recipePath, path]: readonly [string, string | undefined],
  options: Options,
  terminal: Terminal,
  finish: (exitCode: number) => void,
): Promise<void> => {
  const { output } = options;
  const place =
    output === undefined
      ? {}
      : {
          ...placeOptions("figure", recipePath, output, options),
          reads: [recipePath, ...(path === undefined ? [] : [path])],
        };
  if (output !== undefined) await checkFolder(output, place);
  const isCard = way === ways.card;
  const text = new TextDecoder().decode(await readBytes(recipePath));
  const recipe = await readRecipe(isCard ? recipeInCard(text) : text);
  if (isCard !== (recipe.figure.name === "card"))
    throw new CallError({
      code: "not-a-recipe",
      where: `holdbook ${way.name}`,
      needs: isCard ? "an answer card" : "a figure's recipe",
      got: isCard ? "a figure's recipe" : "that of an answer card",
      try: `holdbook ${isCard ? "reproduce" : "verify"} follows it`,
    });
  const { id, options: asked } = recipe.question;
  const { options: shape } = await questionList[questionIdOf(id)].load();
  if (isAskedOnce(shape))
    throw new CallError({
      code: "not-a-recipe",
      where: `holdbook ${way.name}`,
      needs: `a ${isCard ? "card" : "recipe"} whose question can be asked again`,
      got: `one of holdbook ${id}, which keeps nowhere what was told of the person`,
      try: `ask holdbook ${id} of the same log, and compare the two answers`,
    });
  const evidence = await evidenceFor(recipe, way, path, options, terminal);
  const answer = (await ask(
    questionIdOf(id),
    asked,
    evidence,
    terminal.progress,
  )) as unknown as Answer;
  const again = isCard ? undefined : figureOfRecipe(recipe, answer);
  if (!isCard && again === undefined)
    throw new CallError({
      code: "figure-not-made",
      where: `holdbook ${way.name}`,
      needs: `a file on which holdbook ${id} draws the figure ${recipe.figure.data.id}`,
      got: `one on which it says: ${answer.headline}`,
    });
  const { headline } = answer;
  const { file } = answer.data;
  const drawn = again?.drawn ?? unframed((await answerCard(answer)).data);
  const comparison = recipeComparison(recipe.figure.data, drawn, { words: !isCard });
  const sayings = isCard && !(await isPictureOf(text, recipe)) ? [changedPicture] : [];
  const same = comparison.verdict === "the same" && isSameHeadline(recipe, headline);
  finish(same && sayings.length === 0 ? 0 : 1);
  if (output !== undefined && again !== undefined)
    await writeFolder(
      output,
      (draft) => putAnswerFigures(draft, { ...answer, figures: [again.named] }, terminal, options),
      place,
    );
  if (options.json === true) {
    terminal.out(
      jsonText({
        figure: { name: recipe.figure.name, id: recipe.figure.data.id },
        question: recipe.question,
        headline: { old: recipe.headline, new: headline },
        sameFile: recipe.file?.fingerprint === file?.fingerprint,
        ...(isCard ? { samePicture: sayings.length === 0 } : {}),
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
  sayings.push(...recipeSentences(recipe, { headline, drawn, file }, comparison));
  terminal.out(
    [
      ...sayings.map((sentence) => wrapToWidth(sentence, width).join("\n")),
      ...(comparison.differences.length === 0
        ? []
        : [tableToText(recipeTable(comparison), { width }).trimEnd()]),
    ].join("\n\n"),
  );
};

const commandFor =
  (way: Way): CommandRegistration =>
  (program, terminal, finish) => {
    const { name, description, argument, file } = way;
    const command = withFiles(
      program
        .command(name)
        .description(description)
        .argument(...argument)
        .argument("[file]", file)
        .option("--json", "print one JSON object, with every difference"),
    );
    (way === ways.card
      ? command
      : withSize(withOutput(command, "also draw the figure as it comes out now"))
    ).action((recipe: string, path: string | undefined, options: Options) =>
      follow(way, [recipe, path], options, terminal, finish),
    );
  };

/** `holdbook reproduce RECIPE FILE`: asks a figure's question again and says whether the figure is the same. */
export const reproduceCommand = commandFor(ways.recipe);

/** `holdbook verify CARD FILE`: the same for the answer on a card. */
export const verifyCommand = commandFor(ways.card);
