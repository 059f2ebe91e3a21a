/** Ranges of characters that take two cells of a terminal (East Asian wide forms and pictographs). */
const wideRanges: readonly (readonly [number, number])[] = [
  [0x1100, 0x115f],
  [0x2e80, 0x303e],
  [0x3041, 0x33ff],
  [0x3400, 0x4dbf],
  [0x4e00, 0x9fff],
  [0xa000, 0xa4cf],
  [0xac00, 0xd7a3],
  [0xf900, 0xfaff],
  [0xfe30, 0xfe6f],
  [0xff00, 0xff60],
  [0xffe0, 0xffe6],
  [0x1f300, 0x1f64f],
  [0x1f680, 0x1f6ff],
  [0x1f900, 0x1f9ff],
  [0x20000, 0x3fffd],
];

/** Characters that take no cell: marks set on the letter before, joiners, formatting. */
const zeroWidth = /^[\p{Mn}\p{Me}\p{Cf}]$/u;

/** Dashes, quotes, superscripts and signs that our own tables are full of: one cell each, none of the above. */
const plainRanges: readonly (readonly [number, number])[] = [
  [0x0000, 0x02ff],
  [0x0370, 0x0482],
  [0x2010, 0x2027],
  [0x2030, 0x205f],
  [0x2070, 0x20cf],
  [0x2100, 0x2bff],
];

const isIn = (code: number, ranges: readonly (readonly [number, number])[]): boolean =>
  ranges.some(([low, high]) => code >= low && code <= high);

const characterWidth = (character: string): number => {
  const code = character.codePointAt(0) ?? 0;
  // Building the search below costs more than a whole command, so it waits for a letter that needs it.
  if (isIn(code, plainRanges)) return 1;
  if (zeroWidth.test(character)) return 0;
  return isIn(code, wideRanges) ? 2 : 1;
};

/** Cells of a monospaced line that a text takes: two for wide characters, none for combining marks. */
export const displayWidth = (text: string): number => {
  let width = 0;
  for (const character of text) width += characterWidth(character);
  return width;
};

/**
 * A text broken into lines of at most `width` cells, between words where that is possible.
 *
 * @param width at least 2, so that a wide character fits
 * @returns at least one line; no line is wider than `width`
 */
export const wrapToWidth = (text: string, width: number): readonly string[] => {
  const lines: string[] = [];
  let line = "";
  let used = 0;
  const flush = (): void => {
    if (line !== "") lines.push(line);
    line = "";
    used = 0;
  };
  for (const word of text.split(" ").filter((part) => part !== "")) {
    const wide = displayWidth(word);
    if (line !== "" && used + 1 + wide <= width) {
      line += ` ${word}`;
      used += 1 + wide;
      continue;
    }
    flush();
    for (const character of word) {
      const cells = characterWidth(character);
      if (used + cells > width) flush();
      line += character;
      used += cells;
    }
  }
  flush();
  return lines.length === 0 ? [""] : lines;
};
