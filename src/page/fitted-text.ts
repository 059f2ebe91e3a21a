import type { TextWidth } from "../host/figure-svg.js";

const signs: Readonly<Record<string, string>> = {
  "&amp;": "&",
  "&lt;": "<",
  "&gt;": ">",
  "&quot;": '"',
};

/**
 * A drawing whose texts keep the room they were laid out for.
 *
 * Drawings are laid out in one font; a screen that lacks it takes another, wider or narrower. Each text
 * is told how wide to be, so that columns stay apart in every font.
 *
 * @param svg        from `figureSvg`
 * @param textWidth  the measure the drawing was laid out with
 */
export const fittedText = (svg: string, textWidth: TextWidth): string =>
  svg.replace(
    /<text ([^>]*)>([^<]+)<\/text>/g,
    (whole: string, attributes: string, content: string) => {
      const size = Number(/font-size="([\d.]+)px"/.exec(attributes)?.[1]);
      if (!(size > 0)) return whole;
      const weight = /font-weight="([^"]+)"/.exec(attributes)?.[1] ?? "";
      const strong = weight === "bold" || Number(weight) >= 600;
      const text = content.replace(/&(?:amp|lt|gt|quot);/g, (sign) => signs[sign] ?? sign);
      const width = textWidth(text, size, strong);
      return width > 0
        ? `<text ${attributes} textLength="${width.toFixed(2)}" lengthAdjust="spacingAndGlyphs">${content}</text>`
        : whole;
    },
  );
