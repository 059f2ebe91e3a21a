import { useRef } from "preact/hooks";
import { statementFields, type StatementField } from "../../answers/statement-form.js";
import { writeTable } from "../../csv/write-table.js";
import { capital } from "../../tables/number-format.js";
import type { AnswerTo } from "../../answers/question.js";
import type { QuestionOf } from "../../answers/question-list.js";
import { useChoice } from "../app.js";
import { ComingAnswer } from "../parts/answer-view.js";
import { useQuestion, WhatIsAsked } from "../parts/asked.js";
import { useDraft } from "./use-draft.js";
import type { View } from "./view.js";

type Told = AnswerTo<QuestionOf<"statements">>["data"]["statements"];

const formFields = statementFields.filter((field) => field !== "statement");

/** Every statement with its form as a file, one cell changed; what is only proposed elsewhere stays a proposal. */
const withCell = (all: Told, place: number, field: StatementField, value: string): string =>
  writeTable(
    statementFields,
    all.map(({ form, proposed, statement }, at) =>
      statementFields.map((name) => {
        if (name === "statement") return statement;
        if (at === place && name === field) return value;
        return at !== place && proposed.includes(name) ? "" : (form[name] ?? "");
      }),
    ),
  );

/** The form of one statement, each field to be changed; what is asked stands beside it. */
const Form = ({
  all,
  place,
  onText,
}: Readonly<{ all: Told; place: number; onText: (text: string) => void }>) => {
  const { statement, form, proposed, asked, verdict } = all[place]!;
  const isOpen = asked.length > 0 || verdict === null;
  return (
    <details open={isOpen}>
      <summary>
        {statement}
        {isOpen ? " (to be completed)" : proposed.length > 0 ? " (read from its words)" : ""}
      </summary>
      {asked.length === 0 ? null : (
        <ul>
          {asked.map(({ field, question }) => (
            <li key={`${field} ${question}`}>
              {capital(field)}: {question}
            </li>
          ))}
        </ul>
      )}
      <div class="wishes">
        {formFields.map((field) => (
          <label key={field} class="wish">
            <span>
              {capital(field)}
              {proposed.includes(field) ? " (proposed)" : ""}
            </span>
            <input
              type="text"
              spellcheck={false}
              autocomplete="off"
              // Not held to the form's value: the view drawn anew would wipe out what is half typed.
              key={form[field] ?? ""}
              defaultValue={form[field] ?? ""}
              onChange={(event) => onText(withCell(all, place, field, event.currentTarget.value))}
            />
          </label>
        ))}
      </div>
    </details>
  );
};

const StatementsBody = () => {
  const [kept, keep] = useChoice("statements-statements", "");
  const [text, setText] = useDraft(kept, keep);
  const [sweep, setSweep] = useChoice("statements-sweep", "no");
  const chooser = useRef<HTMLInputElement>(null);
  const answer = useQuestion(
    "statements",
    { sweep: sweep === "yes", ...(text.trim() === "" ? {} : { statements: text }) },
    "Asking the file",
  );
  const all = answer.state === "done" ? answer.output.data.statements : [];
  return (
    <ComingAnswer answer={answer}>
      <div class="written">
        <label for="statements-text">
          Your statements, one a line; twenty of common practice while it is empty
        </label>
        <textarea
          id="statements-text"
          rows={2}
          placeholder="Longer holds make people stronger than short ones."
          value={text}
          onInput={(event) => setText(event.currentTarget.value)}
        />
        <p class="quiet">
          <button type="button" class="quiet-button" onClick={() => chooser.current?.click()}>
            Open a file of statements
          </button>
          <input
            ref={chooser}
            type="file"
            accept=".csv,.tsv,.txt,.json"
            hidden
            aria-label="A file of statements"
            onChange={(event) => {
              const [file] = event.currentTarget.files ?? [];
              void file?.text().then(setText);
            }}
          />
          <label>
            <input
              type="checkbox"
              checked={sweep === "yes"}
              onChange={(event) => setSweep(event.currentTarget.checked ? "yes" : "no")}
            />{" "}
            Ask each verdict under other choices too (takes longer)
          </label>
        </p>
      </div>
      <WhatIsAsked />
      {all.length === 0 ? null : (
        <details open={all.some(({ verdict }) => verdict === null)}>
          <summary>How each was read, to be changed</summary>
          {all.map(({ line }, place) => (
            <Form key={line} all={all} place={place} onText={setText} />
          ))}
        </details>
      )}
    </ComingAnswer>
  );
};

/** Statements as people teach them, each with its verdict and its form. */
export const statementsView: View = {
  id: "statements",
  label: "Statements",
  needsFile: true,
  shows: "Each sentence that is taught, with its verdict from the file.",
  Body: StatementsBody,
};
