import type { TextWidth } from "./figure-svg.js";

/** How wide each letter of a font is, at two weights, small enough to travel inside a page. */
export type LetterWidths = Readonly<{
  unitsPerEm: number;
  regular: string;
  strong: string;
}>;

/** One weight: widths by code point, and the width of a sign the font lacks. */
export type WeightWidths = Readonly<{ missing: number; known: ReadonlyMap<number, number> }>;

/**
 * One weight as text: the width of a missing sign, then runs of neighbouring code points, each with its
 * first code point and the widths from there; all numbers to base 36.
 */
export const writeWidths = ({ missing, known }: WeightWidths): string => {
  const runs: number[][] = [];
  let next = -1;
  for (const [code, width] of [...known].sort(([first], [second]) => first - second)) {
    if (code === next) runs.at(-1)?.push(width);
    else runs.push([code, width]);
    next = code + 1;
  }
  return [[missing], ...runs]
    .map((numbers) => numbers.map((number) => number.toString(36)).join(" "))
    .join(";");
};

/** The inverse of `writeWidths`. */
export const readWidths = (text: string): WeightWidths => {
  const [first = [], ...runs] = text
    .split(";")
    .map((run) => run.split(" ").map((number) => parseInt(number, 36)));
  const known = new Map<number, number>();
  for (const [start = 0, ...widths] of runs)
    widths.forEach((width, place) => known.set(start + place, width));
  return { missing: first[0] ?? 0, known };
};

/** Measures text by sums of letter widths, the way figures are laid out everywhere. */
export const textWidthOf = ({ unitsPerEm, regular, strong }: LetterWidths): TextWidth => {
  const weights = { regular: readWidths(regular), strong: readWidths(strong) };
  return (text, fontSize, isStrong) => {
    const { missing, known } = isStrong ? weights.strong : weights.regular;
    let width = 0;
    for (const letter of text)
      width += (known.get(letter.codePointAt(0) ?? 0) ?? missing) / unitsPerEm;
    return width * fontSize;
  };
};
