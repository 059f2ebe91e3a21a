import { expect, test } from "vitest";
import { rawMeanChange, rawMeanDifference } from "../../src/effects/raw-mean-difference.js";
import { expectPrinted, expectRelative } from "./agreement.js";

const treated = { mean: 103, deviation: 5.5, participants: 50 };
const control = { mean: 100, deviation: 4.5, participants: 50 };

// By hand: 30.25/50 + 20.25/50 = 1.01, and the pooled variance 25.25 gives 2 · 25.25/50, the same.
test("hand arithmetic: a difference of 3 with variance 1.01", () => {
  for (const deviations of ["own-deviations", "pooled-deviation"] as const) {
    const { estimate, variance } = rawMeanDifference(treated, control, { deviations });
    expect(estimate).toBe(3);
    expectRelative(variance, 1.01, 1e-14);
  }
});

test("published: a crossover trial's difference has standard error 0.632, or 0.583 with correlation 0.68 (Cochrane Handbook, chapter 23)", () => {
  const change = (correlation: number) =>
    rawMeanChange({
      before: { mean: 6.5, deviation: 2.21 },
      after: { mean: 7, deviation: 2.38 },
      correlation,
      participants: 10,
    });
  expectPrinted(Math.sqrt(change(0.68).variance), "0.583");
  // The paired data give a deviation of differences of 2.0; the correlation that implies it.
  const implied = (2.38 ** 2 + 2.21 ** 2 - 2 ** 2) / (2 * 2.38 * 2.21);
  expectPrinted(Math.sqrt(change(implied).variance), "0.632");
});

test("independent: a paired change equals the mean and variance of the people's own differences", () => {
  const before = [10, 12, 9, 14, 11, 13];
  const after = [12, 15, 9, 15, 14, 13];
  const mean = (values: readonly number[]) => values.reduce((a, b) => a + b, 0) / values.length;
  const cross = (a: readonly number[], b: readonly number[]) =>
    a.reduce((sum, x, i) => sum + (x - mean(a)) * ((b[i] ?? 0) - mean(b)), 0) / (a.length - 1);
  const sd = (values: readonly number[]) => Math.sqrt(cross(values, values));
  const differences = after.map((x, i) => x - (before[i] ?? 0));
  const { estimate, variance } = rawMeanChange({
    before: { mean: mean(before), deviation: sd(before) },
    after: { mean: mean(after), deviation: sd(after) },
    correlation: cross(before, after) / (sd(before) * sd(after)),
    participants: 6,
  });
  expectRelative(estimate, mean(differences), 1e-12);
  expectRelative(variance, cross(differences, differences) / 6, 1e-12);
});
