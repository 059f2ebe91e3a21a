import { useAnswer, useApp, useAppState } from "../app.js";
import type { AnswersShown } from "../jobs/answers-job.js";
import { ScaleChoice, useScale } from "../parts/scale-choice.js";
import { TableView } from "../parts/table-view.js";
import type { View } from "./view.js";

const capital = (text: string): string => text.charAt(0).toUpperCase() + text.slice(1);

const List = ({ items }: Readonly<{ items: readonly string[] }>) =>
  items.length === 0 ? null : (
    <ul>
      {items.map((item) => (
        <li key={item}>{item}</li>
      ))}
    </ul>
  );

const Shown = ({ shown }: Readonly<{ shown: AnswersShown }>) => (
  <>
    {shown.answers.length === 0 ? (
      <p>No row reached this scale, so there is no answer; the Data view says why.</p>
    ) : null}
    {shown.pooled.map((table) => (
      <TableView key={table.id} table={table} />
    ))}
    {shown.answers.map((answer) => (
      <section key={answer.id}>
        <h2>{capital(answer.label)}</h2>
        <p>{answer.sentence}</p>
        {answer.heterogeneity.map((sentence) => (
          <p key={sentence}>{sentence}</p>
        ))}
        <details>
          <summary>What this rests on</summary>
          <List items={[...answer.assumptions, ...answer.notes]} />
        </details>
      </section>
    ))}
    {shown.assumed === undefined ? null : <TableView table={shown.assumed} />}
    <h2>Methods, to copy</h2>
    <p>{shown.methods}</p>
    <List items={shown.works} />
    <h2>To cite</h2>
    <p class="long-text">{shown.cite}</p>
  </>
);

const AnswersBody = () => {
  const app = useApp();
  const check = useAppState((state) => state.check);
  const scale = useScale();
  const answer = useAnswer(
    `${check?.fingerprint ?? ""} ${check?.name ?? ""} ${scale}`,
    (tell) => app.worker.ask("answers", { scale }, { tell }),
    "Pooling",
  );
  return (
    <>
      <p class="lead">
        Averages by outcome, each with its interval and with the range where a new study would fall.
        A change within an arm contains learning and time as well as training; the answer against a
        control leaves those out.
      </p>
      <ScaleChoice />
      {answer.state === "failed" ? <p role="alert">{answer.failure.message}</p> : null}
      {answer.state === "done" ? <Shown shown={answer.output} /> : null}
    </>
  );
};

/** Pooled answers with both intervals in sight, what they rest on, and a sentence to cite. */
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
