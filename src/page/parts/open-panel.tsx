import { useRef, useState } from "preact/hooks";
import { useApp } from "../app.js";
import { openDropped } from "../open-dropped.js";

/** Where a table comes in: dropped, chosen from disk, or one that ships with the page. */
export const OpenPanel = () => {
  const app = useApp();
  const input = useRef<HTMLInputElement>(null);
  const [over, setOver] = useState(false);
  const take = (files: FileList | null | undefined): void => {
    const file = files?.[0];
    if (file !== undefined) void openDropped(app, file);
  };
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
        take(event.dataTransfer?.files);
      }}
    >
      <p>
        Drop a CSV here, or a project saved from this page.
        <span class="quiet"> Columns as in the codebook; comma, semicolon or tab.</span>
      </p>
      <div class="row">
        <button type="button" class="main" onClick={() => input.current?.click()}>
          Choose a file
        </button>
        <input
          ref={input}
          type="file"
          hidden
          accept=".csv,.tsv,.txt,.json,text/csv,application/json"
          aria-label="Table or project"
          onChange={(event) => {
            take(event.currentTarget.files);
            event.currentTarget.value = "";
          }}
        />
        {app.shipped.map(({ name, label, text }) => (
          <button
            key={name}
            type="button"
            onClick={() => void app.openTable(name, new TextEncoder().encode(text))}
          >
            {label}
          </button>
        ))}
        <button type="button" onClick={() => void app.openDemo()}>
          Invented demonstration
        </button>
      </div>
    </div>
  );
};
