import type { SorenessNote } from "../projection/soreness.js";
import { noteLines } from "./note-lines.js";
import type { Table } from "./table.js";

/**
 * What is known of soreness after some protocols, each sentence once with its source; with several protocols, those
 * it bears on.
 */
export const sorenessTable = (
  protocols: readonly Readonly<{ name: string; notes: readonly SorenessNote[] }>[],
  id = "soreness",
): Table => {
  const found = new Map<string, Readonly<{ note: SorenessNote; names: string[] }>>();
  for (const { name, notes } of protocols)
    for (const note of notes) {
      const known = found.get(note.message);
      if (known === undefined) found.set(note.message, { note, names: [name] });
      else known.names.push(name);
    }
  return {
    id,
    title: "Soreness",
    columns: [
      ...(protocols.length > 1
        ? [{ key: "names", label: "Protocols", align: "left" } as const]
        : []),
      { key: "known", label: "What is known", align: "left" },
      { key: "source", label: "Source", align: "left" },
    ],
    rows: [...found.values()].map(({ note, names }) => ({
      names: names.join(", "),
      known: noteLines([note])[0] ?? "",
      source: note.source,
    })),
    notes: [],
  };
};
