import { useState } from "preact/hooks";
import {
  judgedFields,
  judgedWords,
  withJudgements,
  type JudgedField,
  type JudgedStudies,
} from "../../answers/coded-risk.js";
import { readTable } from "../../csv/read-table.js";
import { writeTable } from "../../csv/write-table.js";
import { counted } from "../../tables/number-format.js";
import { useApp, useAppState, useChoice } from "../app.js";
import { asOne, partsOf, type OpenFile } from "../open-file.js";
import { useQuestion } from "../parts/asked.js";
import { FailedAnswer } from "../parts/failed-answer.js";
import { Skeleton } from "../parts/hold-strip.js";
import { NotYet } from "../parts/not-yet.js";
import { TableView } from "../parts/table-view.js";
import { saveFile } from "../save-file.js";
import type { View } from "./view.js";

const labels: Readonly<Record<JudgedField, string>> = {
  riskRandomisation: "How people came into the arms",
  riskDeviations: "Departures from the intended training",
  riskMissingData: "People who were not measured",
  riskMeasurement: "How the outcome was measured",
  riskReportedResult: "Choice of the reported result",
  riskReason: "Reason",
};

const shown = (word: string): string => (word === "" ? "not coded" : word);

const RiskBody = () => {
  const app = useApp();
  const file = useAppState((state) => state.file);
  const check = useAppState((state) => state.check);
  const answer = useQuestion("risk-of-bias");
  const [judged, setJudged] = useState<JudgedStudies>({});
  const [wanted, choose] = useChoice("risk-study", "");
  if (file === undefined || check === undefined) return null;
  if (answer.state === "failed") return <FailedAnswer answer={answer} />;
  if (answer.state === "waiting") return <Skeleton />;
  const { studies } = answer.output.data;
  const coded = studies.filter(({ overall }) => overall !== "not coded");
  const codes = answer.output.tables.find(({ id }) => id === "risk-of-bias-studies");
  const one = studies.find(({ study }) => study === wanted) ?? studies[0];
  if (one === undefined)
    return <p class="lead">Risk of bias is coded by study, in a file of the codebook's columns.</p>;
  const changedStudies = Object.keys(judged).length;
  /** A file's rows with the judgements; of a workbook the rows are saved, and the sheet stays as it is. */
  const rowsIn = (part: OpenFile, at: number) => {
    const text = new TextDecoder(check.parts[at]?.encoding ?? "utf-8").decode(part.bytes);
    return withJudgements(readTable(text), judged);
  };
  const parts = partsOf(file);
  const areText = check.parts.every(({ sheet }) => sheet === undefined);
  const save = (): void => {
    for (const [at, part] of parts.entries()) {
      const { header, changed } = rowsIn(part, at);
      if (changed.length > 0)
        saveFile(`changed-rows-${part.name}`, writeTable(header, changed), "text/csv");
    }
  };
  const use = async (): Promise<void> => {
    const mended = parts.map((part, at): OpenFile => {
      const { header, rows, changed } = rowsIn(part, at);
      return changed.length === 0
        ? part
        : {
            name: part.name,
            bytes: new TextEncoder().encode(writeTable(header, rows)),
            mended: true,
          };
    });
    const whole = asOne(mended)!;
    const checked = await app.work(`Reading ${file.name}`, (tell) =>
      app.worker.ask("open", whole, { tell }),
    );
    if (checked === undefined) return;
    app.mendTable(whole, checked);
    setJudged({});
  };
  const valueOf = (field: JudgedField): string => {
    const own = judged[one.study]?.[field];
    if (own !== undefined) return own;
    const coded = field === "riskReason" ? one.reason : (one[field] as string | undefined);
    return coded === undefined || coded === null || coded === "not coded" ? "" : coded;
  };
  const judge = (field: JudgedField, word: string): void =>
    setJudged((before) => ({
      ...before,
      [one.study]: { ...before[one.study], [field]: word },
    }));
  return (
    <div class="risk">
      <p class="lead">
        Five domains for each study, and why. Judge the result that is used, not the paper as a
        whole.
      </p>
      <label class="wish">
        <span>Study</span>
        <select value={one.study} onChange={(event) => choose(event.currentTarget.value)}>
          {studies.map(({ study, overall }) => (
            <option key={study} value={study}>
              {study}: {judged[study] === undefined ? overall : "changed here"}
            </option>
          ))}
        </select>
      </label>
      <div class="wishes" key={one.study}>
        {judgedFields.map((field) => (
          <label key={field} class={field === "riskReason" ? "wish whole-line" : "wish"}>
            <span>{labels[field]}</span>
            {field === "riskReason" ? (
              <input
                type="text"
                value={valueOf(field)}
                onInput={(event) => judge(field, event.currentTarget.value)}
              />
            ) : (
              <select
                value={valueOf(field)}
                onChange={(event) => judge(field, event.currentTarget.value)}
              >
                {judgedWords.map((word) => (
                  <option key={word} value={word}>
                    {shown(word)}
                  </option>
                ))}
              </select>
            )}
          </label>
        ))}
      </div>
      <div class="row">
        {areText ? (
          <>
            <button
              type="button"
              class="main"
              disabled={changedStudies === 0}
              onClick={() => void use()}
            >
              Use these judgements
            </button>
            <button type="button" disabled={changedStudies === 0} onClick={save}>
              Save the changed rows
            </button>
            <span class="quiet">
              {counted(changedStudies, "study", "studies")} changed; the file on disk is as it was.
            </span>
          </>
        ) : (
          <p class="quiet">Save the sheet as CSV first: its rows are changed as text here.</p>
        )}
      </div>
      {coded.length === 0 ? (
        <NotYet form="domains" parts="A line for each study, a field for each of the five domains.">
          None of {counted(studies.length, "study", "studies")} is coded yet. Judgements that are
          used stand here, and How sure weighs them.
        </NotYet>
      ) : codes === undefined ? null : (
        <TableView table={codes} />
      )}
    </div>
  );
};

/** Risk of bias of each study, coded domain by domain. */
export const riskView: View = {
  id: "risk",
  label: "Risk of bias",
  needsFile: true,
  shows: "Five domains for each study, to be judged and kept in the file.",
  Body: RiskBody,
};
