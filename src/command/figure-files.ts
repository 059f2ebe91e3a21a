import type { Answer } from "../answers/answer.js";
import { figureRecipe, recipeText } from "../answers/figure-recipe.js";
import { drawnFigures } from "../figures/figure-list.js";
import type { Figure } from "../figures/figure.js";
import { drawFigure } from "../host/draw-figure.js";
import type { WholeFile } from "../host/write-whole.js";
import { figureTextFiles } from "../report/report-files.js";
import type { Terminal } from "./terminal.js";

/** Each figure as the files that are written of it: SVG, PNG, specification, numbers. */
export const figureFiles = async (
  figures: readonly Figure[],
  terminal: Pick<Terminal, "progress" | "draw">,
): Promise<readonly WholeFile[]> => {
  const files: WholeFile[] = [];
  for (const [index, figure] of figures.entries()) {
    terminal.progress(`drawing figure ${index + 1} of ${figures.length}`);
    const { id } = figure;
    const { svg, png } = await (terminal.draw ?? drawFigure)(figure);
    files.push(
      { name: `figures/${id}.svg`, content: svg },
      { name: `figures/${id}.png`, content: png },
      ...figureTextFiles(figure),
    );
  }
  return files;
};

/** The recipes of an answer's figures. */
export const recipeFiles = (answer: Answer): readonly WholeFile[] =>
  answer.figures.map((figure) => ({
    name: `figures/${figure.data.id}.recipe.json`,
    content: recipeText(figureRecipe(answer, figure)),
  }));

/** The figures of an answer as the files that are written of them, each with its recipe. */
export const answerFigureFiles = async (
  answer: Answer,
  terminal: Pick<Terminal, "progress" | "draw">,
): Promise<readonly WholeFile[]> => [
  ...(await figureFiles(answer.figures.flatMap(drawnFigures), terminal)),
  ...recipeFiles(answer),
];
