import { useState } from "preact/hooks";
import { useAnswer, useApp } from "../../app.js";
import type { FileCheck } from "../../jobs/open-job.js";
import type { Mend } from "../../jobs/mend-job.js";
import { FailedAnswer } from "../../parts/failed-answer.js";
import { problemsAtOnce, type Problem } from "../../jobs/problems.js";

const keyOf = ({ issue, place }: Problem): string =>
  JSON.stringify([issue.line, place?.kind === "cell" ? issue.column : ""]);

type Changes = Readonly<Record<string, Mend>>;

const ProblemCard = ({
  problem,
  change,
  onChange,
}: Readonly<{
  problem: Problem;
  change: Mend | undefined;
  onChange: (text: string) => void;
}>) => {
  const { issue, where, place } = problem;
  return (
    <li class={issue.severity === "error" ? "mend-item" : "mend-item mild"}>
      <p class="mend-place">
        <strong>{where}</strong>
        <span class="mend-kind">{issue.severity === "error" ? "to mend" : "to look at"}</span>
      </p>
      <p>
        {issue.message}
        {issue.value === "" ? null : (
          <>
            : <code>{issue.value}</code>
          </>
        )}
      </p>
      <p class="quiet">{issue.mend}</p>
      {place === undefined ? null : (
        <label class="mend">
          <span>{place.kind === "cell" ? "Cell" : "Line"}</span>
          <input
            type="text"
            spellcheck={false}
            autocomplete="off"
            class={change === undefined ? "" : "changed"}
            value={change?.text ?? place.text}
            aria-label={`${place.kind === "cell" ? "Cell" : "Line"} at ${where}`}
            onInput={(event) => onChange(event.currentTarget.value)}
          />
        </label>
      )}
    </li>
  );
};

const List = ({
  problems,
  of,
  from,
  onMove,
}: Readonly<{
  problems: readonly Problem[];
  of: number;
  from: number;
  onMove: (from: number) => void;
}>) => {
  const app = useApp();
  const [changes, setChanges] = useState<Changes>({});
  const count = Object.keys(changes).length;
  const change = (problem: Problem, text: string): void => {
    const { issue, place } = problem;
    const { [keyOf(problem)]: _before, ...others } = changes;
    setChanges(
      text === place?.text
        ? others
        : {
            ...others,
            [keyOf(problem)]: {
              line: issue.line,
              column: place?.kind === "cell" ? issue.column : "",
              text,
            },
          },
    );
  };
  const mend = async (): Promise<void> => {
    const mends = Object.values(changes);
    if (mends.length === 0) return;
    const done = await app.work("Checking again", (tell) =>
      app.worker.ask("mend", { mends }, { tell }),
    );
    if (done !== undefined) app.mendTable(done.file, done.check);
  };
  return (
    <form
      onSubmit={(event) => {
        event.preventDefault();
        void mend();
      }}
    >
      <ol class="mend-list" start={from + 1}>
        {problems.map((problem, place) => (
          <ProblemCard
            key={`${keyOf(problem)} ${place}`}
            problem={problem}
            change={changes[keyOf(problem)]}
            onChange={(text) => change(problem, text)}
          />
        ))}
      </ol>
      <div class="row mend-bar">
        <button type="submit" class="main" disabled={count === 0}>
          {count === 0
            ? "Check again"
            : `Check again with ${count} ${count === 1 ? "change" : "changes"}`}
        </button>
        {from > 0 ? (
          <button type="button" onClick={() => onMove(Math.max(0, from - problemsAtOnce))}>
            Earlier problems
          </button>
        ) : null}
        {from + problems.length < of ? (
          <button type="button" onClick={() => onMove(from + problemsAtOnce)}>
            Later problems
          </button>
        ) : null}
        <span class="quiet">
          {from + 1} to {from + problems.length} of {of}
        </span>
      </div>
    </form>
  );
};

/** Problems beyond the first, which the worker is asked for. */
const LaterProblems = ({
  check,
  from,
  onMove,
}: Readonly<{ check: FileCheck; from: number; onMove: (from: number) => void }>) => {
  const app = useApp();
  const answer = useAnswer(`${check.fingerprint} ${from}`, () =>
    app.worker.ask("problems", { from }),
  );
  if (answer.state === "failed") return <FailedAnswer answer={answer} />;
  if (answer.state === "waiting") return <p class="quiet">Looking up the problems</p>;
  return (
    <List
      key={from}
      problems={answer.output}
      of={check.errors + check.warnings}
      from={from}
      onMove={onMove}
    />
  );
};

/** The problems of a table, each with its place, its mend, and its cell to change. */
export const ProblemList = ({ check }: Readonly<{ check: FileCheck }>) => {
  const [from, setFrom] = useState(0);
  return from === 0 ? (
    <List problems={check.problems} of={check.errors + check.warnings} from={0} onMove={setFrom} />
  ) : (
    <LaterProblems check={check} from={from} onMove={setFrom} />
  );
};
