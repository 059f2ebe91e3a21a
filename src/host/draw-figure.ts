import { CallError } from "../errors.js";
import type { Figure } from "../figures/figure.js";
import type { FigureMode } from "../figures/theme.js";
import { figureFonts, fontFaces } from "./figure-fonts.js";
import { figureSvg, sizeOf, withType, withoutType } from "./figure-svg.js";

export type DrawFigureOptions = Readonly<{
  /** Exchanges the figure's colours; the specification is drawn as it stands where left out. */
  mode?: FigureMode;
  /**
   * Picture points in the PNG for each drawing unit; the SVG has no fixed size. In (0, 8]. Where left out, fewer for a
   * drawing so long that its picture would have more than ten million points.
   */
  widthScale?: number;
}>;

export const drawFigureDefaults = { widthScale: 2 } as const;

export type DrawnFigure = Readonly<{ svg: string; png: Uint8Array }>;

/** A figure as SVG text; see `drawFigure`. */
export const drawSvg = async (
  figure: Figure,
  { mode }: Pick<DrawFigureOptions, "mode"> = {},
): Promise<string> => {
  const { textWidth } = await figureFonts();
  const svg = await figureSvg(figure, mode === undefined ? { textWidth } : { textWidth, mode });
  return withType(svg, fontFaces());
};

/** Bytes of the points of a drawing's picture, four each. */
export const pointBytes = (svg: string, scale: number): number => {
  const { width, height } = sizeOf(svg);
  return 4 * width * height * scale ** 2;
};

/** Beyond so many bytes of points a picture is drawn less fine: one so long is scrolled through, and costs memory. */
const mostPointBytes = 40e6;

/** A slide is as large as it is shown; anything else is drawn finer than on a screen. */
export const pngScale = ({ picture }: Figure, svg: string): number =>
  picture?.points === undefined
    ? drawFigureDefaults.widthScale *
      Math.min(1, Math.sqrt(mostPointBytes / pointBytes(svg, drawFigureDefaults.widthScale)))
    : 1;

/** A drawing as PNG bytes; see `drawFigure`. */
export const drawPng = async (
  svg: string,
  widthScale: number = drawFigureDefaults.widthScale,
): Promise<Uint8Array> => {
  const [fonts, { Resvg }] = await Promise.all([figureFonts(), import("@resvg/resvg-js")]);
  const drawing = withoutType(svg);
  const picture = new Resvg(drawing, {
    fitTo: { mode: "zoom", value: widthScale },
    font: {
      // Signs the package's font lacks, such as Arabic or Chinese letters, are looked for on the machine.
      loadSystemFonts: !fonts.covers(drawing),
      fontFiles: [fonts.regularFile, fonts.strongFile, fonts.headingFile],
      defaultFontFamily: "Inter",
      sansSerifFamily: "Inter",
    },
  }).render();
  return Uint8Array.from(picture.asPng());
};

/**
 * A figure as SVG text and PNG bytes; the same figure always gives the same bytes.
 *
 * Drawn with the fonts that come with the package, so nothing depends on what the machine has
 * installed, except letters those fonts lack: in the PNG these need a font of the machine. A specification the drawing library doubts in any way is refused, not drawn with gaps.
 *
 * @param figure  from one of the figure functions
 * @throws {CallError} "figure-does-not-compile", "figure-id", "scale-out-of-range"
 */
export const drawFigure = async (
  figure: Figure,
  options: DrawFigureOptions = {},
): Promise<DrawnFigure> => {
  const { widthScale = drawFigureDefaults.widthScale } = options;
  if (!(widthScale > 0 && widthScale <= 8)) {
    throw new CallError({
      code: "scale-out-of-range",
      where: "drawFigure",
      needs: "a width scale above 0 and at most 8",
      got: String(widthScale),
    });
  }
  const svg = await drawSvg(figure, options);
  return { svg, png: await drawPng(svg, options.widthScale ?? pngScale(figure, svg)) };
};
