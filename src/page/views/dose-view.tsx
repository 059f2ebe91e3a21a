import { useState } from "preact/hooks";
import { doseShape } from "../../answers/dose-options.js";
import { kindOf, wordsOf } from "../../answers/option.js";
import { writeAddress } from "../address.js";
import { useAppState, useChoice } from "../app.js";
import { ComingAnswer } from "../parts/answer-view.js";
import { OwnOptions, useOwn, useQuestion, WhatIsAsked } from "../parts/asked.js";
import { Choice } from "./choice.js";
import { useRested } from "./use-rested.js";
import type { View } from "./view.js";

const { names } = kindOf(doseShape.on);
const { labels = {} } = wordsOf(doseShape.on);

/** Steps of the slider that reads the curve. */
const readSteps = 200;

type Range = Readonly<{ low: number; high: number }>;

/** The curve read at any dose it was told for. */
const ReadAt = ({
  asked,
  range: { low, high },
}: Readonly<{ asked: Readonly<Record<string, string>>; range: Range }>) => {
  const [dose, setDose] = useState((low + high) / 2);
  const at = Math.min(high, Math.max(low, dose));
  const read = useQuestion("dose", { ...asked, at: [useRested(at)] });
  const cells =
    read.state === "done"
      ? read.output.tables
          .flatMap(({ rows }) => rows)
          .find(({ quantity }) => quantity?.endsWith("(asked for)") === true)
      : undefined;
  const words =
    cells === undefined
      ? "…"
      : `${cells["quantity"]?.replace(" (asked for)", "")}: ${cells["value"]}`;
  return (
    <div class="read-at">
      <label for="read-at">Read the curve at</label>
      <input
        id="read-at"
        type="range"
        min={low}
        max={high}
        step={(high - low) / readSteps}
        value={at}
        aria-valuetext={words}
        onInput={(event) => setDose(Number(event.currentTarget.value))}
      />
      <output for="read-at">{words}</output>
    </div>
  );
};

const DoseBody = () => {
  const { on = "", outcome = "", ...own } = useOwn("dose");
  const [, chooseDose] = useChoice("dose-on", "");
  const [, chooseOutcome] = useChoice("dose-outcome", "");
  const told = useQuestion("dose", {}, "Looking through the doses");
  const groups = told.state === "done" ? told.output.data.groups : [];
  const group = outcome === "" ? (groups[0]?.id ?? "") : outcome;
  const asked = { ...own, on, outcome: group };
  const answer = useQuestion(
    "dose",
    on === "" || group === "" ? {} : asked,
    on === "" ? "" : "Fitting curves",
  );
  const fitted = answer.state === "done" ? answer.output.data.groups[0]?.answer : undefined;
  const range = fitted !== undefined && "range" in fitted ? fitted.range : undefined;
  const choices = useAppState((state) => state.address.choices);
  const questionAddress = (question: string): string =>
    writeAddress({ view: "variables", choices: { ...choices, "variables-question": question } });
  const tellings = (groups[0]?.told ?? []).filter(({ evidence }) => evidence !== "none");
  return (
    <div class="dose">
      <ComingAnswer answer={answer}>
        {range === undefined ? null : <ReadAt asked={asked} range={range} />}
        <div class="wishes">
          <Choice
            label="Dose"
            value={on}
            words={["", ...names]}
            shown={(word) => (word === "" ? "which doses can be told" : (labels[word] ?? word))}
            onChange={chooseDose}
          />
          {on === "" ? null : (
            <Choice
              label="Outcome"
              value={group}
              words={groups.map(({ id }) => id)}
              shown={(word) => groups.find(({ id }) => id === word)?.outcome ?? word}
              onChange={chooseOutcome}
            />
          )}
        </div>
        {on !== "" || group === "" ? null : (
          <p>
            Curves:{" "}
            {tellings.map(({ axis, label }) => (
              <button
                key={axis}
                type="button"
                class="quiet-button"
                onClick={() => chooseDose(axis)}
              >
                {label}
              </button>
            ))}{" "}
            <a href={questionAddress("joint-angle")}>Joint angle</a> and{" "}
            <a href={questionAddress("time")}>the weeks</a> have questions of their own.
          </p>
        )}
        <WhatIsAsked>
          {on === "" ? null : <OwnOptions id="dose" except={["on", "outcome", "at"]} />}
        </WhatIsAsked>
      </ComingAnswer>
    </div>
  );
};

/** Dose-response: one variable, one kind of outcome, and what is known of them. */
export const doseView: View = {
  id: "dose",
  label: "Doses",
  needsFile: true,
  shows: "The gain against each dose, as a curve with its interval where studies compared it.",
  Body: DoseBody,
};
