import type { Answer } from "../answers/answer.js";
import { drawnFigures } from "../figures/figure-list.js";
import type { Figure } from "../figures/figure.js";
import { drawFigure } from "../host/draw-figure.js";
import type { WholeFile } from "../host/write-whole.js";
import { figureRecipe, recipeText } from "../report/figure-recipe.js";
import { figureTextFiles } from "../report/report-files.js";
import type { Terminal } from "./terminal.js";

/** Each figure as the files that are written of it: SVG, PNG, specification, numbers and recipe. */
export const figureFiles = async (
  figures: readonly Figure[],
  terminal: Terminal,
): Promise<readonly WholeFile[]> => {
  if (terminal.takeFigures !== undefined) {
    terminal.takeFigures(figures);
    return [];
  }
  const job = await terminal.job?.();
  const files: WholeFile[] = [];
  for (const [index, figure] of figures.entries()) {
    terminal.progress(`drawing figure ${index + 1} of ${figures.length}`);
    const { id } = figure;
    const { svg, png } = await (terminal.draw ?? drawFigure)(figure);
    files.push(
      { name: `figures/${id}.svg`, content: svg },
      { name: `figures/${id}.png`, content: png },
      ...figureTextFiles(figure),
      ...(job === undefined
        ? []
        : [
            {
              name: `figures/${id}.recipe.json`,
              content: recipeText(figureRecipe(figure, job)),
            },
          ]),
    );
  }
  return files;
};

/** The figures of an answer as the files that are written of them. */
export const answerFigureFiles = async (
  { figures }: Pick<Answer, "figures">,
  terminal: Terminal,
): Promise<readonly WholeFile[]> => figureFiles(figures.flatMap(drawnFigures), terminal);
