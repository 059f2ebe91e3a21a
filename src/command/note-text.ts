import type { Note } from "../errors.js";
import { wrapToWidth } from "../tables/display-width.js";
import { noteLines } from "../tables/note-lines.js";

/** Lines as a titled list, wrapped to the width of the terminal. */
export const listText = (title: string, lines: readonly string[], width: number): string =>
  [
    title,
    ...lines.flatMap((line) => {
      const [first = "", ...rest] = wrapToWidth(line, width - 2);
      return [`* ${first}`, ...rest.map((more) => `  ${more}`)];
    }),
  ].join("\n");

/** Notes as such a list. */
export const noteText = (title: string, notes: readonly Note[], width: number): string =>
  listText(title, noteLines(notes), width);
