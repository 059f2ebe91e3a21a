/** The little of opentype.js that measuring text needs; the package ships no declarations. */
declare module "opentype.js" {
  export type Glyph = Readonly<{ advanceWidth?: number }>;
  export type Font = Readonly<{ unitsPerEm: number; charToGlyph: (letter: string) => Glyph }>;
  export const parse: (bytes: ArrayBuffer) => Font;
}
