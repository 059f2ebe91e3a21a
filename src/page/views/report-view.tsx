import { useState } from "preact/hooks";
import { useAnswer, useApp } from "../app.js";
import type { ReportWritten } from "../jobs/report-job.js";
import { useFileKey, useOlder, useShared, WhatIsAsked } from "../parts/asked.js";
import { CopyText } from "../parts/copy-text.js";
import { FailedAnswer } from "../parts/failed-answer.js";
import { Skeleton } from "../parts/hold-strip.js";
import { asOption, useDecisions } from "../parts/use-decisions.js";
import { saveFile } from "../save-file.js";
import type { View } from "./view.js";

const typeOf = (name: string): string =>
  name.endsWith(".csv") ? "text/csv" : name.endsWith(".json") ? "application/json" : "text/plain";

/** Tables, results and numbers of the report, one by one. */
const Files = ({ files }: Pick<ReportWritten, "files">) => (
  <ul class="file-list">
    {files.map(({ name, content }) => (
      <li key={name}>
        <button
          type="button"
          class="quiet-button"
          onClick={() => saveFile(name.replace(/^.*\//, ""), content, typeOf(name))}
        >
          {name.replace(/^.*\//, "")}
        </button>
      </li>
    ))}
  </ul>
);

const Made = ({ html, brief, methods, cite }: ReportWritten) => {
  const [shown, show] = useState(false);
  return (
    <>
      <div class="row">
        <button
          type="button"
          class="main"
          onClick={() => saveFile("report.html", html, "text/html")}
        >
          Save the report
        </button>
        <button type="button" onClick={() => saveFile("brief.html", brief, "text/html")}>
          Save the brief
        </button>
        <button type="button" aria-expanded={shown} onClick={() => show(!shown)}>
          {shown ? "Back to the brief" : "Read it here"}
        </button>
        <span class="quiet">
          {shown ? "The whole report" : "Below: its brief, one page to print"}. The report is one
          file of {(html.length / 1e6).toFixed(1)} MB; opens anywhere.
        </span>
      </div>
      <iframe
        class="report"
        key={String(shown)}
        title={shown ? "The report" : "The brief"}
        sandbox=""
        srcdoc={shown ? html : brief}
      />
      <details>
        <summary>Methods, to copy</summary>
        <CopyText text={methods} what="the methods" />
      </details>
      <h2>To cite</h2>
      <CopyText text={cite} what="the citation" />
    </>
  );
};

const ReportBody = () => {
  const app = useApp();
  const options = useShared();
  const { older, olderKey } = useOlder();
  const [decisions] = useDecisions();
  const answer = useAnswer(
    `${useFileKey()} ${olderKey} ${JSON.stringify([options, decisions])}`,
    (tell) => {
      const { letters, type } = app.drawer;
      const asked = { options, older, ...asOption(decisions) };
      return app.worker.ask("writeReport", { ...asked, letters, type }, { tell });
    },
    "Writing the report",
  );
  return (
    <>
      <p class="lead">
        The whole analysis as one page to keep, send or print, with what became of every row.
      </p>
      {answer.state === "failed" ? <FailedAnswer answer={answer} /> : null}
      {answer.state === "waiting" ? <Skeleton /> : null}
      {answer.state === "done" ? (
        <>
          <Made {...answer.output} />
          <h2>Its tables and numbers, one by one</h2>
          <Files files={answer.output.files} />
        </>
      ) : null}
      <WhatIsAsked />
    </>
  );
};

/** The report as one file, its tables, and a sentence to cite. */
export const reportView: View = {
  id: "report",
  label: "Report",
  needsFile: true,
  shows: "The brief of one page, and the whole analysis to keep, send or print.",
  Body: ReportBody,
};
