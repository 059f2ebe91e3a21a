import type { Figure } from "../figures/figure.js";
import { figuresAt, type NamedFigure } from "../figures/figure-list.js";
import { figureSizeDefault, type FigureSize } from "../figures/frame.js";
import { drawFigure } from "../host/draw-figure.js";
import { withoutType } from "../host/figure-svg.js";
import { escapeHtml } from "../tables/escape-html.js";
import { show } from "./show-on.js";

/** The type under which notebooks draw a specification of Vega-Lite. */
export const specificationType = "application/vnd.vegalite.v5+json";

/** Coordinates to a hundredth of a drawing unit, which is finer than any screen. */
const rounded = (svg: string): string =>
  svg.replace(/<[a-z][^>]*>/gi, (tag) =>
    tag.replace(/-?\d+\.\d{3,}/g, (number) => String(Number(Number(number).toFixed(2)))),
  );

/** A figure as an image that is part of the page, with its description. */
export const notebookFigure = (figure: Figure, svg: string): string => {
  const image = Buffer.from(rounded(svg), "utf8").toString("base64");
  return [
    `<img style="max-width:100%;background:#ffffff;padding:0.5em" alt="${escapeHtml(figure.description)}" src="data:image/svg+xml;base64,${image}">`,
  ].join("\n");
};

/**
 * Nothing; shows a figure below the cell: as a drawing that is seen anywhere, and as a specification that
 * notebook programs draw themselves and let you change.
 *
 * @param figure one of an answer's figures, or from one of the figure functions
 * @param options size of an answer's figure: column, page (as left out) or slide
 * @throws {CallError} where the drawing library doubts the specification
 * @source none: a layout
 */
export const showFigure = async (
  figure: Figure | NamedFigure,
  { size = figureSizeDefault }: Readonly<{ size?: FigureSize }> = {},
): Promise<void> => {
  const pages = "specification" in figure ? [figure] : figuresAt(size)(figure);
  for (const page of pages) await showPage(page);
};

const showPage = async (figure: Figure): Promise<void> => {
  const svg = withoutType((await drawFigure(figure)).svg);
  show("text/html", notebookFigure(figure, svg));
  show(specificationType, figure.specification);
};
