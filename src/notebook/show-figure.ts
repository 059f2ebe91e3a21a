import type { Figure } from "../figures/figure.js";
import { figuresAt, type NamedFigure } from "../figures/figure-list.js";
import { figureSizeDefault, type FigureSize } from "../figures/frame.js";
import { drawFigure } from "../host/draw-figure.js";
import { withoutType } from "../host/figure-svg.js";
import { escapeHtml } from "../tables/escape-html.js";
import { show } from "./show-on.js";

/** The type under which notebooks draw a specification of Vega-Lite. */
export const specificationType = "application/vnd.vegalite.v6+json";

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

/** How a figure is drawn: `size` of a column, a page (as left out) or a slide; `width` in drawing units; a title of one's own. */
export type FigureWishes = Readonly<{ size?: FigureSize; width?: number; title?: string }>;

/** The pages of a figure as they are wished. */
export const wishedPages = (
  figure: Figure | NamedFigure,
  { size = figureSizeDefault, width, title }: FigureWishes,
): readonly Figure[] => {
  if ("specification" in figure)
    return [
      title === undefined ? figure : { ...figure, title, specification: titled(figure, title) },
    ];
  const named =
    title === undefined ? figure : { ...figure, data: { ...figure.data, sentence: title } };
  return figuresAt(size, { width })(named as NamedFigure);
};

const titled = ({ specification }: Figure, title: string) =>
  ({ ...specification, title }) as Figure["specification"];

/**
 * Nothing; shows a figure below the cell: as a drawing that is seen anywhere, and as a specification that
 * notebook programs draw themselves and let you change.
 *
 * @param figure one of an answer's figures, or from one of the figure functions
 * @param options its size, width and title
 * @throws {CallError} where the drawing library doubts the specification
 * @source none: a layout
 */
export const showFigure = async (
  figure: Figure | NamedFigure,
  options: FigureWishes = {},
): Promise<void> => {
  for (const page of wishedPages(figure, options)) await showPage(page);
};

/**
 * Nothing; shows a specification of Vega-Lite of one's own, as `showFigure` shows a figure.
 *
 * @param specification edited from a figure's own, or written
 * @param title         said to those who cannot see it, and above the drawing where the specification has none
 * @throws {CallError} where the drawing library doubts the specification
 * @source none: a layout
 */
export const showSpecification = (specification: object, title: string): Promise<void> =>
  showPage({
    id: "own-drawing",
    title,
    caption: "",
    description: title,
    specification: { title, ...specification } as unknown as Figure["specification"],
    data: [],
  });

const showPage = async (figure: Figure): Promise<void> => {
  const svg = withoutType((await drawFigure(figure)).svg);
  show("text/html", notebookFigure(figure, svg));
  show(specificationType, figure.specification);
};
