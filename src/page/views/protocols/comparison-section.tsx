import type { AnswerTo } from "../../../answers/question.js";
import type { QuestionOf } from "../../../answers/question-list.js";
import { TableView } from "../../parts/table-view.js";
import { DifferenceBlock } from "./difference-block.js";

/** Every pair of protocols, or why they are not compared. */
export const ComparisonSection = ({
  answer,
  waiting,
}: Readonly<{ answer: AnswerTo<QuestionOf<"compare">> | undefined; waiting: boolean }>) => {
  if (answer === undefined)
    return waiting ? (
      <p class="quiet">The comparison stands here as soon as the file has been learnt from.</p>
    ) : null;
  const comparison = answer.data.answer;
  if (comparison === null)
    return (
      <>
        <p class="refusal">{answer.headline}</p>
        {answer.sentences.slice(0, answer.data.notCompared.length).map((sentence) => (
          <p key={sentence} class="refusal">
            {sentence}
          </p>
        ))}
      </>
    );
  const equalised = answer.tables.find(({ id }) => id === "equalised");
  return (
    <>
      <p class="headline">{answer.headline}</p>
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
    </>
  );
};
