import { useState } from "preact/hooks";
import { useAnswer, useApp, useAppState } from "../app.js";
import type { ReportWritten } from "../jobs/report-job.js";
import { useFileKey, useShared, WhatIsAsked } from "../parts/asked.js";
import { CopyText } from "../parts/copy-text.js";
import { FailedAnswer } from "../parts/failed-answer.js";
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

const Made = ({ html, methods, cite }: ReportWritten) => {
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
        <button type="button" aria-expanded={shown} onClick={() => show(!shown)}>
          {shown ? "Hide the report" : "Read it here"}
        </button>
        <span class="quiet">One file of {(html.length / 1e6).toFixed(1)} MB; opens anywhere.</span>
      </div>
      {shown ? <iframe class="report" title="The report" sandbox="" srcdoc={html} /> : null}
      <h2>Methods, to copy</h2>
      <CopyText text={methods} what="the methods" />
      <h2>To cite</h2>
      <CopyText text={cite} what="the citation" />
    </>
  );
};

const ReportBody = () => {
  const app = useApp();
  const options = useShared();
  const older = useAppState((state) => state.older);
  const [decisions] = useDecisions();
  const answer = useAnswer(
    `${useFileKey()} ${older?.name ?? ""} ${JSON.stringify([options, decisions])}`,
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
        The whole analysis as one page to keep, send or print: answers, figures, methods to copy,
        cautions, and what became of every row. It is the report the command line writes, with the
        same numbers.
      </p>
      <WhatIsAsked />
      {answer.state === "failed" ? <FailedAnswer answer={answer} /> : null}
      {answer.state === "done" ? (
        <>
          <Made {...answer.output} />
          <h2>Its tables and numbers, one by one</h2>
          <Files files={answer.output.files} />
        </>
      ) : null}
    </>
  );
};

/** The report as one file, its tables, and a sentence to cite. */
export const reportView: View = {
  id: "report",
  label: "Report",
  needsFile: true,
  Body: ReportBody,
};
