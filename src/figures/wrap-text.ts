/** Share of the letters kept that stand before the ellipsis. */
const headShare = 0.65;

/**
 * A text on one line of at most so many letters, with an ellipsis for what is left out of its middle.
 *
 * Names that somebody typed often differ at their ends, so both ends are kept; whole names stand in a figure's
 * data and description.
 */
export const clipText = (text: string, most: number): string => {
  const letters = [...oneLine(text)];
  if (letters.length <= most) return letters.join("");
  const head = Math.ceil((most - 1) * headShare);
  const tail = most - 1 - head;
  return `${letters.slice(0, head).join("").trimEnd()}…${letters
    .slice(letters.length - tail)
    .join("")
    .trimStart()}`;
};

/** Letters that take about a whole em: East Asian writing, full-width forms and pictures. */
const wide =
  /[\u1100-\u115f\u2e80-\ua4cf\uac00-\ud7a3\uf900-\ufaff\ufe30-\ufe6f\uff00-\uff60\u{1f000}-\u{3ffff}]/u;

/**
 * About how wide a text is, in drawing units, without a font at hand.
 *
 * Used only to choose column widths and line breaks; the drawing measures with the real font and
 * shortens what is still too long.
 */
export const roughTextWidth = (text: string, fontSize: number): number => {
  let ems = 0;
  for (const letter of text) {
    ems += wide.test(letter)
      ? 1
      : /[A-Z@%MWmw]/.test(letter)
        ? 0.72
        : /[0-9\u2212+]/.test(letter)
          ? 0.64
          : /[ilj.,:;'|!ftI ]/.test(letter)
            ? 0.32
            : 0.56;
  }
  return ems * fontSize;
};

/** Text on one line: line breaks, tabs and other control signs become single spaces. */
export const oneLine = (text: string): string =>
  text.replace(/[\u0000-\u001f\u007f\u2028\u2029\s]+/gu, " ").trim();

/** A text sentence by sentence; a question goes with its answer. */
export const sentencesOf = (text: string): readonly string[] =>
  text.split(/(?<=[.!]) (?=[\p{Lu}\d†])/u);

/** The least of some widths in which every text takes at most its number of lines, no word broken; undefined where none is. */
export const narrowest = (
  texts: readonly Readonly<{ text: string; lines: number }>[],
  widths: readonly number[],
  fontSize: number,
): number | undefined =>
  widths.find((width) =>
    texts.every(
      ({ text, lines }) =>
        wrapText(text, { width, fontSize, lines: 9 }).length <= lines &&
        text.split(" ").every((word) => roughTextWidth(word, fontSize) <= width),
    ),
  );

/** A space at which a line may end: none inside "4 × 30 s" or "2 min". */
const breaks = /(?<![×]) (?!(?:×|s|min)(?:[ ,.;:)]|$))/u;

/**
 * A text broken into at most `lines` lines of about `width`; the last line keeps the rest.
 *
 * Breaks at spaces; a single word longer than a line is broken inside.
 */
export const wrapText = (
  text: string,
  options: Readonly<{ width: number; fontSize: number; lines: number }>,
): readonly string[] => {
  const fits = (piece: string) => roughTextWidth(piece, options.fontSize) <= options.width;
  // Pieces of a broken word carry no space before them, so that they join again on one line.
  const pieces = oneLine(text)
    .split(breaks)
    .flatMap((word): readonly Readonly<{ text: string; glue: "" | " " }>[] => {
      if (fits(word)) return [{ text: word, glue: " " }];
      const parts: string[] = [];
      let part = "";
      for (const letter of word) {
        if (part !== "" && !fits(part + letter)) {
          parts.push(part);
          part = "";
        }
        part += letter;
      }
      return [...parts, part].map((each, index) => ({ text: each, glue: index === 0 ? " " : "" }));
    });
  const out: string[] = [];
  let line = "";
  for (const { text: piece, glue } of pieces) {
    const longer = line === "" ? piece : line + glue + piece;
    if (line === "" || fits(longer) || out.length === options.lines - 1) line = longer;
    else {
      out.push(line);
      line = piece;
    }
  }
  return [...out, line];
};
