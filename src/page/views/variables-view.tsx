import type { ComponentChildren } from "preact";
import { useChoice } from "../app.js";
import { ComingAnswer } from "../parts/answer-view.js";
import { OwnOptions, useOwn, useQuestion, WhatIsAsked } from "../parts/asked.js";
import { Choice } from "./choice.js";
import type { View } from "./view.js";

const questionWords = {
  variables: "Which variables matter?",
  "single-trials": "What did single trials compare?",
  "isometric-or-dynamic": "Isometric or dynamic?",
  "equal-tension": "Equal tension: long or short holds, high or low intensity?",
  "joint-angle": "How far does a gain carry over between joint angles?",
  time: "How does the gain grow over the weeks?",
} as const;

type VariableQuestion = keyof typeof questionWords;
const questions = Object.keys(questionWords) as readonly VariableQuestion[];

const Asked = ({
  id,
  children,
}: Readonly<{ id: VariableQuestion; children: ComponentChildren }>) => (
  <ComingAnswer answer={useQuestion(id, useOwn(id), "Comparing doses")}>
    {children}
    <WhatIsAsked>
      <OwnOptions id={id} />
    </WhatIsAsked>
  </ComingAnswer>
);

const VariablesBody = () => {
  const [wanted, choose] = useChoice("variables-question", "variables");
  const question = questions.find((one) => one === wanted) ?? "variables";
  return (
    <div class="variables">
      <Asked key={question} id={question}>
        <div class="wishes">
          <Choice
            label="Question"
            value={question}
            words={questions}
            shown={(word) => questionWords[word]}
            onChange={choose}
          />
        </div>
      </Asked>
    </div>
  );
};

/** Which variables of a protocol matter, what single trials compared, and three questions of their own. */
export const variablesView: View = {
  id: "variables",
  label: "Variables",
  needsFile: true,
  door: {
    title: "Which variables matter",
    sentence: "Intensity, hold length, angle, weeks: what arms of one trial say.",
  },
  Body: VariablesBody,
};
