import { equalTensionQuantities } from "../../dose/equal-tension-pairs.js";
import { useAnswer, useApp, useAppState } from "../app.js";
import {
  variableQuestions,
  type VariableQuestion,
  type VariablesShown,
} from "../jobs/variables-job.js";
import { FigureView } from "../parts/figure-view.js";
import { ScaleChoice, useScale } from "../parts/scale-choice.js";
import { TableView } from "../parts/table-view.js";
import { variablesWords, type RecipeWords } from "../recipe-words.js";
import { Choice } from "./choice.js";
import { projectedContrastLabel, projectedContrasts } from "./protocols/use-projection-wishes.js";
import { useOneOf } from "./use-one-of.js";
import type { View } from "./view.js";

const questionWords: Readonly<Record<VariableQuestion, string>> = {
  "which matter": "Which variables matter?",
  "equal tension": "Equal tension: long or short holds, hard or easy?",
  "joint angle": "How far does a gain carry over between joint angles?",
  time: "How does the gain grow over the weeks?",
};

const Shown = ({ shown, words }: Readonly<{ shown: VariablesShown; words: RecipeWords }>) => {
  return (
    <>
      {shown.sentences.map((sentence) => (
        <p key={sentence}>{sentence}</p>
      ))}
      {shown.figures.map((figure) => (
        <FigureView key={figure.id} figure={figure} words={words} />
      ))}
      {shown.tables.map((table) => (
        <TableView key={table.id} table={table} />
      ))}
      {shown.rules.length === 0 ? null : (
        <>
          <h2>Rules of the verdicts</h2>
          <ul>
            {shown.rules.map((rule) => (
              <li key={rule}>{rule}</li>
            ))}
          </ul>
        </>
      )}
    </>
  );
};

const VariablesBody = () => {
  const app = useApp();
  const check = useAppState((state) => state.check);
  const scale = useScale();
  const [question, setQuestion] = useOneOf("variables-question", variableQuestions, "which matter");
  const [contrast, setContrast] = useOneOf(
    "variables-contrast",
    projectedContrasts,
    "change-within-arm",
  );
  const [equal, setEqual] = useOneOf("variables-equal", equalTensionQuantities, "tension time");
  const wish = { question, scale, contrast, equal };
  const answer = useAnswer(
    `${check?.fingerprint ?? ""} ${check?.name ?? ""} ${JSON.stringify(wish)}`,
    (tell) => app.worker.ask("variables", wish, { tell }),
    "Asking the table",
  );
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
          words={variableQuestions}
          shown={(word) => questionWords[word]}
          onChange={setQuestion}
        />
        <Choice
          label="Measured as"
          value={contrast}
          words={projectedContrasts}
          shown={projectedContrastLabel}
          onChange={setContrast}
        />
        {question === "equal tension" ? (
          <Choice
            label="Held equal"
            value={equal}
            words={equalTensionQuantities}
            onChange={setEqual}
          />
        ) : null}
      </div>
      <ScaleChoice />
      {answer.state === "failed" ? <p role="alert">{answer.failure.message}</p> : null}
      {answer.state === "done" ? (
        <Shown shown={answer.output} words={variablesWords(wish)} />
      ) : null}
    </div>
  );
};

/** Which variables of a protocol matter, and three questions of their own. */
export const variablesView: View = {
  id: "variables",
  label: "Variables",
  needsFile: true,
  Body: VariablesBody,
};
