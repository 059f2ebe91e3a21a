/** Every question, in the order in which doors list them. A new question is one file and one line here. */
export const questionList = {
  pool: {
    asks: "average the effects and say how far studies differ",
    needs: "file",
    load: () => import("./pool.js").then(({ pool }) => pool),
  },
} as const;

export type QuestionId = keyof typeof questionList;

export const questionIds = Object.keys(questionList) as readonly QuestionId[];

/** The question of an id. */
export type QuestionOf<Id extends QuestionId> = Awaited<
  ReturnType<(typeof questionList)[Id]["load"]>
>;
