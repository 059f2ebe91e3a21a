import { useState } from "preact/hooks";
import type { MarkedNumber } from "../../../records/abstract-numbers.js";
import { markWords } from "./entry-field.js";

/** A pasted text with its numbers marked; a click puts one into the field that was used last. */
export const MarkedText = ({
  text,
  marks,
  used,
  fits,
  onRead,
  onChoose,
}: Readonly<{
  text: string;
  marks: readonly MarkedNumber[];
  used: readonly number[];
  fits: (mark: MarkedNumber) => boolean;
  onRead: (text: string) => void;
  onChoose: (mark: MarkedNumber) => void;
}>) => {
  const [typed, setTyped] = useState<string>();
  if (text === "" || typed !== undefined)
    return (
      <>
        <label class="wish">
          <span>Abstract, or the piece of the paper with the numbers</span>
          <textarea
            rows={text === "" ? 5 : 12}
            value={typed ?? ""}
            placeholder="Paste it here"
            onInput={(event) => {
              const { value } = event.currentTarget;
              // What comes in one piece was pasted, and is marked at once.
              if (text === "" && (typed ?? "") === "" && value.length > 40) onRead(value);
              else setTyped(value);
            }}
          />
        </label>
        {(typed ?? "") === "" ? null : (
          <button
            type="button"
            onClick={() => {
              onRead(typed ?? "");
              setTyped(undefined);
            }}
          >
            Mark its numbers
          </button>
        )}
      </>
    );
  const pieces: (string | MarkedNumber)[] = [];
  let from = 0;
  for (const mark of marks) {
    pieces.push(text.slice(from, mark.start), mark);
    from = mark.end;
  }
  pieces.push(text.slice(from));
  return (
    <>
      <p class="quiet">
        {marks.length} {marks.length === 1 ? "number" : "numbers"}; none is placed by itself. Go to
        a field, then click its number here or press ↓ there.
      </p>
      <div class="marked" tabIndex={0} role="region" aria-label="The text with its numbers">
        {pieces.map((piece) =>
          typeof piece === "string" ? (
            piece
          ) : (
            <button
              key={piece.start}
              type="button"
              tabIndex={-1}
              class={`number-mark${used.includes(piece.start) ? " used" : ""}${fits(piece) ? " fits" : ""}`}
              title={markWords(piece)}
              // The field keeps the cursor.
              onMouseDown={(event) => event.preventDefault()}
              onClick={() => onChoose(piece)}
            >
              {text.slice(piece.start, piece.end)}
            </button>
          ),
        )}
      </div>
      <button type="button" class="quiet-button" onClick={() => setTyped(text)}>
        Change the text
      </button>
    </>
  );
};
