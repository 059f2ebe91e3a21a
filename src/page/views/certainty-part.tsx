import type { ComponentChildren } from "preact";
import { useState } from "preact/hooks";
import type { QuestionOf } from "../../answers/question-list.js";
import type { AnswerTo } from "../../answers/question.js";
import { readDecisions } from "../../answers/certainty-decisions.js";
import {
  decisionCounts,
  domainsAsked,
  typedOrNothing,
  withDecision,
  type DomainAsked,
  type TypedDecision,
} from "../../answers/certainty-form.js";
import { capital } from "../../tables/number-format.js";
import { useChoice } from "../app.js";
import { failureOf } from "../failure.js";
import { AnswerView, Headline } from "../parts/answer-view.js";
import { OwnOptions, useOwn, WhatIsAsked } from "../parts/asked.js";
import { NoAnswerYet } from "../parts/failed-answer.js";
import { FileButton } from "../parts/open-panel.js";
import { asOption, useDecisions } from "../parts/use-decisions.js";
import { useMoving } from "../parts/use-moving.js";
import { saveFile } from "../save-file.js";
import { useRested } from "./use-rested.js";

type Data = AnswerTo<QuestionOf<"certainty">>["data"];

/** One domain: what is proposed, what is chosen, and why. */
const Domain = ({
  asked,
  by,
  onTyped,
}: Readonly<{
  asked: DomainAsked;
  by: string;
  onTyped: (typed: TypedDecision | undefined) => void;
}>) => {
  const { domain, proposal, choices, typed, waits } = asked;
  const change = (part: Partial<TypedDecision>): void =>
    onTyped(typedOrNothing(asked, { ...typed, by: by === "" ? typed.by : by, ...part }));
  const id = `waits-${domain.replaceAll(" ", "-")}`;
  return (
    <fieldset class="entry-part judged">
      <legend>{capital(domain)}</legend>
      <p class="quiet">{asked.proposed === "" ? capital(proposal) : `Proposed: ${proposal}`}</p>
      <div class="wishes">
        <label class="wish">
          <span>
            Decided<span class="unseen">, {domain}</span>
          </span>
          <select
            value={typed.levels}
            onChange={(event) => change({ levels: event.currentTarget.value })}
          >
            {choices.map(({ levels, words }) => (
              <option key={levels} value={levels}>
                {words}
              </option>
            ))}
          </select>
        </label>
        <label class="wish reason">
          <span>
            Reason<span class="unseen">, {domain}</span>
            {typed.by === "" ? "" : ` (by ${typed.by})`}
          </span>
          <input
            type="text"
            autocomplete="off"
            value={typed.reason}
            {...(waits === undefined ? {} : { "aria-describedby": id })}
            onInput={(event) => change({ reason: event.currentTarget.value })}
          />
        </label>
      </div>
      {waits === undefined ? null : (
        <p class="quiet waits" id={id}>
          {waits}
        </p>
      )}
    </fieldset>
  );
};

/** The file of decisions: saved, opened again, put away. */
const DecisionsFile = ({
  text,
  setText,
}: Readonly<{ text: string; setText: (text: string) => void }>) => {
  const [problem, setProblem] = useState("");
  const take = async (file: File): Promise<void> => {
    const read = await file.text();
    try {
      readDecisions(read);
      setText(read);
      setProblem("");
    } catch (error) {
      setProblem(`${file.name}: ${failureOf(error).message}`);
    }
  };
  return (
    <>
      <div class="row">
        <button
          type="button"
          class="main"
          disabled={text === ""}
          onClick={() => saveFile("certainty.csv", text, "text/csv")}
        >
          Save certainty.csv
        </button>
        <FileButton
          words="Open certainty.csv"
          label="A file of decisions"
          accept=".csv,.tsv,.txt,text/csv"
          take={take}
        />
        {text === "" ? null : (
          <button type="button" class="quiet-button" onClick={() => setText("")}>
            Put all decisions away
          </button>
        )}
        <span class="quiet" role="status">
          {decisionCounts(text)}.
        </span>
      </div>
      {problem === "" ? null : <p role="alert">{problem}</p>}
    </>
  );
};

/** Every domain of one finding, to be confirmed or overridden. */
const Form = ({ data }: Readonly<{ data: Data }>) => {
  const [text, setText] = useDecisions();
  const [wanted, choose] = useChoice("sure-finding", "");
  const [by, setBy] = useState("");
  const told = data.groups.filter((group) => group.kind === "told");
  const one = told.find(({ id }) => id === wanted) ?? told[0];
  if (one === undefined) return null;
  return (
    <details class="asked decisions">
      <summary>Confirm or override what is proposed: {decisionCounts(text)}</summary>
      <p class="quiet">
        The rules propose, a person decides. What differs from the proposal needs a reason, and a
        reason without a change confirms it. Save the file to keep it: nothing of it is kept here,
        and a command reads it as its decisions.
      </p>
      <div class="wishes">
        <label class="wish">
          <span>Finding</span>
          <select value={one.id} onChange={(event) => choose(event.currentTarget.value)}>
            {told.map(({ id, group, certainty }) => (
              <option key={id} value={id}>
                {group}: {certainty}
              </option>
            ))}
          </select>
        </label>
        <label class="wish">
          <span>Who decides</span>
          <input
            type="text"
            autocomplete="off"
            value={by}
            onInput={(event) => setBy(event.currentTarget.value)}
          />
        </label>
      </div>
      {domainsAsked(one, data.contrast, text).map((asked) => (
        <Domain
          key={`${one.id} ${asked.domain}`}
          asked={asked}
          by={by}
          onTyped={(typed) =>
            setText(
              withDecision(
                text,
                { group: one, contrast: data.contrast, domain: asked.domain },
                typed,
              ),
            )
          }
        />
      ))}
      <DecisionsFile text={text} setText={setText} />
    </details>
  );
};

/** How sure each finding is, and a form to decide it; the form stays while an answer comes. */
export const CertaintyPart = ({ children }: Readonly<{ children: ComponentChildren }>) => {
  const [text] = useDecisions();
  const rested = useRested(text);
  const { decisions: _typed, ...own } = useOwn("certainty");
  const moving = useMoving(
    [{ place: "sure", id: "certainty", options: { ...own, ...asOption(rested) } }],
    "Asking again",
  );
  const { answer, failure } = moving.at("sure", "certainty");
  return (
    <div class="answer">
      {answer === undefined ? (
        <NoAnswerYet failure={failure} again={moving.again} />
      ) : (
        <Headline answer={answer} />
      )}
      {children}
      <WhatIsAsked>
        <OwnOptions id="certainty" except={["decisions"]} />
      </WhatIsAsked>
      {answer === undefined ? null : <Form data={answer.data} />}
      {answer === undefined ? null : (
        <AnswerView
          answer={answer}
          // The form stands in place of the table that other doors give to be filled in.
          tables={answer.tables.filter(({ id }) => !id.startsWith("certainty-to-confirm"))}
          withHeadline={false}
        />
      )}
    </div>
  );
};
