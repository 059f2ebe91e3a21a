import type { SorenessNote } from "../../../projection/soreness.js";

/** What is known of soreness, said once for all the protocols it bears on. */
export const SorenessSection = ({
  protocols,
}: Readonly<{
  protocols: readonly Readonly<{ name: string; notes: readonly SorenessNote[] }>[];
}>) => {
  const notes = new Map<string, Readonly<{ note: SorenessNote; names: string[] }>>();
  for (const { name, notes: own } of protocols)
    for (const note of own) {
      const known = notes.get(note.message);
      if (known === undefined) notes.set(note.message, { note, names: [name] });
      else known.names.push(name);
    }
  return (
    <>
      <h2>Soreness</h2>
      <ul>
        {[...notes.values()].map(({ note, names }) => (
          <li key={note.message}>
            <strong>{names.join(", ")}:</strong> {note.message}.{" "}
            <span class="source">{note.source}</span>
          </li>
        ))}
      </ul>
    </>
  );
};
