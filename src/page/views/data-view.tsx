import type { QuestionOf } from "../../answers/question-list.js";
import type { AnswerTo } from "../../answers/question.js";
import { noteLines } from "../../tables/note-lines.js";
import { useApp, useAppState } from "../app.js";
import type { FileCheck } from "../jobs/open-job.js";
import { CopyText } from "../parts/copy-text.js";
import { OpenPanel } from "../parts/open-panel.js";
import { List } from "../parts/answer-view.js";
import { useQuestion } from "../parts/asked.js";
import { FillFromList } from "../parts/references-in.js";
import { TableView } from "../parts/table-view.js";
import { partsOf } from "../open-file.js";
import { saveFile } from "../save-file.js";
import { CuratePanel } from "./data/curate-panel.js";
import { FilesPanel } from "./data/files-panel.js";
import { ProblemList } from "./data/problem-list.js";
import { TextEditor } from "./data/text-editor.js";
import type { View } from "./view.js";

const delimiterNames: Readonly<Record<string, string>> = {
  ",": "comma",
  ";": "semicolon",
  "\t": "tab",
  "|": "vertical bar",
};

const counted = (count: number, one: string, many: string): string =>
  `${count} ${count === 1 ? one : many}`;

const problemsOf = ({ errors, warnings }: FileCheck): string =>
  errors + warnings === 0
    ? "No problem was found."
    : `${counted(errors, "problem", "problems")} to mend, ${warnings} to look at.`;

/** Tables of the check that stand here, and the rows of each at first sight. */
const rowsAtFirst: Readonly<Record<string, number>> = {
  "row-fates-counted": 15,
  "numbers-wanted": 5,
  completeness: 15,
};

const AboutFile = ({
  check,
  answer: { data, sentences, tables, notes },
}: Readonly<{ check: FileCheck; answer: AnswerTo<QuestionOf<"check">> }>) => {
  const letters = data.wanted.filter(({ letter }) => letter !== "");
  return (
    <>
      {tables
        .filter(({ id }) => id in rowsAtFirst)
        .map((table) => (
          <TableView key={table.id} table={table} rowsAtFirst={rowsAtFirst[table.id]!} />
        ))}
      {letters.length === 0 ? null : (
        <details>
          <summary>Letters to authors, with what is missing ({letters.length})</summary>
          {letters.map(({ study, letter }) => (
            <CopyText key={study} text={letter} what={`the letter about ${study}`} />
          ))}
        </details>
      )}
      <List items={[...sentences, ...noteLines(notes)]} />
      <dl class="facts">
        <dt>File</dt>
        <dd class="long-text">{check.name}</dd>
        {check.parts.length > 1 || check.parts[0]?.sheet !== undefined ? null : (
          <>
            <dt>Written in</dt>
            <dd>
              {data.encoding}, cells parted by {delimiterNames[data.delimiter] ?? data.delimiter}
            </dd>
          </>
        )}
        <dt>SHA-256</dt>
        <dd class="long-text">{check.fingerprint}</dd>
      </dl>
    </>
  );
};

type Wanted = AnswerTo<QuestionOf<"check">>["data"]["wanted"];

/** The number that would help most, beside the file itself. */
const MostWanted = ({ wanted: [first] }: Readonly<{ wanted: Wanted }>) =>
  first === undefined ? null : (
    <p>
      The number that would help most: {first.missing.join("; ")}, of {first.study}
      {first.adds[0] === undefined ? "" : ` (${first.adds[0]})`}.
    </p>
  );

const DataBody = () => {
  const app = useApp();
  const check = useAppState((state) => state.check);
  const file = useAppState((state) => state.file);
  const mends = useAppState((state) => state.earlier.length);
  const answer = useQuestion("check");
  if (check === undefined || file === undefined)
    return (
      <>
        <OpenPanel />
        <CuratePanel />
      </>
    );
  const problems = check.errors + check.warnings;
  const saveText = (): void => {
    for (const { name, bytes, mended } of partsOf(file))
      if (mended) saveFile(name, new Uint8Array(bytes), "text/csv");
  };
  return (
    <>
      <p class="lead">
        {answer.state === "done" ? `${answer.output.data.counts}. ` : ""}
        {problemsOf(check)}
      </p>
      {answer.state === "done" ? <MostWanted wanted={answer.output.data.wanted} /> : null}
      {check.parts.some(({ sheet }) => sheet !== undefined) || check.parts.length > 1 ? (
        <FilesPanel check={check} whole={file} />
      ) : null}
      {mends === 0 ? null : (
        <div class="row">
          <button type="button" class="main" onClick={saveText}>
            Save the mended file
          </button>
          <button type="button" onClick={() => void app.undoMend()}>
            Take the last mend back
          </button>
          <span class="quiet">
            {counted(mends, "mend", "mends")} so far; the file on disk is as it was.
          </span>
        </div>
      )}
      {problems === 0 ? null : (
        <>
          <h2>Problems and their mends</h2>
          <ProblemList key={check.fingerprint} check={check} />
        </>
      )}
      {check.parts.map(({ name, encoding, sheet }, at) =>
        sheet === undefined ? (
          <TextEditor
            key={`${check.fingerprint} ${name}`}
            whole={file}
            at={at}
            encoding={encoding}
          />
        ) : null,
      )}
      <h2>Rows and columns</h2>
      {answer.state === "done" ? <AboutFile check={check} answer={answer.output} /> : null}
      <FillFromList />
      <CuratePanel />
      <h2>Another file</h2>
      <OpenPanel />
    </>
  );
};

/** Whether the file can be used: rows' fates, problems with their mends in place, completeness. */
export const dataView: View = { id: "data", label: "Data", needsFile: false, Body: DataBody };
