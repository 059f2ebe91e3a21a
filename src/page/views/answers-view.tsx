import { useEffect, useState } from "preact/hooks";
import { capital } from "../../tables/number-format.js";
import { writeAddress } from "../address.js";
import { useApp, useAppState, useChoice } from "../app.js";
import {
  AnswerView,
  ComingAnswer,
  DoubtsAndCautions,
  Headline,
  Sentences,
} from "../parts/answer-view.js";
import { OwnOptions, useOwn, useQuestion, WhatIsAsked } from "../parts/asked.js";
import { AveragesStrip, type Sureness } from "../parts/averages-strip.js";
import { FailedAnswer } from "../parts/failed-answer.js";
import { TableView } from "../parts/table-view.js";
import { asOption, useDecisions } from "../parts/use-decisions.js";
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

/** Asks how sure each finding is, as the place of that name does, after everything else that is asked here. */
const AskedAfter = ({ onTold }: Readonly<{ onTold: (sure: Sureness) => void }>) => {
  const choices = useAppState((state) => state.address.choices);
  const [decided] = useDecisions();
  const { outcome: _one, decisions: _typed, ...own } = useOwn("certainty");
  const answer = useQuestion("certainty", { ...own, ...asOption(decided) });
  useEffect(() => {
    if (answer.state !== "done") return;
    const { data, tables } = answer.output;
    // Findings stand in their table in the order of the data.
    const rows = tables.find(({ id }) => id.startsWith("findings"))?.rows ?? [];
    const told = data.groups.filter(({ kind }) => kind === "told");
    onTold(
      new Map(
        told.map(({ group, id }, at) => [
          group,
          {
            words: rows[at]?.["sure"] ?? "",
            address: writeAddress({ view: "sure", choices: { ...choices, "sure-finding": id } }),
          },
        ]),
      ),
    );
  }, [answer.state === "done" ? answer.output : undefined]);
  return null;
};

const AnswersBody = () => {
  const { outcome: _one, ...own } = useOwn("pool");
  const answer = useQuestion("pool", own, "Pooling");
  const [sure, setSure] = useState<Readonly<{ of: object; sure: Sureness }>>();
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
        <AveragesStrip
          answer={answer.output}
          sure={sure?.of === answer.output ? sure.sure : undefined}
        />
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
      {/* A rating is of the average as it is usually made; another one is not called by it. */}
      {Object.keys(own).length > 0 ? null : (
        <AskedAfter onTold={(told) => setSure({ of: answer.output, sure: told })} />
      )}
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
