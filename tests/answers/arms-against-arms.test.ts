/** Differences between training arms have no sign in common: every door says so and shows each comparison by itself. */
import { expect, test } from "vitest";
import { ask } from "../../src/answers/ask.js";
import { questionList } from "../../src/answers/question-list.js";
import { placedAnswers } from "../../src/report/report-part.js";
import { reportOn } from "../../src/report/report-parts.js";
import { codebookText, evidenceOf, outcomeRow } from "./evidence-under-test.js";
import { expectPlain } from "./last-yard.js";

const contrast = "between-arms";

/** Two trials in which the longer holds gained 15 and 8 points more, and a lifted test of one of them. */
const file = evidenceOf(
  codebookText([
    outcomeRow("Ash 2001", 112, { arm: "brief", hold_seconds: 3 }),
    outcomeRow("Ash 2001", 127, { arm: "long", hold_seconds: 30 }),
    outcomeRow("Birch 2002", 109, { arm: "brief", hold_seconds: 5 }),
    outcomeRow("Birch 2002", 117, { arm: "long", hold_seconds: 20 }),
    outcomeRow("Birch 2002", 104, { arm: "brief", hold_seconds: 5, test_mode: "lifting" }),
    outcomeRow("Birch 2002", 106, { arm: "long", hold_seconds: 20, test_mode: "lifting" }),
  ]),
);

test.each(["pool", "influence", "small-studies", "made"] as const)(
  "%s refuses the average with its reason and shows the trials",
  async (id) => {
    const answer = await ask(id, { contrast }, file);
    expectPlain(answer, await questionList[id].load());
    expect(answer.headline).toBe(
      "No average between training arms: which of two training arms comes first is arbitrary, so their differences have no sign in common. 3 comparisons of two arms inside 2 trials, each with an interval: each stands below by itself.",
    );
    expect(answer.sentences.join(" ")).toMatch(
      /dose and variables .* isometric-or-dynamic .* single-trials/,
    );
    expect(answer.data.refusal?.code).toBe("arbitrary-sign");
    expect(answer.data.rowsUsed).toEqual([2, 3, 4, 5, 6, 7]);
    expect(answer.tables.flatMap(({ rows }) => rows.map(({ gains }) => gains))).toEqual([
      "12% → 27%",
      "9% → 17%",
      "4% → 6%",
    ]);
  },
);

test("of one kind of outcome only its comparisons are shown", async () => {
  const { tables } = await ask("pool", { contrast, outcome: "strength-lifting" }, file);
  expect(tables.flatMap(({ rows }) => rows.map(({ gains }) => gains))).toEqual(["4% → 6%"]);
});

test("a report that was asked for it says why, and its doses stay gains", async () => {
  const report = await reportOn(file, { contrast });
  const told = placedAnswers(report).find(({ id }) => id === "answers-between-arms");
  expect(told?.answer.headline).toMatch(/^No average between training arms: /);
  expect(told?.answer.tables.length).toBeGreaterThan(0);
});
