import { useEffect, useRef, useState } from "preact/hooks";
import { useApp, useAppState } from "../app.js";
import { forget, kept, type KeptFile } from "../kept-on-machine.js";
import { partsOf } from "../open-file.js";
import { addChosen, openDropped } from "../open-dropped.js";

/** Tables that can be opened. */
export const tables =
  ".csv,.tsv,.txt,.xlsx,.xlsm,text/csv,application/vnd.openxmlformats-officedocument.spreadsheetml.sheet";

/** A button that lets a person choose a file from disk. */
export const FileButton = ({
  words,
  label,
  accept,
  main = false,
  take,
}: Readonly<{
  words: string;
  label: string;
  accept: string;
  main?: boolean;
  take: (file: File) => Promise<void>;
}>) => {
  const input = useRef<HTMLInputElement>(null);
  return (
    <>
      <button type="button" class={main ? "main" : ""} onClick={() => input.current?.click()}>
        {words}
      </button>
      <input
        ref={input}
        type="file"
        hidden
        accept={accept}
        aria-label={label}
        onChange={(event) => {
          const file = event.currentTarget.files?.[0];
          if (file !== undefined) void take(file);
          event.currentTarget.value = "";
        }}
      />
    </>
  );
};

/** The file as it was last changed in this browser, to go on with or to delete. */
const KeptLine = () => {
  const app = useApp();
  const [one, setOne] = useState<KeptFile>();
  useEffect(() => void kept<KeptFile>("file").then(setOne), []);
  if (one === undefined) return null;
  const names = partsOf(one.file).map(({ name }) => name);
  return (
    <div class="row kept-file">
      <span>
        Kept on this machine: <strong class="long-text">{names.join(" with ")}</strong>, as you
        changed it on {one.at.toLocaleString("en-GB", { dateStyle: "medium", timeStyle: "short" })}.
      </span>
      <button type="button" onClick={() => void app.openTable(one.file)}>
        Go on with it
      </button>
      <button
        type="button"
        class="quiet-button"
        onClick={() => void forget("file").then(() => setOne(undefined))}
      >
        Delete it from this machine
      </button>
    </div>
  );
};

/** Where a table comes in: dropped, chosen from disk, or one that ships with the page. */
export const OpenPanel = () => {
  const app = useApp();
  const hasFile = useAppState((state) => state.file !== undefined);
  const [over, setOver] = useState(false);
  return (
    <div
      class={over ? "drop over" : "drop"}
      onDragOver={(event) => {
        event.preventDefault();
        setOver(true);
      }}
      onDragLeave={() => setOver(false)}
      onDrop={(event) => {
        event.preventDefault();
        event.stopPropagation();
        setOver(false);
        const file = event.dataTransfer?.files[0];
        if (file !== undefined) void openDropped(app, file);
      }}
    >
      <KeptLine />
      <p>
        Drop a CSV or a workbook (.xlsx) here, or a project saved from this page.
        <span class="quiet"> Columns as in the codebook; comma, semicolon or tab.</span>
      </p>
      <div class="row">
        <FileButton
          words="Choose a file"
          label="Table or project"
          accept={`${tables},.json,application/json`}
          main
          take={(file) => openDropped(app, file)}
        />
        {app.shipped.map(({ name, label, text }) => (
          <button
            key={name}
            type="button"
            onClick={() => void app.openTable({ name, bytes: new TextEncoder().encode(text) })}
          >
            {label}
          </button>
        ))}
        <button type="button" onClick={() => void app.openDemo()}>
          Invented demonstration
        </button>
      </div>
      {hasFile ? (
        <div class="row">
          <FileButton
            words="Add a file to the open one"
            label="Table to add"
            accept={tables}
            take={(file) => addChosen(app, file)}
          />
          <span class="quiet">Both are read as one; the same people in both are counted once.</span>
        </div>
      ) : null}
    </div>
  );
};
