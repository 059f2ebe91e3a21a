import { expressionInterpreter } from "vega-interpreter";
import {
  drawnCard,
  figuresAt,
  type NamedCard,
  type NamedFigure,
} from "../../figures/figure-list.js";
import { figureSizeDefault, type FigureSize } from "../../figures/frame.js";
import type { Figure } from "../../figures/figure.js";
import type { FigureMode } from "../../figures/theme.js";
import { figureSvg, type TextWidth } from "../../host/figure-svg.js";
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

/** A figure with its picture. */
export type DrawnFigure = Readonly<{ figure: Figure; svg: string }>;

/** Draws a figure, every page of it. */
export const drawJob: Job<
  Readonly<{ figure: Drawable; letters: LetterWidths; mode?: FigureMode; size?: FigureSize }>,
  readonly DrawnFigure[]
> = async (bench, { figure, letters, mode, size = figureSizeDefault }) => {
  const pages =
    "specification" in figure
      ? [figure]
      : figure.name === "card"
        ? [drawnCard(figure)]
        : figuresAt(size)(figure);
  const made: DrawnFigure[] = [];
  for (const page of pages)
    made.push({ figure: page, svg: await drawn(bench, page, letters, mode) });
  return made;
};
