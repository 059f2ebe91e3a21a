/**
 * Kinds of evidence: hand arithmetic on logs of a few lines (quantiles of t out of published tables, named beside them);
 * identities between headline, sentences, table, figure and data.
 */
import { describe, expect, test } from "vitest";
import { ask } from "../../src/answers/ask.js";
import { shippedEvidence, shippedText } from "./evidence-under-test.js";
import { expectPlain, fiveTrials } from "./last-yard.js";
import { follow } from "../../src/answers/follow.js";

const protocol = "4 x 10 s at 70%, rest 60 s, 3/week, 8 weeks, knee, 90°";
const published = shippedEvidence("published-outcomes.csv");
const example = shippedText("example-client-log.csv");
const followed = async (
  log: string,
  options: Readonly<Record<string, unknown>> = {},
  evidence = published,
) => {
  const answer = await ask("follow", { protocol, log, ...options }, evidence);
  expectPlain(answer, follow);
  return answer;
};
const lines = (...rows: readonly string[]): string => ["date,test,value,unit", ...rows].join("\n");

describe("a change against the error of the test", () => {
  test("one retest, no file that projects: the log of the ratio against t·e·√2, as on paper", async () => {
    // 1/(1/20 + 1/10) = 6.67 degrees; ln(230/200) = 0.13976; t(0.975) is 2.447 at 6 and 2.365 at 7 degrees (printed in every
    // table), so the limits are 0.1398 ∓ between 0.167 and 0.173: 100(e^x − 1) from −3.3 to −2.7 and from 35.9 to 36.7.
    const { headline, sentences, data } = await followed(
      lines("2026-01-05,knee extension,200,N·m", "2026-03-02,knee extension,230,N·m"),
      { where: "outcome_family=size" },
      fiveTrials,
    );
    const [change] = data.change!.occasions;
    expect(change!.weeks).toBe(8);
    expect(change!.change).toBeCloseTo(Math.log(1.15), 12);
    const reach = change!.high - change!.change;
    expect(reach / (0.05 * Math.SQRT2)).toBeGreaterThan(2.365);
    expect(reach / (0.05 * Math.SQRT2)).toBeLessThan(2.447);
    expect(headline).toMatch(
      /^Knee extension after 8 weeks: up 15\.0% \(95% interval −(2\.[7-9]|3\.[0-3]) to 3[56]\.\d%\): within the error of the test, so it cannot be told from no change\.$/,
    );
    expect(sentences.join(" ")).toMatch(
      /is not taken off: the file has no such arms for this test\. Nothing is projected for strength at the trained angle: the file has no effect for the goal "strength at the trained angle" \(.*\)\. The change is told by the log alone\./,
    );
  });
});

describe("asked after each test", () => {
  const warning = /say beforehand how many tests are planned: .* about 10 in 100 logs/;
  test("a plan that was not given is asked for, one that was is not", async () => {
    const without = await followed(example);
    expect(without.sentences.join(" ")).toMatch(warning);
    const planned = await followed(example, { planned: 5 });
    expect(planned.sentences.join(" ")).not.toMatch(warning);
    expect(planned.sentences.join(" ")).toContain("With 5 later tests");
  });
});

describe("the example that ships", () => {
  test("headline, sentences, table and data say the same", async () => {
    const { headline, sentences, tables, data } = await followed(example);
    const last = data.change!.occasions.at(-1)!;
    // 213.49 over 179.98, geometric means of 216 and 211, and of 176·181·184·179: 18.6%.
    expect(100 * Math.expm1(last.measured)).toBeCloseTo(18.6, 1);
    const { rows } = tables.find(({ id }) => id === "follow")!;
    expect(rows.map(({ date, value, measured }) => [date, value, measured])).toEqual([
      ["2026-01-05", "180.0", ""],
      ["2026-01-29", "189.5", "5.3"],
      ["2026-02-19", "213.5", "18.6"],
    ]);
    expect(headline).toContain(`up ${rows[2]!["change"]!}% (95% interval ${rows[2]!["limits"]!}%)`);
    expect(sentences).toContain("The log is invented, as its notes say.");
    expect(sentences[0]).toContain(
      `${data.rule!.advice.charAt(0).toUpperCase()}${data.rule!.advice.slice(1)}. ${data.rule!.when} ${data.rule!.what}`,
    );
    expect(data.lines.map(({ fate }) => fate)).toEqual([
      ...Array<string>(8).fill("used"),
      ...["set aside", "set aside"],
    ]);
  });
});
