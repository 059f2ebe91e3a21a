import type { Note } from "../errors.js";
import { wrapToWidth } from "../tables/display-width.js";
import { noteLines } from "../tables/note-lines.js";

/** Notes as a titled list, wrapped to the line. */
export const noteText = (title: string, notes: readonly Note[], width: number): string =>
  [
    title,
    ...noteLines(notes).flatMap((line) => {
      const [first = "", ...rest] = wrapToWidth(line, width - 2);
      return [`* ${first}`, ...rest.map((more) => `  ${more}`)];
    }),
  ].join("\n");
