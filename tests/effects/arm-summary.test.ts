import { test } from "vitest";
import { changeDeviation } from "../../src/effects/arm-summary.js";
import { expectPrinted, expectRelative } from "./agreement.js";

test("published: a crossover trial's difference has standard error 0.632, or 0.583 with correlation 0.68 (Cochrane Handbook, chapter 23)", () => {
  const change = (correlation: number) =>
    changeDeviation({
      before: { mean: 6.5, deviation: 2.21 },
      after: { mean: 7, deviation: 2.38 },
      correlation,
      participants: 10,
    });
  expectPrinted(change(0.68) / Math.sqrt(10), "0.583");
  // The paired data give a deviation of differences of 2.0; the correlation that implies it.
  const implied = (2.38 ** 2 + 2.21 ** 2 - 2 ** 2) / (2 * 2.38 * 2.21);
  expectPrinted(change(implied) / Math.sqrt(10), "0.632");
});

test("independent: the deviation of the changes is that of the people's own differences", () => {
  const before = [10, 12, 9, 14, 11, 13];
  const after = [12, 15, 9, 15, 14, 13];
  const mean = (values: readonly number[]) => values.reduce((a, b) => a + b, 0) / values.length;
  const cross = (a: readonly number[], b: readonly number[]) =>
    a.reduce((sum, x, i) => sum + (x - mean(a)) * ((b[i] ?? 0) - mean(b)), 0) / (a.length - 1);
  const sd = (values: readonly number[]) => Math.sqrt(cross(values, values));
  const differences = after.map((x, i) => x - (before[i] ?? 0));
  const deviation = changeDeviation({
    before: { mean: mean(before), deviation: sd(before) },
    after: { mean: mean(after), deviation: sd(after) },
    correlation: cross(before, after) / (sd(before) * sd(after)),
    participants: 6,
  });
  expectRelative(deviation, sd(differences), 1e-12);
});
