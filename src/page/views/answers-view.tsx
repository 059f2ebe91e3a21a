import { capital } from "../../tables/number-format.js";
import { useApp, useChoice } from "../app.js";
import {
  AnswerView,
  ComingAnswer,
  DoubtsAndCautions,
  Headline,
  Sentences,
} from "../parts/answer-view.js";
import { OwnOptions, useOwn, useQuestion, WhatIsAsked } from "../parts/asked.js";
import { AveragesStrip } from "../parts/averages-strip.js";
import { FailedAnswer } from "../parts/failed-answer.js";
import { TableView } from "../parts/table-view.js";
import type { View } from "./view.js";

type Group = Readonly<{ id: string; group: string }>;

/** One answer, chosen among all, with its figures and what it rests on. */
const Closer = ({ groups }: Readonly<{ groups: readonly Group[] }>) => {
  const app = useApp();
  const own = useOwn("pool");
  const [wanted, choose] = useChoice("pool-outcome", "");
  const id = (groups.find((one) => one.id === wanted) ?? groups[0])?.id ?? "";
  const answer = useQuestion("pool", { ...own, outcome: id });
  return (
    <section>
      <h2>One answer, looked at closely</h2>
      <label class="row">
        <span>Outcome</span>
        <select value={id} onChange={(event) => choose(event.currentTarget.value)}>
          {groups.map((one) => (
            <option key={one.id} value={one.id}>
              {capital(one.group)}
            </option>
          ))}
        </select>
      </label>
      {answer.state === "failed" ? <FailedAnswer answer={answer} /> : null}
      {answer.state === "done" ? <AnswerView answer={answer.output} /> : null}
      <p>
        <button
          type="button"
          onClick={() => {
            app.choose({ "made-outcome": id, "made-effect": undefined });
            app.go("made");
          }}
        >
          How this number was made
        </button>
      </p>
    </section>
  );
};

const AnswersBody = () => {
  const { outcome: _one, ...own } = useOwn("pool");
  const answer = useQuestion("pool", own, "Pooling");
  const asked = (
    <WhatIsAsked>
      <OwnOptions id="pool" except={["outcome"]} />
    </WhatIsAsked>
  );
  // Where nothing is averaged, what stands in its place is shown whole.
  if (answer.state !== "done" || answer.output.data.refusal !== null)
    return (
      <>
        <ComingAnswer answer={answer}>{asked}</ComingAnswer>
        {answer.state === "done" && answer.output.data.groups.length > 0 ? (
          <Closer groups={answer.output.data.groups} />
        ) : null}
      </>
    );
  const { tables, data } = answer.output;
  return (
    <>
      <div class="answer">
        <Headline answer={answer.output} />
        <AveragesStrip answer={answer.output} />
        {asked}
        <details open={data.groups.length === 0}>
          <summary>In sentences and numbers</summary>
          <Sentences answer={answer.output} />
          {tables
            .filter(({ place }) => place === undefined)
            .map((table) => (
              <TableView key={table.id} table={table} />
            ))}
        </details>
        <DoubtsAndCautions answer={answer.output} />
      </div>
      {data.groups.length === 0 ? null : <Closer groups={data.groups} />}
    </>
  );
};

/** Pooled answers with both intervals in sight, and what each rests on. */
export const answersView: View = {
  id: "answers",
  label: "Answers",
  needsFile: true,
  shows:
    "Every outcome’s average with its interval, where a further study would fall, and what each rests on.",
  door: {
    title: "See what the evidence says",
    sentence: "Every outcome's average, how sure it is, and how far studies differ.",
  },
  Body: AnswersBody,
};
