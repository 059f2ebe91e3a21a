import { oneLine } from "./wrap-text.js";

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
