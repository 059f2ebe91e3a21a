import { oneLine } from "./wrap-text.js";

/**
 * A text on one line of at most so many letters, the rest given as an ellipsis.
 *
 * For headings that hold a name somebody typed; whole names stand in the data and the description.
 */
export const clipText = (text: string, most: number): string => {
  const letters = [...oneLine(text)];
  return letters.length <= most
    ? letters.join("")
    : `${letters
        .slice(0, most - 1)
        .join("")
        .trimEnd()}…`;
};
