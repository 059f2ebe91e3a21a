import type { ComponentChildren } from "preact";
import { useState } from "preact/hooks";
import type { Answer } from "../../answers/answer.js";
import { noteLines } from "../../tables/note-lines.js";
import { counted } from "../../tables/number-format.js";
import type { Table } from "../../tables/table.js";
import type { Coming } from "../app.js";
import { saveFile } from "../save-file.js";
import { CautionsList } from "../views/cautions-panel.js";
import { CardButton } from "./card-button.js";
import { FailedAnswer } from "./failed-answer.js";
import { FigureView } from "./figure-view.js";
import { Skeleton } from "./hold-strip.js";
import { TableView } from "./table-view.js";

/** Lines as a list; nothing where there are none. */
export const List = ({ items }: Readonly<{ items: readonly string[] }>) =>
  items.length === 0 ? null : (
    <ul>
      {items.map((item) => (
        <li key={item}>{item}</li>
      ))}
    </ul>
  );

export type AnswerViewProps = Readonly<{
  answer: Answer;
  /** Tables shown in place of the answer's own. */
  tables?: readonly Table[];
  /** False where the headline stands above, apart from the rest. */
  withHeadline?: boolean;
  /** What stands between the headline and the rest: how it was asked. */
  children?: ComponentChildren;
}>;

/** Letters from which on a headline is set smaller, so that the rest of the answer stays on the screen. */
const longHeadline = 130;

/** The sentence an answer is read for, with its card. */
export const Headline = ({
  answer,
  text = answer.headline,
}: Readonly<{ answer: Answer; text?: string }>) => (
  <div class={answer.data.refusal === null ? "with-card" : "with-card result-refusal"}>
    <p class={text.length > longHeadline ? "headline long" : "headline"}>{text}</p>{" "}
    <CardButton answer={answer} />
  </div>
);

/** What an answer says beneath its headline. */
export const Sentences = ({ answer }: Readonly<{ answer: Answer }>) => (
  <div class="sentences">
    {answer.sentences.slice(0, sentencesInSight).map((sentence) => (
      <p key={sentence}>{sentence}</p>
    ))}
    {answer.sentences.length <= sentencesInSight ? null : (
      <details>
        <summary>{counted(answer.sentences.length - sentencesInSight, "more sentence")}</summary>
        {answer.sentences.slice(sentencesInSight).map((sentence) => (
          <p key={sentence}>{sentence}</p>
        ))}
      </details>
    )}
  </div>
);

/** So many figures, tables and sentences of an answer stand in sight; a file with many outcomes has many more, which fold. */
const figuresInSight = 3;
const tablesInSight = 2;
const sentencesInSight = 6;

const Figures = ({ answer }: Readonly<{ answer: Answer }>) => {
  const [open, setOpen] = useState(false);
  const view = (some: Answer["figures"]) =>
    some.map((figure) => <FigureView key={figure.data.id} figure={figure} answer={answer} />);
  const more = answer.figures.slice(figuresInSight);
  return (
    <>
      {view(answer.figures.slice(0, figuresInSight))}
      {more.length === 0 ? null : (
        <details onToggle={(event) => setOpen(event.currentTarget.open)}>
          <summary>{counted(more.length, "more figure")}</summary>
          {open ? view(more) : null}
        </details>
      )}
    </>
  );
};

/** The tables with each note below the first that has it, those in sight before those that are folded. */
const notesOnce = (
  tables: readonly Table[],
  isFolded: (table: Table) => boolean,
): readonly Table[] => {
  const said = new Set<string>();
  const once = new Map<Table, Table>();
  for (const table of tables.toSorted((a, b) => Number(isFolded(a)) - Number(isFolded(b)))) {
    once.set(table, { ...table, notes: table.notes.filter((note) => !said.has(note)) });
    for (const note of table.notes) said.add(note);
  }
  return tables.map((table) => once.get(table)!);
};

/** So many sentences stand between a headline and its figures at most. */
const mostBeforeFigures = 4;

/** What of an answer stands below its headline and how it was asked. */
const Below = ({ answer, tables }: Readonly<{ answer: Answer; tables: Answer["tables"] }>) => {
  const shown = tables.filter(({ place }) => place !== "file");
  const behind = shown.filter(({ place }) => place === undefined).slice(tablesInSight);
  const isFolded = (table: Table): boolean => table.place === "folded" || behind.includes(table);
  return (
    <>
      {/* Of much that is said, the picture comes first. */}
      {answer.sentences.length > mostBeforeFigures ? (
        <>
          <Figures answer={answer} />
          <Sentences answer={answer} />
        </>
      ) : (
        <>
          <Sentences answer={answer} />
          <Figures answer={answer} />
        </>
      )}
      {notesOnce(shown, isFolded).map((table, at) =>
        isFolded(shown[at]!) ? (
          <details key={table.id}>
            <summary>{table.title}</summary>
            <TableView table={table} />
          </details>
        ) : (
          <TableView key={table.id} table={table} />
        ),
      )}
      {answer.sheets.map(({ name, title, html }) => (
        <button key={name} type="button" onClick={() => saveFile(name, html, "text/html")}>
          Save {title}
        </button>
      ))}
      <DoubtsAndCautions answer={answer} />
    </>
  );
};

/** Any answer, laid out the same: headline, how it was asked, sentences, figures, tables, doubts, cautions. */
export const AnswerView = ({
  answer,
  tables = answer.tables,
  withHeadline = true,
  children,
}: AnswerViewProps) => (
  <div class="answer">
    {withHeadline ? <Headline answer={answer} /> : null}
    {children}
    <Below answer={answer} tables={tables} />
  </div>
);

/** What every answer ends with. */
export const DoubtsAndCautions = ({ answer }: Readonly<{ answer: Answer }>) => (
  <>
    {answer.notes.length === 0 ? null : (
      <details>
        <summary>Doubts and notes</summary>
        <List items={noteLines(answer.notes)} />
      </details>
    )}
    {answer.cautions === null ? null : <CautionsList block={answer.cautions} />}
  </>
);

/**
 * An answer while it comes: its empty form, why there is none, or the answer; how it is asked stands below each.
 *
 * Its parts keep their places whatever comes, so that somebody who types into how it is asked goes on typing.
 */
export const ComingAnswer = ({
  answer,
  children,
}: Readonly<{ answer: Coming<Answer>; children: ComponentChildren }>) => {
  const shown =
    answer.state === "done" ? answer.output : answer.state === "failed" ? answer.last : undefined;
  return (
    <div class="answer">
      {answer.state === "done" ? (
        <Headline answer={answer.output} />
      ) : answer.state === "failed" ? (
        <FailedAnswer answer={answer} stands={answer.last !== undefined} />
      ) : (
        <Skeleton />
      )}
      {children}
      {answer.state === "failed" && answer.last !== undefined ? (
        <Headline answer={answer.last} />
      ) : null}
      {shown === undefined ? null : <Below answer={shown} tables={shown.tables} />}
    </div>
  );
};
