import { useChoice } from "../app.js";
import { AnswerView } from "../parts/answer-view.js";
import { OwnOptions, useOwn, useQuestion, WhatIsAsked } from "../parts/asked.js";
import { FailedAnswer } from "../parts/failed-answer.js";
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

const Asked = ({ id }: Readonly<{ id: VariableQuestion }>) => {
  const answer = useQuestion(id, useOwn(id), "Comparing doses");
  return (
    <>
      <WhatIsAsked>
        <OwnOptions id={id} />
      </WhatIsAsked>
      {answer.state === "failed" ? <FailedAnswer answer={answer} /> : null}
      {answer.state === "done" ? <AnswerView answer={answer.output} /> : null}
    </>
  );
};

const VariablesBody = () => {
  const [wanted, choose] = useChoice("variables-question", "variables");
  const question = questions.find((one) => one === wanted) ?? "variables";
  return (
    <div class="variables">
      <p class="lead">
        For every variable of a protocol: how far it was studied, what it changes inside studies and
        between them, and a plain verdict by written rules.
      </p>
      <div class="wishes">
        <Choice
          label="Question"
          value={question}
          words={questions}
          shown={(word) => questionWords[word]}
          onChange={choose}
        />
      </div>
      <Asked key={question} id={question} />
    </div>
  );
};

/** Which variables of a protocol matter, what single trials compared, and three questions of their own. */
export const variablesView: View = {
  id: "variables",
  label: "Variables",
  needsFile: true,
  Body: VariablesBody,
};
