import { CallError } from "../errors.js";
import type { Figure } from "../figures/figure.js";
import { figuresAt, type NamedFigure } from "../figures/figure-list.js";
import { figureSizeDefault, narrowestPage, type FigureSize } from "../figures/frame.js";
import { themeConfig } from "../figures/theme-config.js";
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

/** How a figure is drawn. */
export type FigureWishes = Readonly<{
  /** Of a column, a page or a slide; by the width where left out, and a page without one. */
  size?: FigureSize;
  /** Width in drawing units, of which the smallest type is 11 high. */
  width?: number;
  /** A title of one's own; what the figure answers stands below it. */
  title?: string;
}>;

/** The pages of a figure as they are wished. */
export const wishedPages = (
  figure: Figure | NamedFigure | undefined,
  {
    width,
    size = width !== undefined && width < narrowestPage ? "column" : figureSizeDefault,
    title,
  }: FigureWishes,
): readonly Figure[] => {
  if (figure === undefined)
    throw new CallError({
      code: "figure-not-made",
      where: "a figure",
      needs: "one that the answer draws",
      got: "none",
      try: "answer.figures lists what it draws, and answer.headline says what is missing",
    });
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
 * A drawing of one's own as a figure, for `showFigure` and `saveFigure`.
 *
 * @param specification of Vega-Lite, edited from a figure's own or written; what it leaves out of type, colours and size is
 *   taken from the figures of the library (480 by 300 drawing units)
 * @param title         said to those who cannot see it, and above the drawing where the specification has none
 * @source none: a layout
 */
export const ownFigure = (specification: object, title: string): Figure => {
  const isPlain = "mark" in specification || "layer" in specification;
  const usual = {
    $schema: "https://vega.github.io/schema/vega-lite/v6.json",
    ...(isPlain ? { width: 480, height: 300 } : {}),
    config: themeConfig("light"),
  };
  const missing = Object.entries(usual).filter(([name]) => !(name in specification));
  return {
    id: "own-drawing",
    title,
    caption: "",
    description: title,
    specification: {
      title,
      ...specification,
      ...Object.fromEntries(missing),
    } as unknown as Figure["specification"],
    data: [],
  };
};

/**
 * Nothing; shows a drawing of one's own, as `showFigure` shows a figure.
 *
 * @param specification as `ownFigure` takes it
 * @param title         as `ownFigure` takes it
 * @throws {CallError} where the drawing library doubts the specification
 * @source none: a layout
 */
export const showSpecification = (specification: object, title: string): Promise<void> =>
  showPage(ownFigure(specification, title));

const showPage = async (figure: Figure): Promise<void> => {
  const svg = withoutType((await drawFigure(figure)).svg);
  show("text/html", notebookFigure(figure, svg));
  show(specificationType, figure.specification);
};
