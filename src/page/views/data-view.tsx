import { noteLines } from "../../tables/note-lines.js";
import { useApp, useAppState } from "../app.js";
import type { FileCheck } from "../jobs/open-job.js";
import { OpenPanel } from "../parts/open-panel.js";
import { List } from "../parts/answer-view.js";
import { useQuestion } from "../parts/asked.js";
import { TableView } from "../parts/table-view.js";
import { saveFile } from "../save-file.js";
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

const verdict = ({ rowsInFile, rowsByFate, errors, warnings }: FileCheck): string => {
  const used = rowsByFate.used + rowsByFate["used with a warning"];
  const rest = [
    ...(rowsByFate.refused > 0 ? [`${rowsByFate.refused} refused until mended`] : []),
    ...(rowsByFate["set aside"] > 0 ? [`${rowsByFate["set aside"]} set aside`] : []),
  ];
  const rows = `${used} of ${counted(rowsInFile, "row", "rows")} can be used${rest.length === 0 ? "" : `; ${rest.join(", ")}`}.`;
  const problems =
    errors + warnings === 0
      ? "No problem was found."
      : `${counted(errors, "problem", "problems")} to mend, ${warnings} to look at.`;
  return `${rows} ${problems}`;
};

const AboutFile = ({ check }: Readonly<{ check: FileCheck }>) => {
  const answer = useQuestion("check");
  if (answer.state !== "done") return null;
  const { data, sentences, tables, notes } = answer.output;
  return (
    <>
      {tables
        .filter(({ id }) => id === "row-fates-counted" || id === "completeness")
        .map((table) => (
          <TableView key={table.id} table={table} rowsAtFirst={15} />
        ))}
      <List items={[...sentences, ...noteLines(notes)]} />
      <dl class="facts">
        <dt>File</dt>
        <dd class="long-text">{check.name}</dd>
        <dt>Written in</dt>
        <dd>
          {data.encoding}, cells parted by {delimiterNames[data.delimiter] ?? data.delimiter}
        </dd>
        <dt>SHA-256</dt>
        <dd class="long-text">{check.fingerprint}</dd>
      </dl>
    </>
  );
};

const DataBody = () => {
  const app = useApp();
  const check = useAppState((state) => state.check);
  const mends = useAppState((state) => state.earlier.length);
  if (check === undefined) return null;
  const problems = check.errors + check.warnings;
  const saveText = (): void => {
    const { file } = app.store.get();
    if (file !== undefined) saveFile(file.name, new Uint8Array(file.bytes), "text/csv");
  };
  return (
    <>
      <p class="lead">{verdict(check)}</p>
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
      <TextEditor key={check.fingerprint} />
      <h2>Rows and columns</h2>
      <AboutFile check={check} />
      <h2>Another file</h2>
      <OpenPanel />
    </>
  );
};

/** Whether the file can be used: rows' fates, problems with their mends in place, completeness. */
export const dataView: View = { id: "data", label: "Data", needsFile: true, Body: DataBody };
