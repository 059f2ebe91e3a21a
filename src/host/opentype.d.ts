/** The little of opentype.js that measuring text needs; the package ships no declarations. It is CommonJS, so only its default import is safe. */
declare module "opentype.js" {
  namespace opentype {
    type Glyph = Readonly<{ index: number; advanceWidth?: number }>;
    type Font = Readonly<{ unitsPerEm: number; charToGlyph: (letter: string) => Glyph }>;
  }
  const opentype: Readonly<{ parse: (bytes: ArrayBuffer) => opentype.Font }>;
  export = opentype;
}
