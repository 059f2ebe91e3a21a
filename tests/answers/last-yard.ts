import { readFileSync } from "node:fs";
import { expect } from "vitest";
import type { z } from "zod";
import { answerSchema, type Answer } from "../../src/answers/answer.js";
import { evidenceOf } from "./evidence-under-test.js";

/** Five trials of the invented register that compare long with short holds; so few that a fit takes a moment only. */
export const fiveTrials = evidenceOf(
  readFileSync(new URL("../../data/demo-register.csv", import.meta.url), "utf8")
    .split("\n")
    .filter((row, place) => place === 0 || /^Invented (?:03|12|16|23|26),/.test(row))
    .join("\n"),
  "five.csv",
);

export const longHolds = "4 x 30 s at 60%, rest 90 s, 3/week, 12 weeks, long, knee";
export const shortHolds =
  "4 x (5 x 3 s) at 95%, rest 15 s, 120 s between sets, 3/week, 12 weeks, middle, knee";

/** A log ratio as a reader sees it, worked out here: 100·(eˣ − 1), one decimal, a true minus. */
export const percent = (logRatio: number): string =>
  (100 * (Math.exp(logRatio) - 1)).toFixed(1).replace("-", "−");

/** "3.0 to 7.0" of a range on the log scale. */
export const limits = ({ low, high }: Readonly<{ low: number; high: number }>): string =>
  `${percent(low)} to ${percent(high)}`;

/** A whole number with a true minus. */
export const whole = (value: number): string => value.toFixed(0).replace(/^-/, "−");

/** An answer survives a worker and a file, and has the published form of its question. */
export const expectPlain = (
  answer: Readonly<Omit<Answer, "data">> & Readonly<{ data: object }>,
  { data }: Readonly<{ data: z.ZodRawShape }>,
): void => {
  expect(structuredClone(answer)).toEqual(answer);
  expect(JSON.parse(JSON.stringify(answer))).toEqual(answer);
  const read = answerSchema(data).safeParse(answer);
  expect(read.error?.issues ?? []).toEqual([]);
};
