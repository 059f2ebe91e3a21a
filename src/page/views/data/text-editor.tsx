import { useState } from "preact/hooks";
import { useApp } from "../../app.js";
import { asOne, partsOf, type OpenFile } from "../../open-file.js";

/** Longer texts are better edited in a spreadsheet; a text field that long is slow in every browser. */
const longestText = 400_000;

/** A file's whole text, to be changed by hand and checked again; `at` is its place among those open together. */
export const TextEditor = ({
  whole,
  at,
  encoding,
}: Readonly<{ whole: OpenFile; at: number; encoding: string }>) => {
  const app = useApp();
  const [text, setText] = useState<string | undefined>(undefined);
  const parts = partsOf(whole);
  const file = parts[at]!;
  const open = (): void => setText(new TextDecoder(encoding).decode(file.bytes));
  const checkAgain = async (): Promise<void> => {
    if (text === undefined) return;
    const mended: OpenFile = {
      name: file.name,
      bytes: new TextEncoder().encode(text),
      mended: true,
    };
    const changed = asOne(parts.with(at, mended))!;
    const check = await app.work(`Reading ${file.name}`, (tell) =>
      app.worker.ask("open", changed, { tell }),
    );
    if (check !== undefined) app.mendTable(changed, check);
  };
  if (file.bytes.length > longestText)
    return (
      <p class="quiet">
        {parts.length > 1 ? file.name : "The file"} is too long to edit here as text; change cells above, or edit it in a spreadsheet
        and open it again.
      </p>
    );
  return (
    <details
      onToggle={(event) => {
        if (event.currentTarget.open && text === undefined) open();
      }}
    >
      <summary>Edit {parts.length > 1 ? file.name : "the file"} as text</summary>
      {text === undefined ? null : (
        <>
          <textarea
            class="file-text"
            aria-label={`Text of ${file.name}`}
            spellcheck={false}
            wrap="off"
            rows={16}
            value={text}
            onInput={(event) => setText(event.currentTarget.value)}
          />
          <div class="row">
            <button type="button" class="main" onClick={() => void checkAgain()}>
              Check this text
            </button>
            <button type="button" onClick={open}>
              Take the changes back
            </button>
          </div>
        </>
      )}
    </details>
  );
};
