import { readFileSync } from "node:fs";
import { createRequire } from "node:module";
import { dirname, join } from "node:path";
import { fileURLToPath } from "node:url";

import type opentype from "opentype.js";

import { writeWidths, type LetterWidths } from "./letter-widths.js";

/** The font figures are drawn with, at the two weights the theme uses. */
export type FigureFonts = Readonly<{
  regularFile: string;
  strongFile: string;
  /** The book type of headings, in the letters of Latin scripts. */
  headingFile: string;
  /** Width of a text in drawing units. */
  textWidth: (text: string, fontSize: number, strong: boolean) => number;
  /** Whether the font has a shape for every sign of a text. */
  covers: (text: string) => boolean;
  /** The font's widths as data, for a page that draws the same figures without the font's files. */
  letterWidths: () => LetterWidths;
}>;

type Font = opentype.Font;

/** The font has nothing from here on. */
const codePointsEnd = 0x20000;

const widthsOf = (font: Font): string => {
  const known = new Map<number, number>();
  for (let code = 0x20; code < codePointsEnd; code += 1) {
    const { index, advanceWidth } = font.charToGlyph(String.fromCodePoint(code));
    if (index !== 0) known.set(code, advanceWidth ?? 0);
  }
  return writeWidths({ missing: font.charToGlyph("\u{10fffd}").advanceWidth ?? 0, known });
};

const load = async (): Promise<FigureFonts> => {
  // Only who draws or writes a page waits for the reader of fonts.
  const { default: opentype } = await import("opentype.js");
  const folder = dirname(
    createRequire(import.meta.url).resolve("@expo-google-fonts/inter/package.json"),
  );
  const regularFile = join(folder, "400Regular", "Inter_400Regular.ttf");
  const strongFile = join(folder, "600SemiBold", "Inter_600SemiBold.ttf");
  const fontOf = (file: string): Font => {
    const bytes = readFileSync(file);
    // A copy of its own: the buffer behind a small file may be shared with others.
    return opentype.parse(Uint8Array.from(bytes).buffer);
  };
  const fonts = { regular: fontOf(regularFile), strong: fontOf(strongFile) };
  const emsOf = (font: Font) => {
    const known = new Map<string, number>();
    return (letter: string): number => {
      const seen = known.get(letter);
      if (seen !== undefined) return seen;
      const ems = (font.charToGlyph(letter).advanceWidth ?? 0) / font.unitsPerEm;
      known.set(letter, ems);
      return ems;
    };
  };
  const regular = emsOf(fonts.regular);
  const strong = emsOf(fonts.strong);
  return {
    regularFile,
    strongFile,
    headingFile: shipped("source-serif-4-semibold.ttf"),
    textWidth: (text, fontSize, isStrong) => {
      const ems = isStrong ? strong : regular;
      let width = 0;
      for (const letter of text) width += ems(letter);
      return width * fontSize;
    },
    covers: (text) => {
      for (const letter of new Set(text)) {
        if (letter > "~" && fonts.regular.charToGlyph(letter).index === 0) return false;
      }
      return true;
    },
    letterWidths: () => ({
      unitsPerEm: fonts.regular.unitsPerEm,
      regular: widthsOf(fonts.regular),
      strong: widthsOf(fonts.strong),
    }),
  };
};

const shipped = (name: string): string =>
  fileURLToPath(new URL(`../../shared/fonts/${name}`, import.meta.url));

let faces: string | undefined;

/** The type of figures as a style sheet that holds it, in the letters of Latin scripts and the signs that figures use. */
export const fontFaces = (): string =>
  (faces ??= [
    ["Inter", 400, "inter-regular"],
    ["Inter", 600, "inter-semibold"],
    ["Source Serif 4", 600, "source-serif-4-semibold"],
  ]
    .map(
      ([family, weight, file]) =>
        `@font-face{font-family:"${family}";font-weight:${weight};src:url(data:font/woff2;base64,${readFileSync(shipped(`${file}.woff2`)).toString("base64")}) format("woff2")}`,
    )
    .join(""));

let loaded: Promise<FigureFonts> | undefined;

/**
 * The Inter fonts that come with the package, and a measure of text in them.
 *
 * Widths are sums of advance widths: the shaping tables of this font are beyond the reader at hand,
 * and kerning changes a label by less than a letter.
 */
export const figureFonts = (): Promise<FigureFonts> => (loaded ??= load());
