import type { ComponentChildren } from "preact";
import type { QuestionId } from "../../answers/question-list.js";
import { useChoice } from "../app.js";
import { Choice } from "../views/choice.js";
import { ComingAnswer } from "./answer-view.js";
import { OwnOptions, useOwn, useQuestion, WhatIsAsked } from "./asked.js";

const Asked = ({
  id,
  title,
  children,
}: Readonly<{ id: QuestionId; title: string; children: ComponentChildren }>) => (
  <ComingAnswer answer={useQuestion(id, useOwn(id), title)}>
    {children}
    <WhatIsAsked>
      <OwnOptions id={id} />
    </WhatIsAsked>
  </ComingAnswer>
);

/**
 * The answer to one of several questions about the open file, which is chosen above it and kept in the address.
 *
 * @param name  under which the address keeps it
 * @param words each question as people ask it; the first is asked unless another is chosen
 * @param title shown with progress and a cancel button while it runs
 */
export const OneOfQuestions = ({
  name,
  words,
  title,
}: Readonly<{
  name: string;
  words: Readonly<Partial<Record<QuestionId, string>>>;
  title: string;
}>) => {
  const ids = Object.keys(words) as readonly QuestionId[];
  const [wanted, choose] = useChoice(name, ids[0]!);
  const id = ids.find((one) => one === wanted) ?? ids[0]!;
  return (
    <Asked key={id} id={id} title={title}>
      <div class="wishes">
        <Choice
          label="Question"
          value={id}
          words={ids}
          shown={(word) => words[word]!}
          onChange={choose}
        />
      </div>
    </Asked>
  );
};
