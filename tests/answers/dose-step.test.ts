/** Kind of evidence: an identity; what a straight line adds is its slope times the step. */
import { expect, test } from "vitest";
import { ask } from "../../src/answers/ask.js";
import { effectsOf } from "../../src/answers/evidence.js";
import { headlineGroups } from "../../src/answers/headline-selection.js";
import { withinBetweenSlope, type SlopeAnswer } from "../../src/dose/within-between-slope.js";
import { percentFromLogRatio } from "../../src/effects/percent-from-log-ratio.js";
import { formatNumber } from "../../src/tables/number-format.js";
import { shippedEvidence } from "./evidence-under-test.js";

type SlopeTold = Exclude<SlopeAnswer, { kind: "refusal" }>;
const demo = shippedEvidence("demo-register.csv");
const percent = (value: number): string => formatNumber(percentFromLogRatio(value), { digits: 1 });

test("a step that was asked for is the step of every sentence and table", async () => {
  const [strength] = headlineGroups(effectsOf(demo, {}));
  const { robust } = withinBetweenSlope(strength!.all, "holdSeconds").within as SlopeTold;
  const said = async (more: Readonly<Record<string, number>>) => {
    const asked = { on: "hold", outcome: "strength", draws: 300, ...more };
    const { sentences, tables } = await ask("dose", asked, demo);
    return {
      all: sentences.find((one) => one.startsWith("All angles")),
      tables: JSON.stringify(tables),
    };
  };
  const [usual, far] = [await said({}), await said({ step: 20 })];
  const adds = (step: number): string =>
    `${step} more seconds of hold adds ${percent(step * robust.estimate)}% (95% interval ${percent(step * robust.interval.low)} to ${percent(step * robust.interval.high)}%)`;
  expect(usual.all).toContain(adds(10));
  expect(far.all).toContain(adds(20));
  expect(usual.tables).toContain("10 more seconds of hold, from");
  expect(far.tables).toContain("20 more seconds of hold, from");
  expect(far.tables).not.toContain("10 more seconds");
});
