import { capital } from "../../tables/number-format.js";
import { useApp, useChoice } from "../app.js";
import { AnswerView } from "../parts/answer-view.js";
import { OwnOptions, useOwn, useQuestion, WhatIsAsked } from "../parts/asked.js";
import { FailedAnswer } from "../parts/failed-answer.js";
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
  const shown = answer.state === "done" ? answer.output : undefined;
  return (
    <>
      <p class="lead">
        Averages by outcome, each with its interval and with the range of a further study. A change
        from before to after contains learning and time as well as training; the answer against no
        exercise leaves those out.
      </p>
      <WhatIsAsked>
        <OwnOptions id="pool" except={["outcome"]} />
      </WhatIsAsked>
      {answer.state === "failed" ? <FailedAnswer answer={answer} /> : null}
      {shown === undefined ? null : (
        <>
          <AnswerView
            answer={{ ...shown, figures: shown.data.refusal === null ? [] : shown.figures }}
            tables={
              shown.data.refusal === null
                ? shown.tables.filter(({ place }) => place === undefined)
                : shown.tables
            }
          />
          {shown.data.groups.length === 0 ? null : <Closer groups={shown.data.groups} />}
        </>
      )}
    </>
  );
};

/** Pooled answers with both intervals in sight, and what each rests on. */
export const answersView: View = {
  id: "answers",
  label: "Answers",
  needsFile: true,
  door: {
    person: "For educators",
    title: "See what the evidence says",
    sentence: "Every outcome's average, how sure it is, and how far studies differ.",
  },
  Body: AnswersBody,
};
