/** What is finally said of scores and of outcomes where lower is better. Kind of evidence: hand arithmetic. */
import { expect, test } from "vitest";
import { answered } from "../../src/answers/ask.js";
import { pool } from "../../src/answers/pool.js";
import type { Evidence } from "../../src/answers/evidence.js";
import { codebookText, evidenceOf, outcomeRow } from "./evidence-under-test.js";

const pooled = (file: Evidence, options: Readonly<Record<string, unknown>> = {}) =>
  answered(pool, file, options);
const three = (more: Readonly<Record<string, string | number>>, ...means: readonly number[]) =>
  means.map((mean, index) => outcomeRow("ABC"[index]!, mean, more));

test("pain from 4 to 2 is better by points and never a gain in percent", () => {
  const pain = {
    outcome: "pain 0–10",
    outcome_family: "symptoms",
    unit: "points",
    pre_mean: 4,
    pre_spread: 1,
    post_spread: 1,
  };
  const file = evidenceOf(codebookText(three(pain, 2.9, 2.4, 1.9)));
  const { headline, notes, data, tables } = pooled(file);
  // changes of 1.1, 1.6 and 2.1 points with equal variances: 1.6 on average
  expect(headline).toMatch(
    /^Symptoms, before to after: 1\.60 points better \(95% interval \S+ to \S+ points; 3 effects in 3 studies\) on average\.$/,
  );
  expect(headline).not.toContain("%)");
  expect(data.groups[0]).toMatchObject({ scale: "raw-mean-difference", unit: "points" });
  expect(tables[0]!.columns.find(({ key }) => key === "shown")!.unit).toBe("points");
  const words = notes.map(({ message }) => message).join("\n");
  expect(words).toContain("pain 0–10: a score with a floor and a ceiling");
  expect(words).toContain("pain 0–10 (higher is worse)");
  const worse = evidenceOf(codebookText(three(pain, 4.9, 5.4, 5.9)));
  expect(pooled(worse).headline).toContain("−1.40 points, which is worse, (95%");
});

test("a ratio of a time that is better when shorter is a fall, bounded by 100%", () => {
  const time = {
    outcome: "time of a sprint",
    outcome_family: "other",
    unit: "s",
    higher_is: "worse",
    pre_mean: 10,
    pre_spread: 0.4,
    post_spread: 0.4,
  };
  const file = evidenceOf(codebookText(three(time, 9.5, 9.5, 9.5)));
  const { headline, data } = pooled(file, { logRatioOrder: "first-order" });
  // 9.5 of 10 is a fall of 5% (5.3% would be the ratio turned over)
  expect(headline).toMatch(
    /falls by 5\.0% \(95% interval from \d\.\d% down to \d\.\d% (?:down|up);/,
  );
  expect(data.groups[0]).toMatchObject({ scale: "log-ratio-of-means-where-lower-is-better" });
  const slower = evidenceOf(codebookText(three(time, 10.5, 10.5, 10.5)));
  expect(pooled(slower, { logRatioOrder: "first-order" }).headline).toMatch(
    /rises by 5\.0% \(95% interval from /,
  );
  const asked = pooled(file, { logRatioOrder: "first-order", outcome: "time of a sprint" });
  expect(asked.headline).toBe(headline);
});
