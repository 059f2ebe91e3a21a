import { CallError } from "../errors.js";
import type { Figure } from "../figures/figure.js";
import type { NamedFigure } from "../figures/figure-list.js";
import { drawFigure } from "../host/draw-figure.js";
import { writeFileWhole } from "../host/write-whole.js";
import { wishedPages, type FigureWishes } from "./show-figure.js";

/** Endings of files, and what each holds. */
const endings = { svg: "a drawing", png: "a picture", json: "the specification" } as const;

/**
 * Nothing; saves a figure as a drawing (.svg), a picture (.png) or its specification of Vega-Lite (.json). A file that is
 * there is replaced.
 *
 * @param path    where it goes; its ending says as what
 * @param figure  one of an answer's figures, or from one of the figure functions
 * @param options its size, width and title; `scale`: points of the picture for one drawing unit, in (0, 8]
 * @throws {CallError} for another ending, and where the drawing library doubts the specification
 * @source none: a layout
 */
export const saveFigure = async (
  path: string,
  figure: Figure | NamedFigure,
  options: FigureWishes & Readonly<{ scale?: number }> = {},
): Promise<void> => {
  const ending = /\.(svg|png|json)$/.exec(path)?.[1];
  const [page] = wishedPages(figure, options);
  if (ending === undefined || page === undefined)
    throw new CallError({
      code: "file-name",
      where: "saving a figure",
      needs: `a name that ends in ${Object.keys(endings)
        .map((one) => `.${one}`)
        .join(", ")}`,
      got: JSON.stringify(path),
    });
  const { scale } = options;
  const drawn =
    ending === "json"
      ? undefined
      : await drawFigure(page, scale === undefined ? {} : { widthScale: scale });
  const content =
    drawn === undefined
      ? `${JSON.stringify(page.specification, null, 1)}\n`
      : ending === "svg"
        ? drawn.svg
        : drawn.png;
  await writeFileWhole(path, content, { replace: true });
};
