import type { Note } from "../errors.js";
import type { SorenessNote } from "../projection/soreness.js";
import { wrapToWidth } from "../tables/display-width.js";
import { noteLines } from "../tables/note-lines.js";

const bulleted = (title: string, lines: readonly string[], width: number): string =>
  [
    title,
    ...lines.flatMap((line) => {
      const [first = "", ...rest] = wrapToWidth(line, width - 2);
      return [`* ${first}`, ...rest.map((more) => `  ${more}`)];
    }),
  ].join("\n");

/** Notes as a titled list, wrapped to the line. */
export const noteText = (title: string, notes: readonly Note[], width: number): string =>
  bulleted(title, noteLines(notes), width);

/** Notes on soreness as a titled list, each with its source. */
export const sorenessText = (notes: readonly SorenessNote[], width: number): string =>
  bulleted(
    "Soreness",
    notes.map((note) => `${noteLines([note])[0] ?? ""} [${note.source}]`),
    width,
  );
