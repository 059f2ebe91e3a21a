import { describe, expect, test } from "vitest";
import { answerSentence } from "../../src/report/answer-sentence.js";
import { shownResult } from "../../src/report/pooled-answer.js";
import { analysisOf, analysisOfText } from "./demo-analysis.js";

const demo = analysisOf("demo-register.csv");

test("analyse: families and contrasts are never pooled together, and every effect is in one answer", () => {
  for (const set of demo.sets) {
    const answers = demo.answers.filter(({ contrast }) => contrast === set.contrast);
    const counted = answers.reduce((sum, { set: subset }) => sum + subset.effects.length, 0);
    expect(counted).toBe(set.effects.length);
    for (const { family, set: subset } of answers)
      expect(subset.effects.every(({ row }) => row.outcomeFamily === family)).toBe(true);
  }
});

test("analyse: every row of the file is accounted for on the way to effects", () => {
  for (const set of demo.sets) {
    const lines = new Set(set.rowUses.map(({ line }) => line));
    expect(demo.records.rows.every(({ line }) => lines.has(line))).toBe(true);
    expect(set.rowUses.filter(({ use, reason }) => use === "set aside" && reason === "")).toEqual(
      [],
    );
  }
});

test("analyse: the average of the invented register holds its known truth within the interval", () => {
  // identity with the generator: the true gains of the rows lie around the pooled average, which is
  // an average of them; the interval of 28 trials must reach their mean
  const strength = demo.answers.find(({ id }) => id === "strength-change-within-arm");
  const result = strength === undefined ? undefined : shownResult(strength.answer);
  expect(result?.studies).toBe(28);
  expect(result?.interval.low).toBeGreaterThan(0.1);
  expect(result?.interval.high).toBeLessThan(0.3);
  expect(result?.predictionInterval?.low).toBeLessThan(result?.interval.low ?? 0);
});

describe("few studies, fewer claims", () => {
  const header =
    "study,arm,arm_kind,outcome,outcome_family,n_end,statistic,pre_mean,pre_spread,post_mean,post_spread,spread_kind";
  const row = (study: string, arm: string, post: number) =>
    `${study},${arm},isometric,torque,strength,12,means at both times,100,15,${post},16,standard deviation`;

  test("one study with several arms has no average", () => {
    const { answers } = analysisOfText([header, row("a", "1", 110), row("a", "2", 130)].join("\n"));
    expect(answers[0]?.answer.kind).toBe("none");
    expect(answers[0] === undefined ? "" : answerSentence(answers[0], 0.95)).toMatch(/one study/);
  });

  test("one effect is given as that study's own", () => {
    const { answers } = analysisOfText([header, row("a", "1", 110)].join("\n"));
    expect(answers[0] === undefined ? "" : answerSentence(answers[0], 0.95)).toMatch(
      /^10\.\d%.* 1 effect in 1 study\..*one study's own result/,
    );
  });

  test("two studies say that they are no general rule", () => {
    const { answers } = analysisOfText([header, row("a", "1", 110), row("b", "1", 130)].join("\n"));
    expect(answers[0] === undefined ? "" : answerSentence(answers[0], 0.95)).toMatch(
      /Too few studies to say what a new one would find.*no general rule/,
    );
  });
});
