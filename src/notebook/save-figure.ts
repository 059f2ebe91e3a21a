import { crc32 } from "node:zlib";
import type { Answer } from "../answers/answer.js";
import { answerCard, cardWithRecipe } from "../answers/answer-card.js";
import { CallError } from "../errors.js";
import { drawnCard, type NamedFigure } from "../figures/figure-list.js";
import type { Figure } from "../figures/figure.js";
import { drawPng, drawSvg, pngScale } from "../host/draw-figure.js";
import { sizeOf } from "../host/figure-svg.js";
import { writeFileWhole } from "../host/write-whole.js";
import { wishedPages, type FigureWishes } from "./show-figure.js";

/** Endings of files, and what each holds. */
const endings = { svg: "a drawing", png: "a picture", json: "the specification" } as const;

/** Drawing units of a centimetre, by the web's own definition of 96 of them an inch. */
const unitsPerCentimetre = 96 / 2.54;

/** Points an inch of a picture whose width on paper is told: what print asks for. */
const printPoints = 300;

/** The same picture with its size on paper said, which word processors place it at. */
const withPaperSize = (png: Uint8Array): Uint8Array => {
  const chunk = Buffer.alloc(21);
  chunk.writeUInt32BE(9, 0);
  chunk.write("pHYs", 4, "latin1");
  const perMetre = Math.round(printPoints / 0.0254);
  chunk.writeUInt32BE(perMetre, 8);
  chunk.writeUInt32BE(perMetre, 12);
  chunk.writeUInt8(1, 16);
  chunk.writeUInt32BE(crc32(chunk.subarray(4, 17)), 17);
  // After the signature of 8 bytes and the header of 25.
  return Buffer.concat([png.subarray(0, 33), chunk, png.subarray(33)]);
};

/** The same drawing as wide on paper as it is wished. */
const onPaper = (svg: string, centimetres: number): string => {
  const share = centimetres / sizeOf(svg).width;
  return svg.replace(
    /^(<svg[^>]*?) width="([\d.]+)" height="([\d.]+)"/,
    (_, start: string, _width, height: string) =>
      `${start} width="${centimetres}cm" height="${Number((Number(height) * share).toFixed(3))}cm"`,
  );
};

/**
 * Nothing; saves a figure as a drawing (.svg), a picture (.png) or its specification of Vega-Lite (.json). A file that is
 * there is replaced.
 *
 * @param path    where it goes; its ending says as what
 * @param figure  one of an answer's figures, or from one of the figure functions
 * @param options its size, width and title; `centimetres`: width on paper, 1 to 100, a picture then with 300 points an inch;
 *   `scale`: points of the picture for one drawing unit, in (0, 8]
 * @throws {CallError} for another ending or width, and where the drawing library doubts the specification
 * @source none: a layout
 */
export const saveFigure = async (
  path: string,
  figure: Figure | NamedFigure,
  options: FigureWishes & Readonly<{ scale?: number; centimetres?: number }> = {},
): Promise<void> => {
  const { centimetres, scale } = options;
  const ending = /\.(svg|png|json)$/.exec(path)?.[1];
  if (centimetres !== undefined && !(centimetres >= 1 && centimetres <= 100))
    throw new CallError({
      code: "out-of-range",
      where: "saving a figure",
      needs: "a width of 1 to 100 centimetres",
      got: String(centimetres),
    });
  const [page] = wishedPages(figure, {
    ...(centimetres === undefined ? {} : { width: centimetres * unitsPerCentimetre }),
    ...options,
  });
  if (ending === undefined || page === undefined)
    throw new CallError({
      code: "file-name",
      where: "saving a figure",
      needs: `a name that ends in ${Object.keys(endings)
        .map((one) => `.${one}`)
        .join(", ")}`,
      got: JSON.stringify(path),
    });
  await writeFileWhole(path, await contentOf(page, ending, { centimetres, scale }), {
    replace: true,
  });
};

const contentOf = async (
  page: Figure,
  ending: string,
  { centimetres, scale }: Readonly<{ centimetres: number | undefined; scale: number | undefined }>,
): Promise<string | Uint8Array> => {
  if (ending === "json") return `${JSON.stringify(page.specification, null, 1)}\n`;
  const svg = await drawSvg(page);
  if (centimetres === undefined)
    return ending === "svg" ? svg : drawPng(svg, scale ?? pngScale(page, svg));
  if (ending === "svg") return onPaper(svg, centimetres);
  return withPaperSize(
    await drawPng(svg, ((centimetres / 2.54) * printPoints) / sizeOf(svg).width),
  );
};

/**
 * Nothing; saves an answer as a card to share (.svg), which `holdbook verify` checks against the file. A file that is there
 * is replaced.
 *
 * @param path   where it goes
 * @param answer from `ask`
 * @throws {CallError} where the drawing library doubts the specification
 * @source none: a layout
 */
export const saveCard = async (path: string, answer: Answer): Promise<void> => {
  const card = await answerCard(answer);
  const svg = cardWithRecipe(await drawSvg(drawnCard(card)), answer, card);
  await writeFileWhole(path, svg, { replace: true });
};
