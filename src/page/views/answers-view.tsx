import { useAnswer, useApp, useAppState, useChoice } from "../app.js";
import type { AnswerInDepth, AnswersShown } from "../jobs/answers-job.js";
import { CopyText } from "../parts/copy-text.js";
import { FailedAnswer } from "../parts/failed-answer.js";
import { FigureView } from "../parts/figure-view.js";
import { ScaleChoice, useScale } from "../parts/scale-choice.js";
import { TableView } from "../parts/table-view.js";
import { reportWords, type RecipeWords } from "../recipe-words.js";
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

const Depth = ({ depth, words }: Readonly<{ depth: AnswerInDepth; words: RecipeWords }>) => (
  <>
    <List items={depth.heterogeneity} />
    {depth.figures.map((figure) => (
      <FigureView key={figure.id} figure={figure} words={words} />
    ))}
    <details>
      <summary>What this rests on</summary>
      <List items={[...depth.assumptions, ...depth.notes]} />
    </details>
    {depth.model.length === 0 ? null : (
      <details>
        <summary>The model, with and without cluster-robust errors</summary>
        {depth.model.map((table) => (
          <TableView key={table.id} table={table} />
        ))}
      </details>
    )}
    <details>
      <summary>Every effect, with the route it came by</summary>
      <TableView table={depth.effects} />
    </details>
  </>
);

/** One answer, chosen among all, with its figures and what it rests on. */
const Closer = ({ shown }: Readonly<{ shown: AnswersShown }>) => {
  const app = useApp();
  const check = useAppState((state) => state.check);
  const scale = useScale();
  const first = shown.answers[0]?.id ?? "";
  const [wanted, choose] = useChoice("answers-one", first);
  const chosen = shown.answers.find(({ id }) => id === wanted) ?? shown.answers[0];
  const id = chosen?.id ?? "";
  const answer = useAnswer(
    `${check?.fingerprint ?? ""} ${check?.name ?? ""} ${scale} ${id}`,
    (tell) => app.worker.ask("answer", { scale, id }, { tell }),
  );
  if (chosen === undefined) return null;
  return (
    <section>
      <h2>One answer, looked at closely</h2>
      <label class="row">
        <span>Outcome</span>
        <select value={id} onChange={(event) => choose(event.currentTarget.value)}>
          {shown.answers.map((one) => (
            <option key={one.id} value={one.id}>
              {capital(one.label)}
            </option>
          ))}
        </select>
      </label>
      <p class="lead">{chosen.sentence}</p>
      <p>
        <button
          type="button"
          onClick={() => {
            app.choose({ "made-answer": id });
            app.go("made");
          }}
        >
          How this number was made
        </button>
      </p>
      {answer.state === "failed" ? <FailedAnswer answer={answer} /> : null}
      {answer.state === "done" && answer.output !== undefined ? (
        <Depth depth={answer.output} words={reportWords(scale)} />
      ) : null}
    </section>
  );
};

const Shown = ({ shown }: Readonly<{ shown: AnswersShown }>) => (
  <>
    {shown.answers.length === 0 ? (
      <p>No row reached this scale, so there is no answer; the Data view says why.</p>
    ) : (
      <ul class="answers">
        {shown.answers.map(({ id, label, sentence }) => (
          <li key={id}>
            <strong>{capital(label)}</strong>
            <p>{sentence}</p>
          </li>
        ))}
      </ul>
    )}
    {shown.pooled.map((table) => (
      <TableView key={table.id} table={table} />
    ))}
    <Closer shown={shown} />
    {shown.assumed === undefined ? null : (
      <>
        <h2>What had to be assumed</h2>
        <TableView table={shown.assumed} />
      </>
    )}
    <h2>Methods, to copy</h2>
    <CopyText text={shown.methods} what="the methods" />
    <details>
      <summary>Works the methods rest on</summary>
      <List items={shown.works} />
    </details>
    <h2>To cite</h2>
    <CopyText text={shown.cite} what="the citation" />
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
      {answer.state === "failed" ? <FailedAnswer answer={answer} /> : null}
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
