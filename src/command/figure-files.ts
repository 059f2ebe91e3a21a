import type { Answer } from "../answers/answer.js";
import { figureRecipe, recipeText } from "../answers/figure-recipe.js";
import { answerCard, cardMark, cardWithRecipe } from "../answers/answer-card.js";
import { drawnCard, figuresAt } from "../figures/figure-list.js";
import type { Figure } from "../figures/figure.js";
import { figureSizeDefault, type FigureSize } from "../figures/frame.js";
import { drawToFiles, type DrawingJob } from "../host/draw-to-files.js";
import { drawSvg } from "../host/draw-figure.js";
import { writeFileWhole, type Draft } from "../host/write-whole.js";
import { figureTextFiles } from "../report/report-files.js";
import type { Terminal } from "./terminal.js";

/**
 * Draws figures into a directory in the making, of each SVG, PNG, specification and numbers.
 *
 * One that cannot be drawn is told and costs the others nothing.
 *
 * @returns where the drawings stand, by the figures' ids
 */
export const putFigures = async (
  draft: Draft,
  figures: Iterable<Figure>,
  terminal: Pick<Terminal, "progress" | "err" | "draw">,
): Promise<ReadonlyMap<string, string>> =>
  drawFiles(
    draft,
    (function* () {
      for (const figure of figures) yield { figure, name: `figures/${figure.id}` };
    })(),
    terminal,
  );

/** The same for figures that have names of their own, without ending. */
export const drawFiles = async (
  { place, put }: Draft,
  figures: Iterable<Readonly<{ figure: Figure; name: string }>>,
  { progress, err, draw }: Pick<Terminal, "progress" | "err" | "draw">,
): Promise<ReadonlyMap<string, string>> => {
  const drawings = new Map<string, string>();
  let begun = 0;
  const jobs = async function* (): AsyncGenerator<DrawingJob> {
    for (const { figure, name } of figures) {
      progress(`drawing figure ${(begun += 1)}`);
      if (name.startsWith("figures/"))
        for (const file of figureTextFiles(figure)) await put(file.name, file.content);
      yield { figure, svg: await place(`${name}.svg`), png: await place(`${name}.png`) };
    }
  };
  await drawToFiles(
    jobs(),
    ({ figure: { id }, svg }, problem) => {
      if (problem === undefined) drawings.set(id, svg);
      else err(`The figure ${id} could not be drawn (${problem}); its numbers are in ${id}.csv.`);
    },
    { draw },
  );
  return drawings;
};

/** Puts the recipes of an answer's figures into a directory in the making. */
export const putRecipes = async ({ put }: Draft, answer: Answer): Promise<void> => {
  for (const figure of answer.figures)
    await put(`figures/${figure.data.id}.recipe.json`, recipeText(figureRecipe(answer, figure)));
};

/** Puts the figures of an answer into a directory in the making, each with its recipe. */
export const putAnswerFigures = async (
  draft: Draft,
  answer: Answer,
  terminal: Pick<Terminal, "progress" | "err" | "draw">,
  { size = figureSizeDefault, all }: Readonly<{ size?: FigureSize; all?: boolean }> = {},
): Promise<void> => {
  const figures = figuresAt(size, all === undefined ? {} : { all });
  await putFigures(draft, answer.figures.flatMap(figures), terminal);
  await putRecipes(draft, answer);
};

/** Writes an answer as a card; one that is there is replaced. */
export const writeCard = async (
  path: string,
  answer: Answer,
  { replace }: Readonly<{ replace?: boolean }>,
): Promise<void> => {
  const card = await answerCard(answer);
  const svg = cardWithRecipe(await drawSvg(drawnCard(card)), answer, card);
  await writeFileWhole(path, svg, {
    ...(replace === undefined ? {} : { replace }),
    ours: (text) => text.includes(cardMark),
  });
};
