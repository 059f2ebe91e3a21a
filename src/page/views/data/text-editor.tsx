import { useState } from "preact/hooks";
import { useApp, useAppState } from "../../app.js";

/** Longer texts are better edited in a spreadsheet; a text field that long is slow in every browser. */
const longestText = 400_000;

/** The file's whole text, to be changed by hand and checked again. */
export const TextEditor = () => {
  const app = useApp();
  const file = useAppState((state) => state.file);
  const encoding = useAppState((state) => state.check?.encoding) ?? "utf-8";
  const [text, setText] = useState<string | undefined>(undefined);
  if (file === undefined) return null;
  const open = (): void => setText(new TextDecoder(encoding).decode(file.bytes));
  const checkAgain = async (): Promise<void> => {
    if (text === undefined) return;
    const bytes = new TextEncoder().encode(text);
    const check = await app.work(`Reading ${file.name}`, (tell) =>
      app.worker.ask("open", { name: file.name, bytes }, { tell }),
    );
    if (check !== undefined) app.mendTable({ name: file.name, bytes }, check);
  };
  if (file.bytes.length > longestText)
    return (
      <p class="quiet">
        The file is too long to edit here as text; change cells above, or edit it in a spreadsheet
        and open it again.
      </p>
    );
  return (
    <details
      onToggle={(event) => {
        if (event.currentTarget.open && text === undefined) open();
      }}
    >
      <summary>Edit the file as text</summary>
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
