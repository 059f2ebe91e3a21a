/** Every question, in the order in which doors list them. A new question is one file and one line here. */
export const questionList = {
  check: {
    asks: "say whether a file can be used: problems with their mends, the fate of every row",
    needs: "file",
    load: () => import("./check.js").then(({ check }) => check),
  },
  effects: {
    asks: "put every outcome on one scale, with its variance and how it was reached",
    needs: "file",
    load: () => import("./effects.js").then(({ effects }) => effects),
  },
  pool: {
    asks: "average the effects and say how far studies differ",
    needs: "file",
    load: () => import("./pool.js").then(({ pool }) => pool),
  },
  hold: {
    asks: "what a session amounts to, and whether it can be held",
    needs: "nothing",
    load: () => import("./hold.js").then(({ hold }) => hold),
  },
  ramp: {
    asks: "work up to a session: one change a week, each week checked against endurance",
    needs: "nothing",
    load: () => import("./ramp.js").then(({ ramp }) => ramp),
  },
} as const;

export type QuestionId = keyof typeof questionList;

export const questionIds = Object.keys(questionList) as readonly QuestionId[];

/** The question of an id. */
export type QuestionOf<Id extends QuestionId> = Awaited<
  ReturnType<(typeof questionList)[Id]["load"]>
>;
