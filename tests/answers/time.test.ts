/** Kinds of evidence: identities between what is said, tabled, drawn and handed over. */
import { expect, test } from "vitest";
import { answerSchema } from "../../src/answers/answer.js";
import { ask } from "../../src/answers/ask.js";
import { effectsOf } from "../../src/answers/evidence.js";
import { headlineGroups } from "../../src/answers/headline-selection.js";
import { time } from "../../src/answers/time.js";
import { timeCourse, type TimeCourse } from "../../src/dose/time-course.js";
import { percentFromLogRatio } from "../../src/effects/percent-from-log-ratio.js";
import { drawnFigures } from "../../src/figures/figure-list.js";
import { formatNumber } from "../../src/tables/number-format.js";
import { codebookText, evidenceOf, outcomeRow, shippedEvidence } from "./evidence-under-test.js";

const demo = shippedEvidence("demo-register.csv");
const one = (value: number): string => formatNumber(value, { digits: 1 });
const percent = (value: number): string => one(percentFromLogRatio(value));
const answersIn = ({ data }: { data: object }) =>
  (data as { answers: readonly { family: string; answer: TimeCourse }[] }).answers;

test("headline, table, figure and data carry the same digits, of all angles and weeks", async () => {
  const answer = await ask("time", {}, demo);
  const [strength] = answersIn(answer);
  const [group] = headlineGroups(effectsOf(demo, {}));
  expect(strength!.answer).toEqual(JSON.parse(JSON.stringify(timeCourse(group!.all))));
  const { timeConstant, gains, shares, effects, studies, people } = strength!.answer;
  if (timeConstant.kind === "refusal") throw new Error("a time constant");
  const { weeks, interval } = timeConstant;
  const words = `63% of the final gain is reached after ${one(weeks)} weeks (95% interval ${one(interval.low!)} to ${one(interval.high!)}).`;
  expect(answer.headline).toBe(`Strength: ${words}`);
  expect(answer.sentences[0]).toBe(
    `Strength: ${effects} effects of ${studies} studies with ${people} people, all of arms measured more than once in training.`,
  );
  const [table] = answer.tables;
  expect(table!.notes[0]).toBe(words);
  for (const { week, estimate, interval: limits, beyondData } of gains) {
    const share = shares.find((each) => each.week === week);
    expect(table!.rows).toContainEqual({
      week: `${week}${beyondData ? " (beyond the data)" : ""}`,
      gain: `${percent(estimate)}% (${percent(limits.low)} to ${percent(limits.high)})`,
      share:
        share === undefined
          ? ""
          : `${Math.round(100 * share.share)}% (${Math.round(100 * share.interval.low)} to ${Math.round(100 * share.interval.high)})`,
    });
  }
  expect(new Set(table!.rows.flatMap((row) => Object.values(row))).size).toBe(
    3 * table!.rows.length,
  );
  const [figure] = answer.figures;
  expect(figure).toMatchObject({ name: "time-course", data: { answer: strength!.answer } });
  const [drawn] = drawnFigures(structuredClone(figure!));
  expect(drawn!.id).toBe("time-course-strength");
  expect(drawn!.description).toContain(words);
  expect(structuredClone(answer)).toEqual(answer);
  answerSchema(time.data).parse(answer);
});

test("a kind of outcome that cannot be told says what is missing and what rows there are", async () => {
  const answer = await ask("time", { outcome: "size" }, demo);
  expect(answer.headline).toBe(
    "Size: how fast the gain comes cannot be told: 2 studies measured an arm more than once during training; at least 3 are needed.",
  );
  expect(answer.data.refusal).toMatchObject({ kind: "refusal", code: "not-told" });
  expect(answer.sentences[0]).toMatch(/^Size: 12 effects of 2 studies with 69 people/);
  expect(answer.tables).toEqual([]);
  expect(answer.figures).toHaveLength(1);
  const none = await ask("time", {}, evidenceOf(codebookText([outcomeRow("A", 111)])));
  expect(none.headline).toBe(
    "No answer: no arm was measured more than once during training, in 1 effect of 1 study.",
  );
});

test("weeks, reference week, rows and confidence reach the numbers", async () => {
  const usual = await ask("time", { outcome: "strength" }, demo);
  const [given] = answersIn(await ask("time", { weeks: "3,7", referenceWeek: 10 }, demo));
  expect(given!.answer.gains.map(({ week }) => week)).toEqual([3, 7, 10]);
  expect(given!.answer.referenceWeek).toBe(10);
  for (const options of [
    { confidence: 0.9 },
    { correlation: 0.5 },
    { outcomeCorrelations: "none" },
  ])
    expect(
      JSON.stringify(answersIn(await ask("time", { outcome: "strength", ...options }, demo))),
    ).not.toBe(JSON.stringify(answersIn(usual)));
});
