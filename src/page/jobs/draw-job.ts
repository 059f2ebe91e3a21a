import { expressionInterpreter } from "vega-interpreter";
import {
  drawnCard,
  figuresAt,
  narrowestPageOf,
  type NamedCard,
  type NamedFigure,
} from "../../figures/figure-list.js";
import {
  figureSizeDefault,
  pageWidthIn,
  typeWithin,
  type FigureSize,
} from "../../figures/frame.js";
import type { Figure } from "../../figures/figure.js";
import type { FigureMode } from "../../figures/theme.js";
import { figureSvg, sizeOf, type TextWidth } from "../../host/figure-svg.js";
import { textWidthOf, type LetterWidths } from "../../host/letter-widths.js";
import type { Bench, Job } from "./bench.js";

/** Measures text with the page's widths; read once. */
const measureOf = (bench: Bench, letters: LetterWidths): TextWidth => {
  if (bench.letters?.text !== letters.regular)
    bench.letters = { text: letters.regular, measure: textWidthOf(letters) };
  return bench.letters.measure;
};

/** A figure as SVG text, the same as the command line writes; as it stands where no mode is given. */
export const drawn = (
  bench: Bench,
  figure: Figure,
  letters: LetterWidths,
  mode?: FigureMode,
): Promise<string> =>
  figureSvg(figure, {
    textWidth: measureOf(bench, letters),
    interpreter: expressionInterpreter,
    ...(mode === undefined ? {} : { mode }),
  });

/** A figure of an answer by name and data, the answer's card, or one that is specified already. */
export type Drawable = NamedFigure | NamedCard | Figure;

/** A figure with its picture, and the size it was drawn at. */
export type DrawnFigure = Readonly<{ figure: Figure; svg: string; size: FigureSize }>;

/** Points below which the type of a figure is too small on a screen. */
const leastType = 11;

/**
 * Draws a figure, every page of it.
 *
 * @param points the room it has: a page is as wide as that, and a column where its type would come out too small
 */
export const drawJob: Job<
  Readonly<{
    figure: Drawable;
    letters: LetterWidths;
    mode?: FigureMode;
    size?: FigureSize;
    points?: number;
  }>,
  readonly DrawnFigure[]
> = async (bench, { figure, letters, mode, size = figureSizeDefault, points }) => {
  const made = async (pages: readonly Figure[], at: FigureSize) => {
    const all: DrawnFigure[] = [];
    for (const page of pages)
      all.push({ figure: page, svg: await drawn(bench, page, letters, mode), size: at });
    return all;
  };
  if ("specification" in figure) return made([figure], size);
  if (figure.name === "card") return made([drawnCard(figure)], size);
  if (points === undefined || size !== "page") return made(figuresAt(size)(figure), size);
  const width = pageWidthIn(points);
  if (width === undefined || width >= narrowestPageOf(figure.name)) {
    const pages = await made(figuresAt("page", { width })(figure), "page");
    const isRead = (one: DrawnFigure): boolean =>
      typeWithin(one.figure, sizeOf(one.svg).width, points) >= leastType;
    if (pages.every(isRead)) return pages;
  }
  return made(figuresAt("column")(figure), "column");
};
