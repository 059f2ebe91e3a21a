import { useState } from "preact/hooks";
import { exampleTable } from "../../../demo/example-table.js";
import { codebookTold } from "../../../records/codebook-page.js";
import { useApp } from "../../app.js";
import { saveFile } from "../../save-file.js";
import { writeAddress } from "../../address.js";

/** What opens with its summary, made only then. */
const Unfolded = ({
  summary,
  draw,
}: Readonly<{ summary: string; draw: () => preact.ComponentChildren }>) => {
  const [open, setOpen] = useState(false);
  return (
    <details onToggle={(event) => setOpen(event.currentTarget.open)}>
      <summary>{summary}</summary>
      {open ? draw() : null}
    </details>
  );
};

/** What someone who begins a file needs: a blank table, what each column means, what the words mean. */
export const CuratePanel = () => {
  const app = useApp();
  const { choices } = app.store.get().address;
  return (
    <section aria-labelledby="curate">
      <h2 id="curate">From a paper to a row</h2>
      <div class="row">
        <a class="button" href={writeAddress({ view: "add", choices })}>
          Add a trial
        </a>
        <button
          type="button"
          onClick={() => saveFile("my-trials.csv", exampleTable(), "text/csv")}
        >
          Save a blank table with an example row
        </button>
      </div>
      <Unfolded
        summary="Codebook: what each column means"
        draw={() =>
          codebookTold().map(({ title, columns }) => (
            <section key={title}>
              <h3>{title}</h3>
              <dl class="facts">
                {columns.map(({ column, what, values, level }) => (
                  <>
                    <dt>
                      <code>{column}</code>
                    </dt>
                    <dd>
                      {what} <span class="quiet">{`${values}; ${level}`}</span>
                    </dd>
                  </>
                ))}
              </dl>
            </section>
          ))
        }
      />
      <Unfolded
        summary="Glossary: what the words mean"
        draw={() => (
          <dl class="facts">
            {app.glossary.map(({ term, meaning }) => (
              <>
                <dt>{term}</dt>
                <dd>{meaning}</dd>
              </>
            ))}
          </dl>
        )}
      />
    </section>
  );
};
