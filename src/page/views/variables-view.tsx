import { variableAddress, variableIn, type VariableChosen } from "../address.js";
import { useAppState } from "../app.js";
import { AnswerView, ComingAnswer } from "../parts/answer-view.js";
import { useQuestion, WhatIsAsked } from "../parts/asked.js";
import { OneOfQuestions } from "../parts/one-of-questions.js";
import type { View } from "./view.js";

const questionWords = {
  variables: "Which variables matter?",
  "single-trials": "What did single trials compare?",
  "isometric-or-dynamic": "Isometric or dynamic?",
  "equal-tension": "Equal tension: long or short holds, high or low intensity?",
  "joint-angle": "How far does a gain carry over between joint angles?",
  time: "How does the gain grow over the weeks?",
} as const;

/** One variable of one kind of outcome: its curve, and the single trials that compared it. */
const OneVariable = ({ family, axis }: VariableChosen) => {
  const choices = useAppState((state) => state.address.choices);
  const asked = { on: axis, outcome: family };
  const curve = useQuestion("dose", asked, "Fitting curves");
  const trials = useQuestion("single-trials", asked);
  return (
    <>
      <p class="back">
        <a href={variableAddress(choices)}>← All variables</a>
      </p>
      {curve.state === "done" ? (
        <AnswerView
          answer={curve.output}
          tables={curve.output.tables.filter(({ id }) => !id.startsWith("single-trials"))}
        >
          <WhatIsAsked />
        </AnswerView>
      ) : (
        <ComingAnswer answer={curve}>
          <WhatIsAsked />
        </ComingAnswer>
      )}
      {curve.state === "waiting" ? null : (
        <>
          <h2>What single trials compared</h2>
          <ComingAnswer answer={trials}>{null}</ComingAnswer>
        </>
      )}
    </>
  );
};

const VariablesBody = () => {
  const one = variableIn(useAppState((state) => state.address.choices));
  if (one !== undefined)
    return (
      <div class="variables">
        <OneVariable key={`${one.family}.${one.axis}`} {...one} />
      </div>
    );
  return (
    <div class="variables">
      <OneOfQuestions name="variables-question" words={questionWords} title="Comparing doses" />
    </div>
  );
};

/** Which variables of a protocol matter, what single trials compared, and three questions of their own. */
export const variablesView: View = {
  id: "variables",
  label: "Variables",
  needsFile: true,
  shows:
    "Each variable of a protocol with what arms of one trial say of it: its change, its interval and a verdict.",
  door: {
    title: "Which variables matter",
    sentence: "Intensity, hold length, angle, weeks: what arms of one trial say.",
  },
  Body: VariablesBody,
};
