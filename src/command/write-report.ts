import type { Analysis } from "../report/analysis.js";
import { figureRecipe, recipeText, type FigureJob } from "../report/figure-recipe.js";
import { reportFigures } from "../report/report-figures.js";
import { reportFiles } from "../report/report-files.js";
import { reportHtml } from "../report/report-html.js";
import type { ReportSection } from "../report/report-section.js";
import { drawFigure } from "../host/draw-figure.js";
import { writeWhole, type WholeFile } from "../host/write-whole.js";
import type { Terminal } from "./terminal.js";

/** Draws every figure and writes the report's directory whole or not at all. */
export const writeReport = async (
  analysis: Analysis,
  directory: string,
  terminal: Terminal,
  more: readonly ReportSection[] = [],
): Promise<readonly WholeFile[]> => {
  terminal.progress("figures");
  const figures = [...reportFigures(analysis), ...more.flatMap((section) => section.figures)];
  if (terminal.takeFigures !== undefined) {
    terminal.takeFigures(figures);
    return [];
  }
  const { name, fingerprint } = analysis.source;
  const asked = await terminal.job?.();
  // The file may be the register that nobody named, so its name comes from the analysis.
  const job: FigureJob | undefined =
    asked === undefined ? undefined : { ...asked, data: { name, fingerprint } };
  const drawings = new Map<string, string>();
  const pictures: WholeFile[] = [];
  for (const [index, figure] of figures.entries()) {
    terminal.progress(`drawing figure ${index + 1} of ${figures.length}`);
    const { svg, png } = await drawFigure(figure);
    drawings.set(figure.id, svg);
    pictures.push(
      { name: `figures/${figure.id}.svg`, content: svg },
      { name: `figures/${figure.id}.png`, content: png },
      ...(job === undefined
        ? []
        : [
            {
              name: `figures/${figure.id}.recipe.json`,
              content: recipeText(figureRecipe(figure, job)),
            },
          ]),
    );
  }
  terminal.progress("page and tables");
  const files: readonly WholeFile[] = [
    { name: "report.html", content: reportHtml(analysis, drawings, more) },
    ...reportFiles(
      analysis,
      figures,
      more.flatMap(({ tables, dataTables = [] }) => [...tables, ...dataTables]),
    ),
    ...pictures,
  ];
  terminal.progress(`writing ${directory}`);
  await writeWhole(directory, files);
  return files;
};
