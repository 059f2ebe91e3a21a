import { useState } from "preact/hooks";
import { counted } from "../../tables/number-format.js";
import { useApp } from "../app.js";

/** A list of references, pasted or chosen from disk, and what is done with it. */
export const ReferencesIn = ({
  summary,
  words,
  take,
}: Readonly<{ summary: string; words: string; take: (list: string) => Promise<string> }>) => {
  const [text, setText] = useState("");
  const [said, setSaid] = useState("");
  return (
    <details class="references-in">
      <summary>{summary}</summary>
      <label class="wish">
        <span>BibTeX or CSL-JSON, pasted</span>
        <textarea
          rows={4}
          spellcheck={false}
          value={text}
          onInput={(event) => setText(event.currentTarget.value)}
        />
      </label>
      <div class="row">
        <label class="wish">
          <span>or from a file</span>
          <input
            type="file"
            accept=".bib,.json,.txt"
            onChange={(event) =>
              void event.currentTarget.files?.[0]?.text().then((read) => setText(read))
            }
          />
        </label>
        <button
          type="button"
          disabled={text.trim() === ""}
          onClick={() => void take(text).then(setSaid)}
        >
          {words}
        </button>
        <span class="quiet" role="status">
          {said}
        </span>
      </div>
    </details>
  );
};

/** Fills citations, DOIs and years of the open file from a list of references. */
export const FillFromList = () => {
  const app = useApp();
  return (
    <ReferencesIn
      summary="Fill titles and DOIs from a list of references"
      words="Fill the file"
      take={async (list) => {
        const done = await app.work("Filling from the list", (tell) =>
          app.worker.ask("fill", list, { tell }),
        );
        if (done === undefined) return "";
        if (done.cells > 0) app.mendTable(done.file, done.check);
        return `${counted(done.cells, "cell")} filled from ${counted(done.works, "work")}.`;
      }}
    />
  );
};
