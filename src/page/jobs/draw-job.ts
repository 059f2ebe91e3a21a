import { expressionInterpreter } from "vega-interpreter";
import type { Figure } from "../../figures/figure.js";
import type { FigureMode } from "../../figures/theme.js";
import { figureSvg, type TextWidth } from "../../host/figure-svg.js";
import { textWidthOf, type LetterWidths } from "../../host/letter-widths.js";
import { fittedText } from "../fitted-text.js";
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

/** Draws one figure; with a mode, fitted for the screen. */
export const drawJob: Job<
  Readonly<{ figure: Figure; letters: LetterWidths; mode?: FigureMode }>,
  string
> = async (bench, { figure, letters, mode }) => {
  const svg = await drawn(bench, figure, letters, mode);
  return mode === undefined ? svg : fittedText(svg, measureOf(bench, letters));
};
