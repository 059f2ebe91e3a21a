import type { ComponentChildren, ComponentType } from "preact";
import type { QuestionId } from "../../answers/question-list.js";
import { useChoice } from "../app.js";
import { Choice } from "../views/choice.js";
import { ComingAnswer } from "./answer-view.js";
import { OptionsKnown, OwnOptions, useOwn, useQuestion, WhatIsAsked } from "./asked.js";

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
 * @param own   questions that are asked in a way of their own, with the choice of questions handed to them
 */
export const OneOfQuestions = ({
  name,
  words,
  title,
  own = {},
}: Readonly<{
  name: string;
  words: Readonly<Partial<Record<QuestionId, string>>>;
  title: string;
  own?: Readonly<Partial<Record<QuestionId, ComponentType<{ children: ComponentChildren }>>>>;
}>) => {
  const ids = Object.keys(words) as readonly QuestionId[];
  const [wanted, choose] = useChoice(name, ids[0]!);
  const id = ids.find((one) => one === wanted) ?? ids[0]!;
  const choice = (
    <div class="wishes">
      <Choice
        label="Question"
        value={id}
        words={ids}
        shown={(word) => words[word]!}
        onChange={choose}
      />
    </div>
  );
  const Own = own[id];
  return Own === undefined ? (
    <OptionsKnown key={id} id={id}>
      <Asked id={id} title={title}>
        {choice}
      </Asked>
    </OptionsKnown>
  ) : (
    <Own key={id}>{choice}</Own>
  );
};
