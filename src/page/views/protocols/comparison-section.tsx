import type { AnswerTo } from "../../../answers/question.js";
import type { QuestionOf } from "../../../answers/question-list.js";
import { FigureView } from "../../parts/figure-view.js";
import { TableView } from "../../parts/table-view.js";
import { DifferenceBlock } from "./difference-block.js";

type Compared = AnswerTo<QuestionOf<"compare">>;

/** The single trials nearest to the protocols; folded where something is projected. */
const NearestTrials = ({ answer }: Readonly<{ answer: Compared }>) => (
  <>
    {answer.figures
      .filter(({ name }) => name === "single-trials")
      .map((figure) => (
        <FigureView key={figure.data.id} figure={figure} answer={answer} />
      ))}
    {answer.tables
      .filter(({ id }) => id.startsWith("single-trials"))
      .map((table) => (
        <details key={table.id} open={table.place !== "folded"}>
          <summary>{table.title}</summary>
          <TableView table={table} />
        </details>
      ))}
  </>
);

/** Every pair of protocols, or why they are not compared. */
export const ComparisonSection = ({
  answer,
  waiting,
}: Readonly<{ answer: Compared | undefined; waiting: boolean }>) => {
  if (answer === undefined)
    return waiting ? (
      <p class="quiet">The comparison stands here as soon as the file has been learnt from.</p>
    ) : null;
  const comparison = answer.data.answer;
  if (comparison === null)
    return (
      <>
        {answer.sentences
          .slice(0, answer.data.exactTrials.length + answer.data.notCompared.length)
          .map((sentence) => (
            <p key={sentence} class="refusal">
              {sentence}
            </p>
          ))}
        <NearestTrials answer={answer} />
      </>
    );
  const equalised = answer.tables.find(({ id }) => id === "equalised");
  return (
    <>
      {answer.sentences.slice(0, answer.data.exactTrials.length).map((sentence) => (
        <p key={sentence}>{sentence}</p>
      ))}
      {equalised === undefined ? null : <TableView table={equalised} />}
      <div class="differences">
        {comparison.differences.map((difference) => (
          <DifferenceBlock
            key={`${difference.first} ${difference.second}`}
            difference={difference}
            comparison={comparison}
          />
        ))}
      </div>
      <NearestTrials answer={answer} />
    </>
  );
};
