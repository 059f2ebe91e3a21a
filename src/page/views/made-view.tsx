import type { EffectMade } from "../../answers/made.js";
import type { AverageWorking } from "../../answers/working/average-working.js";
import { linesNamed } from "../../answers/named-lines.js";
import { useAppState, useChoice } from "../app.js";
import { Headline } from "../parts/answer-view.js";
import { useOwn, useQuestion, WhatIsAsked } from "../parts/asked.js";
import { FailedAnswer } from "../parts/failed-answer.js";
import { TableView } from "../parts/table-view.js";
import { Skeleton } from "../parts/hold-strip.js";
import type { View } from "./view.js";
import { StepLines, WorkingLines } from "./working-lines.js";

type Named = Readonly<{ id: string; name: string }>;

const Pick = ({
  label,
  value,
  items,
  onChange,
}: Readonly<{
  label: string;
  value: string;
  items: readonly Named[];
  onChange: (id: string) => void;
}>) => (
  <label class="wish">
    <span>{label}</span>
    <select value={value} onChange={(event) => onChange(event.currentTarget.value)}>
      {items.map(({ id, name }) => (
        <option key={id} value={id}>
          {name}
        </option>
      ))}
    </select>
  </label>
);

const Average = ({
  answer,
}: Readonly<{ answer: Readonly<{ working?: AverageWorking | undefined }> }>) => (
  <>
    {answer.working === undefined ? (
      <p>This answer is no average of several studies, so there is nothing to weigh.</p>
    ) : (
      <>
        <StepLines steps={answer.working.steps} />
        <p class="source">{answer.working.source}</p>
        <TableView table={answer.working.weights} rowsAtFirst={20} />
      </>
    )}
  </>
);

const OneEffect = ({ effect }: Readonly<{ effect: EffectMade }>) => {
  const files = useAppState((state) => state.check?.files) ?? [];
  return (
    <>
      <p>
        <strong>{effect.shown}</strong>, {effect.name}.
      </p>
      <h3>1. What the source prints</h3>
      <p>
        {effect.source} <span class="quiet">({linesNamed(files, effect.place)})</span>
      </p>
      <TableView table={effect.printed} />
      <h3>2. The way from there</h3>
      <p>
        {effect.route.charAt(0).toUpperCase()}
        {effect.route.slice(1)}.
      </p>
      <h3>3. With the numbers put in</h3>
      {effect.working === undefined ? (
        <p>
          This route is told in words only: the numbers above lead to the effect by the formula that
          is named.
        </p>
      ) : (
        <>
          {effect.working.arms.map((working) => (
            <WorkingLines key={working.title} working={working} />
          ))}
          {effect.working.last.length === 0 ? null : <StepLines steps={effect.working.last} />}
          <p class="quiet">
            Each line shows six digits; the calculation behind it uses all there are, and its end
            was held against the effect.
          </p>
        </>
      )}
      {effect.notes.length === 0 ? null : (
        <>
          <h3>Doubts about it</h3>
          <ul>
            {effect.notes.map((note) => (
              <li key={note}>{note}</li>
            ))}
          </ul>
        </>
      )}
    </>
  );
};

const MadeBody = () => {
  const [, setOutcome] = useChoice("made-outcome", "");
  const [, setEffect] = useChoice("made-effect", "");
  const answer = useQuestion("made", useOwn("made"), "Working out");
  const shown = answer.state === "done" ? answer.output : undefined;
  return (
    <div class="made">
      {answer.state === "failed" ? <FailedAnswer answer={answer} /> : null}
      {answer.state === "waiting" ? <Skeleton /> : null}
      {shown === undefined ? null : shown.data.answer === undefined ? (
        <Headline answer={shown} />
      ) : (
        <>
          <h2>An average</h2>
          <Pick
            label="Average"
            value={shown.data.answer.id}
            items={shown.data.answers}
            onChange={(id) => {
              setEffect(undefined);
              setOutcome(id);
            }}
          />
          <Headline answer={shown} text={shown.data.answer.sentence} />
          <Average answer={shown.data.answer} />
          <h2>One effect in it</h2>
          {shown.data.effect === undefined ? null : (
            <>
              <Pick
                label="Effect"
                value={shown.data.effect.id}
                items={shown.data.effects}
                onChange={setEffect}
              />
              <OneEffect effect={shown.data.effect} />
            </>
          )}
        </>
      )}
      <WhatIsAsked />
    </div>
  );
};

/** How each number was made: formula, inputs, route and source. */
export const madeView: View = {
  id: "made",
  label: "How made",
  needsFile: true,
  shows:
    "Every step from the numbers of a row to its effect, and from the effects to their average.",
  door: {
    title: "See how a number was made",
    sentence: "From the printed row to the average, step by step.",
  },
  Body: MadeBody,
};
